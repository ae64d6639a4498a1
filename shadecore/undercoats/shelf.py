"""The undercoats a shop has on its shelf."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    lab_from_reflectance,
    neutral_reflectance,
    tristimulus_weights,
)
from shadecore.colour.colour_science import colour_science
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.colour.surface import directional
from shadecore.errors import ShadecoreError, ShelfError
from shadecore.formats.echo import shown

NEUTRAL_CHROMA = 0.05
"""Below this an undercoat is flat grey, and no spectrum need be worked out."""
_MUNSELL_STEP = 10.0

Finish = Literal["gloss", "matt", "wet"]
FINISHES: Final[tuple[Finish, ...]] = get_args(Finish)
MATT_SURFACE: Final = (0.015, 0.030, 0.045)
"""What the surface of a dry matt undercoat itself adds to its reading, least, middle
and most: matt blacks read 2 to 5 percent where glossy ones read next to nothing (from
memory). Paint on top fills the surface, and this part goes."""


@dataclass(frozen=True)
class Undercoat:
    """One undercoat.

    Attributes
    ----------
    name : str
        What the shop calls it.
    lab : tuple of float
        L*, a*, b* of the dry, bare undercoat under the working condition.
    reflectance : tuple of float
        Reflectance in air at 400 to 700 nm by 10 nm, 45/0, 0..1.
    price : float or None
        Price of one unit.
    unit : str
        What the price is for, such as ``L`` or ``qt``.
    parts : tuple of (str, int)
        For a blend, the names of the undercoats in it and their parts by volume.
    finish : str
        What was read: ``gloss`` for a smooth dry surface, ``wet`` for a wet one, which
        is as smooth, or ``matt``.
    """

    name: str
    lab: tuple[float, float, float]
    reflectance: tuple[float, ...]
    price: float | None = None
    unit: str = ""
    parts: tuple[tuple[str, int], ...] = ()
    finish: Finish = "gloss"

    @property
    def lightness(self) -> float:
        """L* of the dry, bare undercoat."""
        return self.lab[0]


Shelf = tuple[Undercoat, ...]


def undercoat(
    name: str,
    lab: ArrayLike,
    condition: Condition = WORKING,
    *,
    price: float | None = None,
    unit: str = "",
    finish: Finish = "gloss",
) -> Undercoat:
    """Undercoat from its measured colour.

    Parameters
    ----------
    name : str
        What the shop calls it.
    lab : array, shape (3,)
        L*, a*, b* of the dry, bare undercoat; a* = b* = 0 for a grey.
    condition : Condition
        How it was measured.
    price : float, optional
        Price of one unit, zero or more.
    unit : str
        What the price is for.
    finish : str
        What was read: ``gloss``, ``matt`` or ``wet``.

    Returns
    -------
    Undercoat

    Raises
    ------
    ShelfError
        If it has no name, a negative price, another finish or a colour that cannot
        exist.
    """
    _check_label(name, price, finish)
    given = np.asarray(lab, dtype=np.float64)
    if given.shape != (3,):
        message = f"The sealer {name!r} needs L*, a* and b*."
        raise ShelfError(message)
    try:
        # L* alone describes a grey under any illuminant, so it stays a grey.
        working = lab_from_lab(given, condition)
    except ShadecoreError as error:
        message = f"The sealer {name!r} cannot be used: {error}"
        raise ShelfError(message) from error
    if np.hypot(given[1], given[2]) < NEUTRAL_CHROMA:
        working = np.array([working[0], 0.0, 0.0])
    return Undercoat(
        name.strip(),
        (float(working[0]), float(working[1]), float(working[2])),
        tuple(float(r) for r in reflectance_of(working)),
        price,
        unit.strip(),
        finish=finish,
    )


def undercoat_from_reflectance(
    name: str,
    reflectance: ArrayLike,
    *,
    price: float | None = None,
    unit: str = "",
    parts: tuple[tuple[str, int], ...] = (),
    finish: Finish = "gloss",
) -> Undercoat:
    """Undercoat from its measured spectrum.

    Parameters
    ----------
    name : str
        What the shop calls it.
    reflectance : array, shape (31,)
        In air, 400 to 700 nm by 10 nm, 45/0, 0..1.
    price : float, optional
        Price of one unit.
    unit : str
        What the price is for.
    parts : tuple of (str, int)
        What it is a blend of.
    finish : str
        What was read: ``gloss``, ``matt`` or ``wet``.

    Returns
    -------
    Undercoat

    Raises
    ------
    ShelfError
        If it has no name, a negative price or another finish.
    """
    _check_label(name, price, finish)
    spectrum = np.asarray(reflectance, dtype=np.float64)
    lab = lab_from_reflectance(spectrum)
    return Undercoat(
        name.strip(),
        (float(lab[0]), float(lab[1]), float(lab[2])),
        tuple(float(r) for r in spectrum),
        price,
        unit.strip(),
        parts,
        finish,
    )


def _check_label(name: str, price: float | None, finish: str) -> None:
    if not name.strip():
        message = "A sealer needs a name; give each one on the shelf its own."
        raise ShelfError(message)
    if price is not None and not (np.isfinite(price) and price >= 0.0):
        message = f"The price of {name!r} must be zero or more, not {price:g}."
        raise ShelfError(message)
    if finish not in FINISHES:
        message = (
            f"The finish of {name!r} must be one of {', '.join(FINISHES)}, not "
            f"{shown(finish)}."
        )
        raise ShelfError(message)


def reflectance_of(lab: ArrayLike) -> NDArray[np.float64]:
    """Work out a reflectance spectrum for an undercoat known by its Lab.

    A grey is taken as flat. A colour gets the smooth spectrum of Jakob and Hanika,
    which is one of many with that Lab: give a measured spectrum where there is one.

    Parameters
    ----------
    lab : array, shape (3,)
        L*, a*, b* under the working condition.

    Returns
    -------
    array, shape (31,)
        Reflectance in air, 0..1.

    References
    ----------
    .. [1] W. Jakob and J. Hanika, "A low-dimensional function space for efficient
       spectral upsampling", Comput. Graph. Forum 38 (2019) 147.
    """
    wanted = np.asarray(lab, dtype=np.float64)
    if np.hypot(wanted[1], wanted[2]) < NEUTRAL_CHROMA:
        return np.full(WAVELENGTHS_NM.size, neutral_reflectance(wanted[0]))
    return np.array(_smooth_reflectance(*wanted.tolist()))


@lru_cache(maxsize=256)
def _smooth_reflectance(lightness: float, a: float, b: float) -> tuple[float, ...]:
    """Search the spectrum once for each colour: the search takes a quarter second."""
    colour = colour_science()
    shape = colour.SpectralShape(
        WAVELENGTHS_NM[0], WAVELENGTHS_NM[-1], WAVELENGTHS_NM[1] - WAVELENGTHS_NM[0]
    )
    observer = colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"].copy()
    daylight = colour.SDS_ILLUMINANTS["D65"].copy()
    white = colour.XYZ_to_xy(tristimulus_weights().sum(axis=0))
    spectrum = colour.recovery.XYZ_to_sd_Jakob2019(
        colour.Lab_to_XYZ([lightness, a, b], white),
        observer.align(shape),
        daylight.align(shape),
    )
    return tuple(np.clip(spectrum.values, 0.0, 1.0).tolist())


class Views(NamedTuple):
    """What films may see of undercoats: several ways for one that is not sure.

    Attributes
    ----------
    backing : array, shape (views, 31)
        Reflectance from inside the film, 0..1.
    first : array of int, shape (undercoats,)
        Each undercoat's first view; they follow each other in the shelf's order.
    """

    backing: NDArray[np.float32]
    first: NDArray[np.intp]

    def mean(self, values: NDArray[np.floating]) -> NDArray[np.floating]:
        """Average over the views of each undercoat.

        Parameters
        ----------
        values : array, shape (..., views)
            Any.

        Returns
        -------
        array, shape (..., undercoats)
        """
        if self.first.size == len(self.backing):
            return values
        number = np.diff(np.append(self.first, len(self.backing)))
        return np.asarray(np.add.reduceat(values, self.first, axis=-1) / number)


def inside_views(undercoats: Shelf) -> Views:
    """Undercoats as the film on top of them may see them.

    What a matt surface adds to a reading is not known exactly, so a matt undercoat is
    seen in three ways.

    Parameters
    ----------
    undercoats : tuple of Undercoat
        The undercoats, as they were read in air.

    Returns
    -------
    Views
    """
    added = [MATT_SURFACE if each.finish == "matt" else (0.0,) for each in undercoats]
    in_air = [
        np.array(each.reflectance) - part
        for each, parts in zip(undercoats, added, strict=True)
        for part in parts
    ]
    backing = directional().inside(np.maximum(in_air, 0.0)).astype(np.float32)
    number = [len(parts) for parts in added]
    return Views(backing, np.cumsum([0, *number[:-1]]))


def inside_film(undercoats: Shelf) -> NDArray[np.float32]:
    """Undercoats as the film on top of them most likely sees them.

    Parameters
    ----------
    undercoats : tuple of Undercoat
        The undercoats, as they were read in air.

    Returns
    -------
    array, shape (undercoats, 31)
        Reflectance from inside the film, 0..1.
    """
    views = inside_views(undercoats)
    number = np.diff(np.append(views.first, len(views.backing)))
    return np.asarray(views.backing[views.first + number // 2])


def munsell_value(lightness: float) -> float:
    """Munsell value N of a grey, by ASTM D1535.

    Parameters
    ----------
    lightness : float
        L*, 0..100.

    Returns
    -------
    float
        0..10.
    """
    # V is a tenth of L* within 0.11, but the standard's own polynomial is exact:
    # its luminance is tabulated here and read backwards.
    value = np.linspace(0.0, _MUNSELL_STEP, 1001)
    luminance = np.polynomial.polynomial.polyval(value, _D1535)
    return float(np.interp(100.0 * neutral_reflectance(lightness), luminance, value))


_D1535 = (0.0, 1.1914, -0.22533, 0.23352, -0.020484, 0.00081939)
"""Luminance from Munsell value, ASTM D1535-08e1 (Y of a perfect diffuser = 100)."""


def check_shelf(undercoats: Shelf) -> Shelf:
    """Make sure that a shelf can be picked from.

    Parameters
    ----------
    undercoats : tuple of Undercoat
        The undercoats.

    Returns
    -------
    tuple of Undercoat
        The same.

    Raises
    ------
    ShelfError
        If it is empty or two undercoats share a name.
    """
    if not undercoats:
        message = "The shelf is empty; put at least one sealer on it."
        raise ShelfError(message)
    names = [each.name for each in undercoats]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        message = f"Two sealers are called {twice!r}; give each its own name."
        raise ShelfError(message)
    return undercoats
