"""What the server and its pages share: who may come in, and the class."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from shadecore.lesson.guess import Exercise
from shadecore.serving import class_room, keys
from shadecore.serving.class_room import ClassRoom
from shadecore.serving.codes import Attempts, same_code
from shadecore.serving.gate import Sharing


@dataclass(frozen=True)
class Door:
    """The second place where the server listens, for other devices.

    Attributes
    ----------
    address : str
        This computer's, on the shop's network; empty while it does not listen.
    port : int
        The port.
    problem : str
        Why it does not listen, if it should.
    """

    address: str = ""
    port: int = 0
    problem: str = ""

    @property
    def url(self) -> str:
        """Where a device finds it; empty while it does not listen."""
        return f"http://{self.address}:{self.port}" if self.address else ""


@dataclass(frozen=True)
class Wanted:
    """What the pages want of the door.

    Attributes
    ----------
    open : bool
        Whether it should listen.
    address : str
        Where; empty for the likeliest.
    turn : int
        Grows when the devices that are connected have to be let go.
    """

    open: bool = False
    address: str = ""
    turn: int = 0


class Serving:
    """What is shared with other devices, and the class; safe to use from any thread.

    Parameters
    ----------
    key_file : Path
        Where the device code is kept.
    clock : callable
        Seconds of a clock that never goes back.
    """

    def __init__(
        self, key_file: Path, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._lock = Lock()
        self._key_file = key_file
        self._clock = clock
        self._keys: keys.Keys | None = None
        self._devices = False
        self._address = ""
        self._turn = 0
        self._door = Door()
        self._room: ClassRoom | None = None
        self._device_attempts = Attempts()
        self._class_attempts = Attempts()

    @property
    def keys(self) -> keys.Keys:
        """The device code and its secret; made at first use."""
        with self._lock:
            if self._keys is None:
                self._keys = keys.kept_keys(self._key_file)
            return self._keys

    @property
    def sharing(self) -> Sharing:
        """What is shared now."""
        with self._lock:
            hosts = {self._door.address} if self._door.address else set()
            return Sharing(frozenset(hosts), self._devices, self._room is not None)

    @property
    def door(self) -> Door:
        """Where other devices find the server."""
        return self._door

    @property
    def wanted(self) -> Wanted:
        """What the door should do."""
        with self._lock:
            is_open = self._devices or self._room is not None
            return Wanted(is_open, self._address, self._turn)

    @property
    def room(self) -> ClassRoom | None:
        """The class that runs."""
        return self._room

    def share(self, *, on: bool, address: str = "") -> None:
        """Let devices in by their code, or no longer.

        Parameters
        ----------
        on : bool
            Whether.
        address : str
            This computer's, on the network that is meant; empty for the likeliest.
        """
        with self._lock:
            if self._devices and not on:
                self._turn += 1
            self._devices = on
            self._address = address

    def renew(self) -> None:
        """Take a new device code; every device has to give it again."""
        fresh = keys.renewed_keys(self._key_file)
        with self._lock:
            self._keys = fresh
            self._turn += 1

    def moved(self, door: Door) -> None:
        """Note where the door is.

        Parameters
        ----------
        door : Door
            Where.
        """
        self._door = door

    def try_device_code(self, client: str, code: str) -> tuple[bool, float]:
        """Look at a device code.

        Parameters
        ----------
        client : str
            Address of the device.
        code : str
            What was typed.

        Returns
        -------
        right : bool
            Whether it is the code; never while the device has to wait.
        wait_s : float
            Seconds until the next code is looked at.
        """
        right = self.keys.code
        now = self._clock()
        with self._lock:
            ok, self._device_attempts = _tried(
                self._device_attempts, client, code, right, now
            )
            return ok, 0.0 if ok else self._device_attempts.wait_s(client, now)

    def start_class(self, exercise: Exercise) -> None:
        """Start a class; one that runs is ended.

        Parameters
        ----------
        exercise : Exercise
            What it answers.
        """
        with self._lock:
            self._room = ClassRoom(exercise)
            self._class_attempts = Attempts()

    def end_class(self) -> None:
        """End the class; nothing of it is kept."""
        with self._lock:
            self._room = None

    def step_class(self, step: Callable[[ClassRoom], ClassRoom]) -> None:
        """Take a step of the class that runs.

        Parameters
        ----------
        step : callable
            From the class to the class after it.
        """
        with self._lock:
            if self._room is not None:
                self._room = step(self._room)

    def join_class(self, client: str, code: str) -> tuple[str | None, float]:
        """Let a phone into the class.

        Parameters
        ----------
        client : str
            Address of the phone.
        code : str
            What was typed.

        Returns
        -------
        sign : str or None
            The phone's; None if the code is wrong or the phone has to wait.
        wait_s : float
            Seconds until the next code is looked at.

        Raises
        ------
        ClassFullError
            If there is no place left.
        """
        now = self._clock()
        with self._lock:
            room = self._room
            if room is None:
                return None, 0.0
            ok, self._class_attempts = _tried(
                self._class_attempts, client, code, room.code, now
            )
            if not ok:
                return None, self._class_attempts.wait_s(client, now)
            self._room, sign = class_room.joined(room, now)
            return sign, 0.0

    def look(self, sign: str | None) -> ClassRoom | None:
        """The class as a phone sees it, noting that the phone is there.

        Parameters
        ----------
        sign : str or None
            The phone's sign.

        Returns
        -------
        ClassRoom or None
            None where there is no class, or the phone is not in it.
        """
        with self._lock:
            if self._room is None or sign is None or not self._room.has(sign):
                return None
            self._room = class_room.heard(self._room, sign, self._clock())
            return self._room

    def answer(self, sign: str, place: int, choice: int) -> None:
        """Take a phone's answer.

        Parameters
        ----------
        sign : str
            The phone's sign.
        place : int
            The colour.
        choice : int
            The undercoat.

        Raises
        ------
        ClassError
            If it cannot be taken.
        """
        with self._lock:
            if self._room is None:
                message = "The class has ended."
                raise class_room.ClassError(message)
            self._room = class_room.answered(self._room, sign, place, choice)


def _tried(
    attempts: Attempts, client: str, code: str, right: str, now_s: float
) -> tuple[bool, Attempts]:
    if attempts.wait_s(client, now_s) > 0:
        return False, attempts
    if same_code(code, right):
        return True, attempts.after_right(client)
    return False, attempts.after_wrong(client, now_s)
