"""Who may come in: a request is looked at before any page sees it.

Pure: what a request says of itself goes in, the verdict comes out. A browser on this
computer passes. From elsewhere a request needs that sharing was turned on, the address
that was shared as its ``Host`` (a name that somebody pointed at this computer is
refused, which is what stops DNS rebinding), and the sign that its device gave the code
once. A class code opens the class's own routes and nothing else.
"""

import ipaddress
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Final

CLASS_PATH: Final = "/class"
CODE_PATH: Final = "/device-code"
_HOST: Final = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9._-]+)(?::\d{1,5})?\Z", re.I)
_LOOPBACK_NAMES: Final = frozenset({"localhost", "127.0.0.1", "[::1]"})
_OF_A_PROXY: Final = frozenset(
    {b"forwarded", b"x-forwarded-for", b"x-forwarded-host", b"x-real-ip", b"via"}
)
"""Headers of a request that somebody passed on: it is not from this computer then,
whatever it says, and nothing of what it says is believed."""


class Verdict(Enum):
    """What becomes of a request."""

    PASS = "pass"  # noqa: S105 - a verdict
    """It goes on to the pages."""
    CLASS = "class"
    """It goes on to the class's routes, which ask for the class's code."""
    ASK = "ask"
    """Its device has not given the code yet."""
    CLOSED = "closed"
    """Nothing is shared with other devices."""
    MISDIRECTED = "misdirected"
    """It came under a name that is not this server's."""
    FOREIGN = "foreign"
    """A page from elsewhere sent it."""


@dataclass(frozen=True)
class Visit:
    """What a request says of itself.

    Attributes
    ----------
    client : str or None
        Address it came from.
    hosts, origins : tuple of str
        Every ``Host`` and every ``Origin`` header.
    path : str
        What it asks for.
    passed_on : bool
        Whether a proxy's headers are among its own.
    """

    client: str | None
    hosts: tuple[str, ...]
    origins: tuple[str, ...]
    path: str
    passed_on: bool = False

    @classmethod
    def of(
        cls,
        headers: Iterable[tuple[bytes, bytes]],
        path: str,
        client: str | None,
    ) -> "Visit":
        """Read the headers of a request.

        Parameters
        ----------
        headers : iterable of (bytes, bytes)
            Names in lower case, and values, as ASGI hands them over.
        path : str
            What it asks for.
        client : str or None
            Address it came from.

        Returns
        -------
        Visit
        """
        every = list(headers)

        def values(wanted: bytes) -> tuple[str, ...]:
            return tuple(
                value.decode("latin-1").strip().lower()
                for name, value in every
                if name == wanted
            )

        return cls(
            client,
            values(b"host"),
            values(b"origin"),
            path,
            any(name in _OF_A_PROXY for name, _ in every),
        )

    @property
    def host(self) -> str | None:
        """Name it was sent to, without the port; None if there is not exactly one."""
        if len(self.hosts) != 1:
            return None
        found = _HOST.match(self.hosts[0])
        return None if found is None else found[1].rstrip(".")

    @property
    def same_origin(self) -> bool:
        """Whether no page from elsewhere sent it."""
        if not self.origins:
            return True
        if len(self.origins) != 1 or len(self.hosts) != 1:
            return False
        scheme, between, rest = self.origins[0].partition("://")
        return bool(between) and scheme in {"http", "https"} and rest == self.hosts[0]

    @property
    def from_here(self) -> bool:
        """Whether a browser on this computer sent it."""
        return (
            not self.passed_on
            and self.client is not None
            and is_loopback(self.client)
            and self.host in _LOOPBACK_NAMES
        )

    @property
    def of_the_class(self) -> bool:
        """Whether it asks for one of the class's routes."""
        return self.path == CLASS_PATH or self.path.startswith(f"{CLASS_PATH}/")


@dataclass(frozen=True)
class Sharing:
    """What is shared with other devices now.

    Attributes
    ----------
    hosts : frozenset of str
        Addresses of this computer under which it is shared.
    devices : bool
        Whether a device may come in by the device code.
    exercise : bool
        Whether a class runs.
    """

    hosts: frozenset[str] = frozenset()
    devices: bool = False
    exercise: bool = False


def verdict(visit: Visit, sharing: Sharing, *, known: bool) -> Verdict:
    """What becomes of a request.

    Parameters
    ----------
    visit : Visit
        What it says of itself.
    sharing : Sharing
        What is shared now.
    known : bool
        Whether its cookie shows that its device gave the code.

    Returns
    -------
    Verdict
    """
    if visit.from_here:
        kind = Verdict.CLASS if visit.of_the_class else Verdict.PASS
    elif not (sharing.devices or sharing.exercise):
        kind = Verdict.CLOSED
    elif visit.host not in sharing.hosts:
        kind = Verdict.MISDIRECTED
    elif visit.of_the_class:
        kind = Verdict.CLASS
    elif not sharing.devices:
        kind = Verdict.CLOSED
    else:
        kind = Verdict.PASS if known else Verdict.ASK
    refused = {Verdict.CLOSED, Verdict.MISDIRECTED}
    return kind if kind in refused or visit.same_origin else Verdict.FOREIGN


def is_loopback(address: str) -> bool:
    """Whether an address is one by which a computer speaks to itself.

    Parameters
    ----------
    address : str
        IPv4 or IPv6.

    Returns
    -------
    bool
        False for what is no address.
    """
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    return (mapped or found).is_loopback
