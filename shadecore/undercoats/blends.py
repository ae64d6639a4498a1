"""Blends of two undercoats from the shelf, by two-constant mixing.

Mixing needs K and S of each undercoat, and its reflectance gives only K/S. A grey is
therefore taken as titanium white with as much black as gives that K/S, and S follows
from the shares of the two.
"""

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import neutral_reflectance
from shadecore.colour.surface import directional
from shadecore.errors import ShelfError
from shadecore.film.two_flux import absorption_to_scattering, masstone_reflectance
from shadecore.undercoats.shelf import Shelf, Undercoat, undercoat_from_reflectance

PARTS = ((19, 1), (9, 1), (4, 1), (2, 1), (1, 1), (1, 2), (1, 4), (1, 9))
"""Ratios that are easily measured in a mixing cup; this tool's own choice."""

_BLACK_ABSORPTION = 0.27
_BLACK_SCATTERING = 0.019
"""K and S of black relative to the S of titanium white: middle of the black family in
``data/colorant-families.toml``."""
_DARKEST = 1e-4
"""Least reflectance inside the film, so that K/S stays finite."""
_MIDDLE = slice(10, 20)
"""Wavelengths 500 to 590 nm, where lightness is decided."""
_SHELVES_KEPT = 32
"""Shelves whose blends are remembered; a shop asks many colours over each."""


def blend(
    lighter: Undercoat,
    darker: Undercoat,
    parts: tuple[int, int],
    strength: float = 1.0,
) -> Undercoat:
    """Mix two undercoats.

    Parameters
    ----------
    lighter, darker : Undercoat
        What goes in.
    parts : tuple of int
        Parts of the lighter and of the darker by volume.
    strength : float
        Factor on the parts of the darker one, for one that colours more or less
        strongly than its reflectance alone says; see :func:`strength_from_blend`.

    Returns
    -------
    Undercoat
        What the blend dries to, with its parts.

    References
    ----------
    .. [1] D. R. Duncan, "The colour of pigment mixtures", Proc. Phys. Soc. 52 (1940)
       390: K and S add by concentration.
    """
    k_light, s_light = two_constants(lighter)
    k_dark, s_dark = two_constants(darker)
    dark = parts[1] * strength
    total = parts[0] + dark
    inside = masstone_reflectance(
        (parts[0] * k_light + dark * k_dark) / total,
        (parts[0] * s_light + dark * s_dark) / total,
    )
    price, unit = _price(lighter, darker, parts)
    return undercoat_from_reflectance(
        f"{_count(parts[0])} {lighter.name} + {_count(parts[1])} {darker.name}",
        directional().measured(inside),
        price=price,
        unit=unit,
        parts=((lighter.name, parts[0]), (darker.name, parts[1])),
    )


def _count(parts: int) -> str:
    return f"{parts} part" if parts == 1 else f"{parts} parts"


@lru_cache(_SHELVES_KEPT)
def shelf_blends(undercoats: Shelf, strength: float = 1.0) -> Shelf:
    """Blends of each two neighbours in lightness, in the ratios of ``PARTS``.

    Undercoats farther apart are not blended: the same grey can be mixed from two
    neighbours, and an error in measuring the parts then changes it less.

    Parameters
    ----------
    undercoats : tuple of Undercoat
        The shelf.
    strength : float
        Factor on the parts of the darker one of each pair; see :func:`blend`.

    Returns
    -------
    tuple of Undercoat

    Raises
    ------
    ShelfError
        If the strength is not above 0.
    """
    if not (math.isfinite(strength) and strength > 0.0):
        message = (
            f"The strength of the darker sealer must be above 0, not {strength:g}."
        )
        raise ShelfError(message)
    by_lightness = sorted(undercoats, key=lambda each: -each.lightness)
    return tuple(
        blend(lighter, darker, parts, strength)
        for lighter, darker in pairwise(by_lightness)
        for parts in PARTS
    )


def strength_from_blend(
    lighter: Undercoat,
    darker: Undercoat,
    parts: tuple[float, float],
    measured_lightness: float,
) -> float:
    """Strength of the darker undercoat from one blend that was mixed and measured.

    Parameters
    ----------
    lighter, darker : Undercoat
        What went in.
    parts : tuple of float
        Parts of the lighter and of the darker by volume, both above 0.
    measured_lightness : float
        L* of the dry blend.

    Returns
    -------
    float
        Factor on the parts of the darker one that makes :func:`blend` give the
        measured lightness; 1 where the model is right as it is.

    Raises
    ------
    ShelfError
        If the blend is not darker than the one and lighter than the other, or a
        part is not above 0.
    """
    if min(parts) <= 0.0:
        message = "Both parts of the measured mix must be above 0."
        raise ShelfError(message)
    if not darker.lightness < measured_lightness < lighter.lightness:
        message = (
            f"A mix of {lighter.name} (L* {lighter.lightness:.1f}) and {darker.name} "
            f"(L* {darker.lightness:.1f}) must measure between the two, not "
            f"L* {measured_lightness:.1f}; check the reading and the order."
        )
        raise ShelfError(message)
    k_light, s_light = (
        float(np.mean(each[_MIDDLE])) for each in two_constants(lighter)
    )
    k_dark, s_dark = (float(np.mean(each[_MIDDLE])) for each in two_constants(darker))
    inside = directional().inside(neutral_reflectance(measured_lightness))
    ratio = float(absorption_to_scattering(inside))
    return (
        parts[0] * (ratio * s_light - k_light) / (parts[1] * (k_dark - ratio * s_dark))
    )


def two_constants(one: Undercoat) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """K and S of an undercoat, relative to the scattering of titanium white.

    Parameters
    ----------
    one : Undercoat
        The undercoat, dry and bare.

    Returns
    -------
    absorption, scattering : array, shape (31,)
    """
    inside = np.clip(directional().inside(np.array(one.reflectance)), _DARKEST, 1.0)
    ratio = absorption_to_scattering(inside)
    level = float(np.mean(ratio[_MIDDLE]))
    # The share p of black solves ((1-p) 0 + p Kb) / ((1-p) 1 + p Sb) = K/S.
    black = min(level / (_BLACK_ABSORPTION + level * (1.0 - _BLACK_SCATTERING)), 1.0)
    scattering = np.full_like(ratio, 1.0 - black + black * _BLACK_SCATTERING)
    return ratio * scattering, scattering


def _price(
    lighter: Undercoat, darker: Undercoat, parts: tuple[int, int]
) -> tuple[float | None, str]:
    if lighter.price is None or darker.price is None or lighter.unit != darker.unit:
        return None, ""
    total = lighter.price * parts[0] + darker.price * parts[1]
    return total / sum(parts), lighter.unit
