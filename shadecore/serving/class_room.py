"""A class that answers the exercise from its phones: what is known while it runs.

Pure and frozen: each step gives a new record. Of a pupil nothing is known but a random
sign of its phone, which lasts as long as the class.
"""

import secrets
from dataclasses import dataclass, field, replace
from typing import Final

from shadecore.errors import ShadecoreError
from shadecore.lesson.guess import Exercise, ExerciseColour
from shadecore.serving.codes import CLASS_DIGITS, new_code

MOST_PHONES: Final = 30
SILENT_S: Final = 120.0
"""After so long without a sign of life a phone's place may go to another."""
_SIGN_BYTES: Final = 16


class ClassError(ShadecoreError):
    """Something a phone asks of a class that cannot be."""


class ClassFullError(ClassError):
    """There are as many phones as a class may have."""


@dataclass(frozen=True)
class ClassRoom:
    """A class and how its exercise stands.

    Attributes
    ----------
    exercise : Exercise
        Its colours and undercoats.
    code : str
        What a phone gives to join.
    place : int
        The colour that is asked, counted from 0; as many as there are colours when all
        have been.
    shown : bool
        Whether the results of this colour are shown.
    phones : tuple of (str, float)
        Signs of the phones, and when each was heard of last.
    answers : tuple of (str, int)
        What each phone answered to this colour.
    tallies : tuple of tuple of int
        Answers by undercoat of the colours before.
    """

    exercise: Exercise
    code: str = field(default_factory=lambda: new_code(CLASS_DIGITS))
    place: int = 0
    shown: bool = False
    phones: tuple[tuple[str, float], ...] = ()
    answers: tuple[tuple[str, int], ...] = ()
    tallies: tuple[tuple[int, ...], ...] = ()

    @property
    def question(self) -> ExerciseColour | None:
        """The colour that is asked; None when all have been."""
        questions = self.exercise.questions
        return questions[self.place] if self.place < len(questions) else None

    @property
    def tally(self) -> tuple[int, ...]:
        """Answers to this colour by undercoat."""
        given = [choice for _, choice in self.answers]
        return tuple(map(given.count, range(len(self.exercise.undercoats))))

    def has(self, sign: str | None) -> bool:
        """Whether a phone has joined.

        Parameters
        ----------
        sign : str or None
            Its sign.

        Returns
        -------
        bool
        """
        return sign is not None and sign in dict(self.phones)

    def answer_of(self, sign: str) -> int | None:
        """What a phone answered to this colour.

        Parameters
        ----------
        sign : str
            Its sign.

        Returns
        -------
        int or None
            Place of the undercoat.
        """
        return dict(self.answers).get(sign)


def joined(room: ClassRoom, now_s: float) -> tuple[ClassRoom, str]:
    """Let a phone in.

    Parameters
    ----------
    room : ClassRoom
        The class.
    now_s : float
        The time.

    Returns
    -------
    room : ClassRoom
        With the phone in it.
    sign : str
        The phone's.

    Raises
    ------
    ClassFullError
        If it has all the phones it may have.
    """
    phones = room.phones
    if len(phones) >= MOST_PHONES:
        silent = min(phones, key=lambda phone: phone[1])
        if now_s - silent[1] < SILENT_S:
            message = (
                f"The class is full: {MOST_PHONES} phones can take part. Look on with "
                "a neighbour."
            )
            raise ClassFullError(message)
        phones = tuple(phone for phone in phones if phone != silent)
    sign = secrets.token_urlsafe(_SIGN_BYTES)
    return replace(room, phones=(*phones, (sign, now_s))), sign


def heard(room: ClassRoom, sign: str, now_s: float) -> ClassRoom:
    """Note that a phone is still there.

    Parameters
    ----------
    room : ClassRoom
        The class.
    sign : str
        The phone's sign.
    now_s : float
        The time.

    Returns
    -------
    ClassRoom
    """
    phones = dict(room.phones)
    if sign not in phones:
        return room
    phones[sign] = now_s
    return replace(room, phones=tuple(phones.items()))


def answered(room: ClassRoom, sign: str, place: int, choice: int) -> ClassRoom:
    """Take an answer; until the results are shown a later one replaces it.

    Parameters
    ----------
    room : ClassRoom
        The class.
    sign : str
        The phone's sign.
    place : int
        The colour it answers to.
    choice : int
        Place of the undercoat.

    Returns
    -------
    ClassRoom

    Raises
    ------
    ClassError
        If the phone has not joined, the colour is no longer asked, or there is no such
        undercoat.
    """
    if not room.has(sign):
        message = "This phone is not in the class; give the class code."
        raise ClassError(message)
    if room.question is None or place != room.place or room.shown:
        message = "This colour is closed; wait for the next one."
        raise ClassError(message)
    if not 0 <= choice < len(room.exercise.undercoats):
        message = "There is no such sealer; tap one of those shown."
        raise ClassError(message)
    given = dict(room.answers)
    given[sign] = choice
    return replace(room, answers=tuple(given.items()))


def with_results(room: ClassRoom) -> ClassRoom:
    """Show the results of this colour and take no more answers to it.

    Parameters
    ----------
    room : ClassRoom
        The class.

    Returns
    -------
    ClassRoom
    """
    return replace(room, shown=room.question is not None)


def next_colour(room: ClassRoom) -> ClassRoom:
    """Go on to the next colour, or to the end.

    Parameters
    ----------
    room : ClassRoom
        The class.

    Returns
    -------
    ClassRoom
    """
    if room.question is None:
        return room
    return replace(
        room,
        place=room.place + 1,
        shown=False,
        answers=(),
        tallies=(*room.tallies, room.tally),
    )
