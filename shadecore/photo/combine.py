"""Several photos of one swatch taken together."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError
from shadecore.photo.measure import Driver, PhotoColour

_ODD_PROBABILITY: Final = 1e-5
"""Probability of calling a photo odd whose errors are as stated. So small because a
highlight or a clipped channel makes good photos differ by more now and then; this
tool's own limit."""
_FEWEST_TO_JUDGE: Final = 3
"""Photos needed to tell which one is odd: of two that differ it may be either."""
_SHARED: Final = ("camera", "reference")
"""Errors that are the same in every photo of a swatch with one camera and one card."""
_SCATTERED: Final = "noise"
"""Source of error to which the scatter from photo to photo is added."""
_LEAST_OWN: Final = 1.0
"""Scatter from photo to photo beyond the stated errors: a camera develops each picture
a little differently. This tool's own assumption. [standard deviation of L*, a*, b*]"""
_COLOURS: Final = 3


@dataclass(frozen=True)
class Combined:
    """Several photos of one swatch, averaged.

    Attributes
    ----------
    colour : PhotoColour
        Their average, without the odd one.
    odd : int or None
        Index of the photo that does not fit the others.
    """

    colour: PhotoColour
    odd: int | None


def combine(colours: tuple[PhotoColour, ...]) -> Combined:
    """Average several photos of one swatch.

    Each is weighted by the inverse covariance of its own errors. Errors that all photos
    share, those of the camera and the reference, do not average out.

    Parameters
    ----------
    colours : tuple of PhotoColour
        One or more.

    Raises
    ------
    PhotoError
        If there are none.
    """
    if not colours:
        message = "There is no photo to combine; take one."
        raise PhotoError(message)
    odd = _odd_one(colours)
    kept = tuple(each for place, each in enumerate(colours) if place != odd)
    own = np.array([_own(each) for each in kept])
    precision = np.linalg.inv(own)
    covariance = np.linalg.inv(precision.sum(axis=0))
    labs = np.array([each.lab for each in kept])
    lab = covariance @ np.einsum("pij,pj->i", precision, labs)
    share = np.einsum("ij,pjk->pik", covariance, precision)
    names = {_SCATTERED, *(driver.name for each in kept for driver in each.drivers)}
    drivers = [
        Driver(name, _tuples(_joined(name, kept, share))) for name in sorted(names)
    ]
    warnings = dict.fromkeys(text for each in kept for text in each.warnings)
    return Combined(
        PhotoColour(
            (float(lab[0]), float(lab[1]), float(lab[2])),
            tuple(sorted(drivers, key=lambda each: -each.size)),
            tuple(warnings),
            kept[0].source,
        ),
        odd,
    )


def _joined(
    name: str, kept: tuple[PhotoColour, ...], share: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Covariance of the average's error from one source.

    The mean where photos share the error, else that of a weighted average.
    """
    each = np.array([_of(one, name) for one in kept])
    if name == _SCATTERED and len(kept) > 1:
        each = each + _LEAST_OWN**2 * np.eye(_COLOURS)
    if name in _SHARED:
        return np.asarray(each.mean(axis=0))
    return np.asarray(np.einsum("pij,pjk,plk->il", share, each, share))


def _odd_one(colours: tuple[PhotoColour, ...]) -> int | None:
    """Index of the photo farthest from the others, where that is significant."""
    if len(colours) < _FEWEST_TO_JUDGE:
        return None
    labs = np.array([each.lab for each in colours])
    own = np.array([_own(each) for each in colours])
    distances = []
    for place in range(len(colours)):
        others = np.delete(labs, place, axis=0)
        # The median of the others, which a second odd photo among them cannot shift
        # far.
        apart = labs[place] - np.median(others, axis=0)
        spread = own[place] + np.delete(own, place, axis=0).mean(axis=0) / len(others)
        distances.append(float(apart @ np.linalg.solve(spread, apart)))
    worst = int(np.argmax(distances))
    from scipy.stats import chi2  # noqa: PLC0415 - slow to load

    limit = chi2.isf(_ODD_PROBABILITY / len(colours), _COLOURS)
    return worst if distances[worst] > limit else None


def _own(colour: PhotoColour) -> NDArray[np.float64]:
    """Covariance of the errors that a photo does not share with the others."""
    parts = [
        _of(colour, each.name) for each in colour.drivers if each.name not in _SHARED
    ]
    return np.asarray(np.sum(parts, axis=0) + _LEAST_OWN**2 * np.eye(_COLOURS))


def _of(colour: PhotoColour, name: str) -> NDArray[np.float64]:
    found = [np.array(each.covariance) for each in colour.drivers if each.name == name]
    return found[0] if found else np.zeros((_COLOURS, _COLOURS))


def _tuples(matrix: NDArray[np.float64]) -> tuple[tuple[float, ...], ...]:
    return tuple(tuple(map(float, row)) for row in matrix)
