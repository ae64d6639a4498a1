"""Films that grow by one step: what the table of films is quickest to look up."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

PER_OCTAVE: Final = 5
LADDER_STEP: Final = 2.0 ** (1.0 / PER_OCTAVE)
"""From one film to the next."""
STARTING_DEPTH: Final = 2.0**-14
"""Optical depth of the layer that doubling starts from: thin enough for
the finite differences of the starting formula."""
_CLOSE: Final = 1e-5


def ladder_um(first_um: float, films: int) -> NDArray[np.float64]:
    """Films that grow by ``LADDER_STEP``.

    Parameters
    ----------
    first_um : float
        The thinnest. [um]
    films : int
        How many.

    Returns
    -------
    array, shape (films,)
        [um]
    """
    return np.asarray(first_um * LADDER_STEP ** np.arange(films))


def is_ladder(films_um: NDArray[np.floating]) -> bool:
    """Whether films grow by ``LADDER_STEP``.

    Parameters
    ----------
    films_um : array, shape (films,)
        Dry films. [um]

    Returns
    -------
    bool
    """
    steps = films_um[1:] / films_um[:-1]
    return bool(steps.size and np.all(np.abs(steps / LADDER_STEP - 1.0) < _CLOSE))
