"""Codes that are typed once, and what slows whoever guesses them.

Pure: the time is handed in, and a wrong code gives a new record of attempts.
"""

import hmac
import secrets
from dataclasses import dataclass
from typing import Final

DEVICE_DIGITS: Final = 8
CLASS_DIGITS: Final = 6
_FREE: Final = 3
"""Wrong codes of one client before it has to wait."""
_FREE_TOGETHER: Final = 20
"""Wrong codes of all clients together before everybody has to wait."""
_LONGEST_S: Final = 60.0
_LONGEST_TOGETHER_S: Final = 10.0
"""At one try in 10 s, 8 digits last 32 years."""
_FORGOTTEN_S: Final = 3600.0
_MOST_CLIENTS: Final = 256
_LARGEST_POWER: Final = 16


def new_code(digits: int) -> str:
    """A code that nobody can foresee.

    Parameters
    ----------
    digits : int
        How many.

    Returns
    -------
    str
        Digits, the first of them may be 0.
    """
    return f"{secrets.randbelow(10**digits):0{digits}d}"


def same_code(given: str, right: str) -> bool:
    """Whether a typed code is the right one, in a time that tells nothing.

    Parameters
    ----------
    given : str
        As typed: blanks and dashes do not count.
    right : str
        The code.

    Returns
    -------
    bool
    """
    typed = "".join(each for each in given if each not in " -\t\u00a0")
    return hmac.compare_digest(typed.encode(), right.encode())


@dataclass(frozen=True)
class _Wrong:
    """Wrong codes so far, and when the last came."""

    count: int = 0
    last_s: float = 0.0


@dataclass(frozen=True)
class Attempts:
    """Wrong codes, by client and together.

    Attributes
    ----------
    by_client : tuple of (str, count and time)
        The clients that typed wrong codes lately, oldest first; bounded.
    together : count and time
        Wrong codes of all of them.
    """

    by_client: tuple[tuple[str, _Wrong], ...] = ()
    together: _Wrong = _Wrong()

    def wait_s(self, client: str, now_s: float) -> float:
        """How long a client still has to wait before its next code is looked at.

        Parameters
        ----------
        client : str
            Its address.
        now_s : float
            The time.

        Returns
        -------
        float
            Seconds; 0 when it need not wait.
        """
        own = dict(self.by_client).get(client, _Wrong())
        return max(
            _wait_s(own, _FREE, _LONGEST_S, now_s),
            _wait_s(self.together, _FREE_TOGETHER, _LONGEST_TOGETHER_S, now_s),
        )

    def after_wrong(self, client: str, now_s: float) -> "Attempts":
        """The record after a wrong code.

        Parameters
        ----------
        client : str
            Who typed it.
        now_s : float
            The time.

        Returns
        -------
        Attempts
        """
        fresh = {
            name: wrong
            for name, wrong in self.by_client
            if now_s - wrong.last_s < _FORGOTTEN_S
        }
        own = fresh.pop(client, _Wrong())
        fresh[client] = _Wrong(own.count + 1, now_s)
        old = self.together
        count = old.count if now_s - old.last_s < _FORGOTTEN_S else 0
        return Attempts(tuple(fresh.items())[-_MOST_CLIENTS:], _Wrong(count + 1, now_s))

    def after_right(self, client: str) -> "Attempts":
        """The record after the right code: the client's wrong ones are forgotten.

        Parameters
        ----------
        client : str
            Who typed it.

        Returns
        -------
        Attempts
        """
        kept = tuple(each for each in self.by_client if each[0] != client)
        return Attempts(kept, self.together)


def _wait_s(wrong: _Wrong, free: int, longest_s: float, now_s: float) -> float:
    """What is left of a delay that doubles with every wrong code beyond the free."""
    beyond = wrong.count - free
    if beyond < 0:
        return 0.0
    delay = min(2.0 ** min(beyond, _LARGEST_POWER), longest_s)
    return max(0.0, wrong.last_s + delay - now_s)
