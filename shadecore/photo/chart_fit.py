"""A correction from a camera's colours to measured ones, fitted to a 24-patch chart."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import colour_difference
from shadecore.colour.convert import lab_from_linear_srgb, linear_srgb_from_lab
from shadecore.datafiles import data_file
from shadecore.errors import PhotoError
from shadecore.photo.area import Area, AreaReading, read_area
from shadecore.photo.corners import COLUMNS, ROWS, Corners, patch_areas
from shadecore.photo.doubt import DARKEST
from shadecore.photo.light import LUMINANCE
from shadecore.photo.picture import Picture
from shadecore.photo.rendering import root_terms
from shadecore.photo.shading import USUAL_SLOPE

Array = NDArray[np.float64]

WORST_FIT: Final = 12.0
"""Mean difference above which the marked patches are not those of the chart; this
tool's own limit. [CIEDE2000]"""
CHART_SD: Final = 0.5
"""Standard deviation of a real chart's patches from the published ones, in each of L*,
a*, b*: patches fade and get dirty. This tool's own assumption."""
FEWEST_PATCHES: Final = 16
"""Patches that must be readable for a fit; this tool's own limit."""
_FEWEST_NEUTRALS: Final = 4
"""Neutral patches that a curve of the grey scale needs; this tool's own limit."""
_LIGHT_ROUNDS: Final = 3
"""Rounds in which colours and the light's slope are fitted in turn."""
_PATCH_LIGHT_SD: Final = 0.03
"""Least scatter that is assumed of a patch's light about the slope: print and dirt.
This tool's own assumption. [logarithm of light]"""
_KERNEL: Final = 25.0
"""Distance in CIELAB over which colours have similar errors: the standard deviation of
the weights in :meth:`ChartFit.lab`. This tool's own assumption; intervals are checked
on the simulated cameras of ``tests/validation``."""
_LEAST_WORSE: Final = 0.02
"""CIEDE2000 by which a richer correction must predict better to be preferred."""
_RIDGE: Final = 1e-4
"""Ridge of the regression as a share of the terms' mean square, so that nearly equal
terms do not get large opposite weights."""
_LARGEST_LEVERAGE: Final = 0.9
"""A fit runs close to a patch of high leverage (near 1), whatever was read of it, and
the error of predicting it without itself is then a quotient of two small numbers. The
leverage is limited to keep that error finite."""


def _plain(linear: Array) -> Array:
    return linear


_TERMS: Final[tuple[Callable[[Array], Array], ...]] = (_plain, root_terms)


@dataclass(frozen=True, eq=False)
class ChartFit:
    """A fitted correction.

    Attributes
    ----------
    curve : array, shape (2, points)
        Logarithms of light as read and as it was before the camera's tone curve.
    terms : callable
        From linear light to the terms of the correction.
    weights : array, shape (terms, 3)
        From terms to linear light on sRGB primaries.
    light : array, shape (3,)
        Logarithm of the light: at the picture's upper left corner, and its increase
        over the width and over the height.
    light_covariance : array, shape (3, 3)
        Of the errors of these three.
    patch_lab : array, shape (patches, 3)
        Published colours of the patches that were read.
    left_out : array, shape (patches, 3)
        Error in L*, a*, b* of each patch when predicted by a fit to the others.
    difference : float
        Mean CIEDE2000 of these predictions.
    warnings : tuple of str
        What the painter should know.
    """

    curve: Array
    terms: Callable[[Array], Array]
    weights: Array
    light: Array
    light_covariance: Array
    patch_lab: Array
    left_out: Array
    difference: float
    warnings: tuple[str, ...]

    def lab(self, linear: Array, place: Array) -> tuple[Array, Array]:
        """Colour of linear light read at a place, and the covariance of its error.

        Parameters
        ----------
        linear : array, shape (3,)
            As read off the picture.
        place : array, shape (2,)
            Shares of the picture's width and height.

        Returns
        -------
        lab : array, shape (3,)
            L*, a*, b*.
        covariance : array, shape (3, 3)
            From the errors of patches of like colour.
        """
        even = _bent(linear, self.curve) / np.exp(_design(place[None])[0] @ self.light)
        lab = lab_from_linear_srgb(self.terms(even) @ self.weights)
        near = np.exp(
            -0.5 * (np.linalg.norm(self.patch_lab - lab, axis=1) / _KERNEL) ** 2
        )
        # Errors of similar patches count most. Where few patches are similar, their
        # weights add up to less than 1, and the average over all patches takes the
        # rest.
        weight = near / near.sum() * (near.sum() / (1.0 + near.sum()))
        weight = weight + (1.0 - weight.sum()) / weight.size
        return lab, np.einsum("p,pi,pj->ij", weight, self.left_out, self.left_out)

    def light_sd(self, place: Array) -> float:
        """Standard deviation of the logarithm of light at a place.

        Parameters
        ----------
        place : array, shape (2,)
            Shares of the picture's width and height.
        """
        at = _design(place[None])[0]
        return float(np.sqrt(at @ self.light_covariance @ at))

    @property
    def reference_covariance(self) -> Array:
        """Covariance of the chart's own patches about the published colours."""
        return CHART_SD**2 * np.eye(3)


@cache
def chart_lab() -> Array:
    """Published colours of the 24 patches.

    Returns
    -------
    array, shape (24, 3)
        L*, a*, b* under D65/10 degrees, row by row.
    """
    table = np.loadtxt(
        data_file("chart-24-lab-d65-10deg.csv"),
        delimiter=",",
        comments="#",
        skiprows=5,
        usecols=(1, 2, 3),
    )
    return np.asarray(table)


def fit_chart(picture: Picture, corners: Corners) -> ChartFit:
    """Fit a correction to a chart on a picture.

    Parameters
    ----------
    picture : Picture
    corners : tuple of (float, float)
        As :func:`shadecore.photo.corners.check_corners` lets pass.

    Raises
    ------
    PhotoError
        If a patch cannot be read, or the patches are not those of the chart.
    """
    areas = patch_areas(corners)
    readings = tuple(_read(picture, area) for area in areas)
    usable = np.array([each is not None for each in readings])
    if usable.sum() < FEWEST_PATCHES:
        message = (
            f"Only {usable.sum()} of the chart's 24 patches can be read; take the "
            "picture darker, and mark the middles of the corner patches."
        )
        raise PhotoError(message)
    linear = [np.zeros(3) if each is None else each.linear for each in readings]
    places = np.array([area.centre for area in areas])
    fit = fit_patches(np.array(linear), places, usable)
    if fit.difference > WORST_FIT:
        message = (
            "The marked patches are not those of the 24-patch chart; mark the brown "
            "corner, the turquoise, the black and the white one, in this order."
        )
        raise PhotoError(message)
    return replace(fit, warnings=_warnings(usable))


def _read(picture: Picture, area: Area) -> AreaReading | None:
    """What was read of a patch; None where it is overexposed or not even."""
    try:
        reading = read_area(picture, area)
    except PhotoError:
        return None
    return None if any(reading.at_limit) else reading


def fit_patches(
    linear: Array, places: Array, usable: NDArray[np.bool_] | None = None
) -> ChartFit:
    """Fit a correction to patches that were read.

    Several corrections are fitted, from simple to rich. Each is judged by predicting
    every patch from a fit to the others (leave-one-out), and the simplest that predicts
    about as well as the best is taken.

    Parameters
    ----------
    linear : array, shape (24, 3)
        Linear light of the patches.
    places : array, shape (24, 2)
        Where they lie, as shares of the picture's width and height.
    usable : array of bool, shape (24,), optional
        Patches to fit to; all of them unless given.
    """
    kept = np.ones(len(linear), dtype=bool) if usable is None else usable
    neutral = np.arange(len(linear)) >= (ROWS - 1) * COLUMNS
    patches = _Patches(
        np.maximum(linear[kept], DARKEST),
        places[kept],
        chart_lab()[kept],
        neutral[kept],
    )
    straight = np.tile(np.log([DARKEST, 1.0]), (2, 1))
    curves = [straight]
    if patches.neutral.sum() >= _FEWEST_NEUTRALS:
        curves.append(_curve(patches))
    fits = [_fit(patches, curve, terms) for curve in curves for terms in _TERMS]
    best = min(fit.difference for fit in fits)
    return next(fit for fit in fits if fit.difference <= best + _LEAST_WORSE)


class _Patches(NamedTuple):
    """Patches that were read, with their published colours."""

    linear: Array
    places: Array
    lab: Array
    neutral: NDArray[np.bool_]


def _fit(patches: _Patches, curve: Array, terms: Callable[[Array], Array]) -> ChartFit:
    known = patches.lab
    wanted = linear_srgb_from_lab(known)
    bent = _bent(patches.linear, curve)
    design = _design(patches.places)
    light, covariance = np.zeros(3), np.zeros((3, 3))
    for _ in range(_LIGHT_ROUNDS):
        found, _, _ = _predicted(bent, design @ light, terms, wanted)
        light, covariance = _light(light, design, found, wanted)
    found, weights, leverage = _predicted(bent, design @ light, terms, wanted)
    # Prediction of each patch by a fit to the others: the residual of leaving one out
    # is the residual over 1 - leverage (R. D. Cook, Technometrics 19 (1977) 15, from
    # memory).
    without = found + (found - wanted) * (leverage / (1.0 - leverage))[:, None]
    lab = lab_from_linear_srgb(np.maximum(without, DARKEST))
    return ChartFit(
        curve,
        terms,
        weights,
        light,
        covariance,
        known,
        lab - known,
        float(colour_difference(lab, known).mean()),
        (),
    )


def _predicted(
    bent: Array, rise: Array, terms: Callable[[Array], Array], wanted: Array
) -> tuple[Array, Array, Array]:
    """Light of the patches by a regression, its weights, and each patch's leverage."""
    seen = terms(bent / np.exp(rise)[:, None])
    weights, leverage = _regression(seen, wanted)
    return seen @ weights, weights, leverage


def _design(places: Array) -> Array:
    return np.column_stack([np.ones(len(places)), places])


def _regression(terms: Array, wanted: Array) -> tuple[Array, Array]:
    """Weights of a weighted ridge regression, and the leverage of each patch.

    Patches are weighted by the slope of L* over luminance, so that errors count as the
    eye sees them.
    """
    luminance = np.maximum(wanted @ LUMINANCE, DARKEST)
    scale = (luminance ** (-2.0 / 3.0))[:, None]
    seen, goal = terms * scale, wanted * scale
    gram = seen.T @ seen + _RIDGE * np.trace(seen.T @ seen) / seen.shape[1] * np.eye(
        seen.shape[1]
    )
    inverse = np.linalg.inv(gram)
    leverage = np.einsum("pi,ij,pj->p", seen, inverse, seen)
    return inverse @ seen.T @ goal, np.minimum(leverage, _LARGEST_LEVERAGE)


def _light(
    light: Array, design: Array, found: Array, wanted: Array
) -> tuple[Array, Array]:
    """Improve the light's slope by what is left of it in the patches' luminance."""
    left = np.log(np.maximum(found @ LUMINANCE, DARKEST)) - np.log(
        np.maximum(wanted @ LUMINANCE, DARKEST)
    )
    spread = max(float(np.median(np.abs(left))), _PATCH_LIGHT_SD)
    # Patches that are far off count less: they are dirty or faded.
    weight = spread**-2 / (1.0 + (left / (3.0 * spread)) ** 2)
    usual = np.diag([0.0, USUAL_SLOPE**-2, USUAL_SLOPE**-2])
    gram = (design * weight[:, None]).T @ design + usual
    covariance = np.linalg.inv(gram)
    rise = covariance @ ((design * weight[:, None]).T @ left - usual @ light)
    return light + rise, covariance


def _curve(patches: _Patches) -> Array:
    """The camera's tone curve, from the neutral patches.

    A camera's picture style changes tones before the picture is encoded. Over the
    neutral row that is a curve between the logarithms of light read and light known.
    """
    grey = patches.neutral
    read = np.log(patches.linear[grey].mean(axis=1))
    known = np.log(linear_srgb_from_lab(patches.lab[grey]).mean(axis=1))
    order = np.argsort(read)
    read, known = read[order], np.maximum.accumulate(known[order])
    return np.stack([read, known])


def _bent(linear: Array, curve: Array) -> Array:
    """Light before the camera's tone curve, which is extended straight at its ends."""
    log = np.log(np.maximum(linear, DARKEST))
    read, known = curve
    slope = np.diff(known) / np.maximum(np.diff(read), DARKEST)
    piece = np.clip(np.searchsorted(read, log) - 1, 0, len(slope) - 1)
    return np.asarray(np.exp(known[piece] + (log - read[piece]) * slope[piece]))


def _warnings(usable: NDArray[np.bool_]) -> tuple[str, ...]:
    lost = int((~usable).sum())
    message = (
        f"{lost} of the chart's 24 patches cannot be read and were left out; take the "
        "picture darker, without reflections."
    )
    return (message,) if lost else ()
