"""Films that were solved, held while they may be asked for again.

One answer asks for the same films of its paints several times, and they take twenty
megabytes. Answers are remembered for long, films only while there is room for them.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock

from shadecore.film.two_flux import FilmTerms


class HeldFilms:
    """Films by what they were solved for; those used last are held.

    Parameters
    ----------
    most_bytes : int
        What they may take in all.
    """

    def __init__(self, most_bytes: int) -> None:
        self._most_bytes = most_bytes
        self._lock = Lock()
        self._held: OrderedDict[Hashable, FilmTerms] = OrderedDict()
        self._taken = 0

    @property
    def taken_bytes(self) -> int:
        """What the films take."""
        return self._taken

    def of(self, key: Hashable, solve: Callable[[], FilmTerms]) -> FilmTerms:
        """Films for a key, solved where they are not held.

        Parameters
        ----------
        key : hashable
            The paints and their films.
        solve : callable
            Solves them.

        Returns
        -------
        FilmTerms
        """
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        # Others need not wait while this is solved; at worst two solve the same.
        solved = solve()
        with self._lock:
            if key not in self._held:
                self._held[key] = solved
                self._taken += _bytes(solved)
            while self._taken > self._most_bytes:
                _, oldest = self._held.popitem(last=False)
                self._taken -= _bytes(oldest)
        return solved


def _bytes(films: FilmTerms) -> int:
    return sum(each.nbytes for each in films)
