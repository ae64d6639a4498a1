"""Colorants drawn from the ranges of their families."""

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file

Spectra = NDArray[np.float64]

_BLUE_END_NM, _RED_END_NM = 420.0, 720.0
_WHITE_MIDDLE_NM = 550.0
_WHITE_TAIL_NM = 420.0


@dataclass(frozen=True)
class Colorants:
    """Many colorants of one family.

    Attributes
    ----------
    absorption, scattering : array, shape (n, 31)
        K and S relative to the scattering of titanium white.
    """

    absorption: Spectra
    scattering: Spectra


@cache
def family_ranges() -> dict[str, Any]:
    """Read the families' ranges from ``data/colorant-families.toml``.

    Returns
    -------
    dict
    """
    return tomllib.loads(data_file("colorant-families.toml").read_text("utf-8"))


def chromatic_families() -> tuple[str, ...]:
    """Names of the families that carry a hue.

    Returns
    -------
    tuple of str
    """
    ranges = family_ranges()
    return (*ranges["long_pass"], *ranges["band"])


def draw_white(count: int, rng: np.random.Generator) -> Colorants:
    """Draw titanium whites.

    Parameters
    ----------
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    Colorants
    """
    white = family_ranges()["white"]
    floor = log_uniform(white["absorption"], count, rng)
    # Its absorption edge lies in the ultraviolet and reaches into the visible.
    first = WAVELENGTHS_NM[0]
    fall = np.clip((_WHITE_TAIL_NM - WAVELENGTHS_NM) / (_WHITE_TAIL_NM - first), 0, 1)
    absorption = floor ** (1 - fall) * white["absorption_at_400"] ** fall
    slope = uniform(white["slope"], count, rng)
    scattering = (WAVELENGTHS_NM / _WHITE_MIDDLE_NM) ** -slope
    return Colorants(absorption, scattering)


def draw_black(count: int, rng: np.random.Generator) -> Colorants:
    """Draw carbon and bone blacks.

    Parameters
    ----------
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    Colorants
    """
    kinds = list(family_ranges()["black"].values())
    share = [len(part) for part in np.array_split(np.arange(count), len(kinds))]
    return together(
        _black(kind, part, rng) for kind, part in zip(kinds, share, strict=True)
    )


def _black(
    kind: dict[str, list[float]], count: int, rng: np.random.Generator
) -> Colorants:
    tilt = (WAVELENGTHS_NM - _BLUE_END_NM) / (_RED_END_NM - _BLUE_END_NM)
    rise = uniform(kind["red_over_blue"], count, rng) ** (tilt - tilt.mean())
    absorption = log_uniform(kind["absorption"], count, rng) * rise
    scattering = log_uniform(kind["scattering"], count, rng) * np.ones_like(rise)
    return Colorants(absorption, scattering)


def draw_chromatic(family: str, count: int, rng: np.random.Generator) -> Colorants:
    """Draw colorants of a family with a hue.

    Parameters
    ----------
    family : str
        One of :func:`chromatic_families`.
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    Colorants
    """
    if family in family_ranges()["long_pass"]:
        return _long_pass(family, count, rng)
    return _band(family, count, rng)


def draw_grades(family: str, count: int, rng: np.random.Generator) -> Colorants:
    """Draw colorants of a family as they are sold, transparent grades among them.

    Parameters
    ----------
    family : str
        One of :func:`chromatic_families`.
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    Colorants
    """
    drawn = draw_chromatic(family, count, rng)
    if family in family_ranges()["band"]:
        # The measured ones are transparent as they come.
        return drawn
    return _some_transparent(drawn, rng)


def _some_transparent(opaque: Colorants, rng: np.random.Generator) -> Colorants:
    """The same colorants, a share of them as transparent grades."""
    ranges = family_ranges()["transparent"]
    count = len(opaque.absorption)
    chosen = rng.random((count, 1)) < ranges["share"]
    factor = log_uniform(ranges["scattering_factor"], count, rng)
    floor = log_uniform(ranges["absorption_floor"], count, rng)
    return Colorants(
        np.where(chosen, np.maximum(opaque.absorption, floor), opaque.absorption),
        np.where(chosen, opaque.scattering * factor, opaque.scattering),
    )


def _long_pass(family: str, count: int, rng: np.random.Generator) -> Colorants:
    ranges = family_ranges()
    own, shape = ranges["long_pass"][family], ranges["long_pass_shape"]
    edge = uniform(own["edge"], count, rng)
    width = uniform(own["edge_width"], count, rng)
    below = edge - WAVELENGTHS_NM
    stop = log_uniform(own["absorption_stop"], count, rng)
    passed = log_uniform(own["absorption_pass"], count, rng)
    if own["half_by"]:
        stop = stop * 0.5 ** (np.maximum(below, 0.0) / own["half_by"])
    closed = 1.0 / (1.0 + np.exp(-below / width))
    absorption = passed ** (1.0 - closed) * stop**closed
    low = log_uniform(own["scattering_stop"], count, rng)
    high = log_uniform(own["scattering_pass"], count, rng)
    peak = log_uniform(own["scattering_edge"], count, rng)
    plain = high ** (1.0 - closed) * low**closed
    bump = np.exp(-0.5 * ((below + shape["bump_offset"]) / shape["bump_sigma"]) ** 2)
    scattering = plain + np.maximum(peak - plain, 0.0) * bump
    return Colorants(absorption, scattering)


def _band(family: str, count: int, rng: np.random.Generator) -> Colorants:
    ranges = family_ranges()
    own, scatter = ranges["band"][family], ranges["band_scatter"]
    shift = rng.normal(0.0, scatter["shift"], (count, 1))
    at = WAVELENGTHS_NM - shift
    return Colorants(
        _scattered(
            own["nodes"], own["absorption"], scatter["absorption_factor"], at, rng
        ),
        _scattered(
            own["nodes"], own["scattering"], scatter["scattering_factor"], at, rng
        ),
    )


def _scattered(
    nodes: list[float],
    centre: list[float],
    factor: float,
    at: Spectra,
    rng: np.random.Generator,
) -> Spectra:
    """Curves about a central one: half the variance is level, half is shape."""
    sigma = np.log(factor) / np.sqrt(2.0)
    values = np.interp(at, nodes, np.log(centre))
    level = rng.normal(0.0, sigma, (at.shape[0], 1))
    wobble = rng.normal(0.0, sigma, (at.shape[0], len(nodes)))
    place = np.interp(at, nodes, np.arange(len(nodes), dtype=np.float64))
    left = np.minimum(place.astype(np.intp), len(nodes) - 2)
    part = place - left
    row = np.arange(at.shape[0])[:, None]
    shape = wobble[row, left] * (1.0 - part) + wobble[row, left + 1] * part
    return np.asarray(np.exp(values + level + shape))


def together(drawn: Iterable[Colorants]) -> Colorants:
    """Colorants of several draws in one, in their order.

    Parameters
    ----------
    drawn : iterable of Colorants
        At least one.

    Returns
    -------
    Colorants
    """
    each = tuple(drawn)
    return Colorants(
        np.concatenate([one.absorption for one in each]),
        np.concatenate([one.scattering for one in each]),
    )


def uniform(limits: list[float], count: int, rng: np.random.Generator) -> Spectra:
    """Draw a number for each of many paints, all values alike.

    Parameters
    ----------
    limits : list of float
        Lowest and highest.
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    array, shape (count, 1)
    """
    return rng.uniform(limits[0], limits[1], (count, 1))


def log_uniform(limits: list[float], count: int, rng: np.random.Generator) -> Spectra:
    """Draw a factor for each of many paints, all ratios alike.

    Parameters
    ----------
    limits : list of float
        Lowest and highest, above 0.
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    array, shape (count, 1)
    """
    return np.exp(rng.uniform(np.log(limits[0]), np.log(limits[1]), (count, 1)))
