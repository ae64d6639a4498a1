"""Hiding thickness: the film from which the colour stays within the tolerance.

One number per paint, undercoat and tolerance. A paint twice as loaded hides at half of
it, so a number of coats, at any film a coat and any loading, is arithmetic on it.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.film_model import FilmModel
from shadecore.coats.paints import Paints
from shadecore.colour.appearance import colour_difference, lab_from_reflectance
from shadecore.film.ladder import ladder_um
from shadecore.film.two_flux import FilmTerms

Array = NDArray[np.floating]

_COARSE: Final = 4
"""The first search looks at every fourth film: a film's colour changes too slowly for
anything to be missed between them."""
_THIN: Final = 9
"""Of these the thinnest so many are looked at last: one paint in a hundred hides at
one of them, and only the thickest film outside counts."""
_FILMS: Final = 81
FILMS_UM: Final = ladder_um(0.1, _FILMS)
"""Dry films on which paints are followed, 0.1 um to 6.6 mm: with steps half as wide a
hiding thickness moves by under 1 percent. [um]"""
_FIRST_DEPTH: Final = 1e-3
_LN_DEPTHS: Final = np.log(ladder_um(_FIRST_DEPTH, _FILMS)).astype(np.float32)
"""The same for solids, in optical depths of their clearest band."""
_CLEAREST: Final = slice(3, 28)
"""Wavelengths 430 to 670 nm; colour hardly rests on those outside."""
_SCATTER_PART: Final = 0.1
"""What scattering adds to a band's depth where nothing is absorbed."""
_NOTHING: Final = 1e-6
_RECIPES_AT_ONCE: Final = 128
"""Recipes solved together: their films stay in the processor's cache."""


def ln_thickness(paints: Paints, backing: Array, tolerance: float) -> Array:
    """Logarithm of the film from which each paint hides each undercoat.

    The difference is the largest over the angles.

    Parameters
    ----------
    paints : Paints
        The paints.
    backing : array, shape (undercoats, 31)
        Undercoats seen from inside the film, 0..1.
    tolerance : float
        Difference to the full colour that counts as hidden. [CIEDE2000]

    Returns
    -------
    array, shape (paints, undercoats)
        ln of um; the thinnest film followed where the undercoat alone looks the same,
        the thickest where nothing followed hides.
    """
    if isinstance(paints, LikelyPaints):
        return ln_thickness_of_solids(
            paints.absorption, paints.scattering, backing, tolerance, paints.model
        )
    lab = paints.lab_over(backing, FILMS_UM)
    apart = colour_difference(lab, paints.full_lab()[:, None, None])
    return last_crossing(apart.max(axis=-1), np.log(FILMS_UM), tolerance)


def last_crossing(difference: Array, ln_film: Array, tolerance: float) -> Array:
    """Film from which a difference stays within a tolerance.

    The first film that touches it does not count: a film can pass through the right
    colour on its way from too light to too dark.

    Parameters
    ----------
    difference : array, shape (..., films)
        Difference at each film. [CIEDE2000]
    ln_film : array, shape (films,) or (..., films)
        Logarithms of the films, ascending.
    tolerance : float
        Largest difference that counts as hidden.

    Returns
    -------
    array, shape (...)
        Logarithm of the film, interpolated; the first where all are within the
        tolerance, the last where the last is not.

    Examples
    --------
    >>> films = np.log([10.0, 20.0, 30.0, 40.0])
    >>> float(np.exp(last_crossing(np.array([3.0, 0.9, 2.0, 0.5]), films, 1.0)))
    34.641
    """
    outside = difference > tolerance
    films = difference.shape[-1]
    last = films - 1 - np.argmax(outside[..., ::-1], axis=-1)
    never = ~outside.any(axis=-1)
    before = np.minimum(last, films - 2)[..., None]
    logs = np.broadcast_to(ln_film, difference.shape)
    start, end = (np.take_along_axis(logs, before + i, -1)[..., 0] for i in (0, 1))
    part = _part(
        np.take_along_axis(difference, before, -1)[..., 0],
        np.take_along_axis(difference, before + 1, -1)[..., 0],
        tolerance,
    )
    crossed = start + part * (end - start)
    crossed = np.where(last == films - 1, logs[..., -1], crossed)
    return np.asarray(np.where(never, logs[..., 0], crossed))


def _part(outside: Array, inside: Array, tolerance: float) -> Array:
    """How far between two films a difference crosses, falling exponentially."""
    fall = np.log(np.maximum(outside, _NOTHING) / np.maximum(inside, _NOTHING))
    wanted = np.log(np.maximum(outside, _NOTHING) / tolerance)
    return np.clip(wanted / np.maximum(fall, _NOTHING), 0.0, 1.0)


def hidden_from(difference: Array, tolerance: float) -> NDArray[np.intp]:
    """Smallest number of coats from which a difference stays within a tolerance.

    Parameters
    ----------
    difference : array, shape (..., coats)
        To the full colour after each coat. [CIEDE2000]
    tolerance : float
        Largest difference that counts as hidden.

    Returns
    -------
    array of int, shape (...)
        1 up to the number of coats; one more where it does not hide within them.

    Examples
    --------
    >>> hidden_from(np.array([[3.0, 0.9, 1.4, 0.7], [3.0, 2.5, 2.2, 2.0]]), 1.0)
    array([4, 5])
    """
    outside = difference > tolerance
    still_to_go = difference.shape[-1] - np.argmax(outside[..., ::-1], axis=-1)
    return np.asarray(np.where(outside.any(axis=-1), still_to_go, 0) + 1)


def ln_thickness_of_solids(
    absorption: Array,
    scattering: Array,
    backing: Array,
    tolerance: float,
    model: FilmModel,
) -> NDArray[np.float32]:
    """The same as :func:`ln_thickness`, for many solid paints.

    Parameters
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    backing : array, shape (undercoats, 31)
        Undercoats seen from inside the film, 0..1.
    tolerance : float
        Difference that counts as hidden. [CIEDE2000]
    model : FilmModel
        The film's optics.

    Returns
    -------
    array, shape (paints, undercoats)
        ln of um.
    """
    solved = np.empty((len(absorption), len(backing)), dtype=np.float32)
    for start in range(0, len(absorption), _RECIPES_AT_ONCE):
        rows = slice(start, start + _RECIPES_AT_ONCE)
        solved[rows] = _solve(
            absorption[rows], scattering[rows], backing, tolerance, model
        )
    return solved


def clearest_depth_per_um(absorption: Array, scattering: Array) -> NDArray[np.float32]:
    """Optical depth of a micrometre where a paint is clearest, shape (paints, 1).

    Films counted in it take the same numbers for a paint of any loading.
    """
    k = absorption[:, _CLEAREST].astype(np.float32)
    s = scattering[:, _CLEAREST].astype(np.float32)
    depth = np.sqrt(k * (k + 2 * s)) + np.float32(_SCATTER_PART) * s
    tiny = np.finfo(np.float32).tiny
    return np.asarray(np.maximum(depth.min(axis=1, keepdims=True), tiny))


def _solve(
    absorption: Array,
    scattering: Array,
    backing: Array,
    tolerance: float,
    model: FilmModel,
) -> Array:
    """Search on every fourth film, then on those beside the last one outside."""
    scale = clearest_depth_per_um(absorption, scattering)
    k, s = absorption / scale, scattering / scale
    terms = model.ladder(k, s, _FIRST_DEPTH, _FILMS)
    full = lab_from_reflectance(model.masstone(k, s))[:, None]
    coarse = FilmTerms(*(t[:, ::_COARSE] for t in terms))
    row = np.arange(len(k))[:, None]
    found = np.empty((len(k), len(backing)), dtype=np.float32)
    for place, spectrum in enumerate(backing.astype(np.float32)):
        rough = _roughly_apart(coarse, spectrum, full, tolerance)
        outside = rough > tolerance
        last = rough.shape[1] - 1 - np.argmax(outside[:, ::-1], axis=1)
        last = np.minimum(last, rough.shape[1] - 2)
        between = _COARSE * last[:, None] + np.arange(1, _COARSE)
        fine = _apart(FilmTerms(*(t[row, between] for t in terms)), spectrum, full)
        ends = rough[row[:, 0], last], rough[row[:, 0], last + 1]
        course = np.column_stack([ends[0], fine, ends[1]])
        films = _LN_DEPTHS[_COARSE * last[:, None] + np.arange(_COARSE + 1)]
        crossed = last_crossing(course, films, tolerance)
        found[:, place] = np.where(outside.any(axis=1), crossed, _LN_DEPTHS[0])
    return found - np.log(scale)


def _roughly_apart(
    coarse: FilmTerms, spectrum: Array, full: Array, tolerance: float
) -> Array:
    """Differences of the coarse films, down to the last one outside the tolerance.

    Thinner films are left at 0 where a thicker one is outside.
    """
    rough = np.zeros(coarse.through.shape[:2], dtype=np.float32)
    thick = FilmTerms(*(t[:, _THIN:] for t in coarse))
    rough[:, _THIN:] = _apart(thick, spectrum, full)
    left = np.flatnonzero((rough <= tolerance).all(axis=1))
    thin = FilmTerms(*(t[left, :_THIN] for t in coarse))
    rough[left, :_THIN] = _apart(thin, spectrum, full[left])
    return rough


def _apart(terms: FilmTerms, spectrum: Array, full: Array) -> Array:
    return colour_difference(lab_from_reflectance(terms.over(spectrum)), full)
