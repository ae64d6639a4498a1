"""Effect paints as a maker might make them: flakes, how they lie, pigment between."""

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file
from shadecore.effects.lobe import Lobe
from shadecore.effects.optics import Flakes, LobeSet, Optics, lobe_set, optics
from shadecore.film.table import albedo_and_depth_per_um
from shadecore.recipes.families import (
    Colorants,
    chromatic_families,
    draw_black,
    draw_chromatic,
    draw_white,
    log_uniform,
    together,
    uniform,
)

Array = NDArray[np.float64]

STEP: Final = 2
"""Every second wavelength is enough for flakes; films and full colour share them."""
WAVES_NM: Final = WAVELENGTHS_NM[::STEP]

ALUMINIUM, PEARL, MIXED = 0, 1, 2
KINDS: Final = {"metallic": (ALUMINIUM, MIXED), "pearl": (PEARL, MIXED)}
"""Which paints a painter's word for the kind takes in."""

COLORANTS_PER_FAMILY = 1024
_HUES_SECOND, _BLACKS, _WHITES = 0.55, 0.45, 0.20
_NEUTRAL_HUES, _NEUTRAL_BLACKS = 0.5, 0.7
_MIDDLE_NM = 550.0
_HALF_RANGE_NM = 150.0


@cache
def effect_ranges() -> dict[str, Any]:
    """Read the ranges of ``data/effect-families.toml``.

    Returns
    -------
    dict
    """
    return tomllib.loads(data_file("effect-families.toml").read_text("utf-8"))


@dataclass(frozen=True)
class EffectRecipes:
    """Plausible effect paints.

    Attributes
    ----------
    optics : Optics
        Coefficients of their films, on ``WAVES_NM``.
    kind : array of int, shape (paints,)
        ``ALUMINIUM``, ``PEARL`` or ``MIXED``.
    """

    optics: Optics
    kind: NDArray[np.intp]


def draw_lobes(count: int, rng: np.random.Generator) -> LobeSet:
    """Draw ways in which flakes lie.

    Parameters
    ----------
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    LobeSet
    """
    own = effect_ranges()["lobe"]
    slopes, tails, tail_slopes = (
        uniform(own[name], count, rng)[:, 0] for name in ("slope", "tail", "tail_slope")
    )
    return lobe_set(
        tuple(
            Lobe(float(slope), float(tail), float(wide))
            for slope, tail, wide in zip(slopes, tails, tail_slopes, strict=True)
        )
    )


def draw_effects(count: int, lobes: int, rng: np.random.Generator) -> EffectRecipes:
    """Draw plausible effect paints.

    Parameters
    ----------
    count : int
        How many.
    lobes : int
        How many lobes they share; each has an equal share of the paints.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    EffectRecipes
        Loaded as makers usually do; :mod:`shadecore.effects.loading` changes that.
    """
    flakes, kind = _draw_flakes(count, rng)
    area = log_uniform(effect_ranges()["flakes"]["area_per_um"], count, rng)
    absorption, scattering = _draw_pigments(area, rng)
    lobe = np.arange(count) * lobes // count
    edges = log_uniform(effect_ranges()["flakes"]["edges"], count, rng)
    radius = uniform(effect_ranges()["flakes"]["radius_um"], count, rng)[:, 0]
    made = Flakes(
        area_per_um=area,
        reflectance=flakes[0],
        transmittance=flakes[1],
        edges=edges,
        radius_um=radius,
        lobe=lobe,
    )
    return EffectRecipes(optics(made, absorption, scattering), kind)


def draw_midcoats(count: int, lobes: int, rng: np.random.Generator) -> Optics:
    """Draw pearl mid-coats of three-stage colours.

    Parameters
    ----------
    count : int
        How many.
    lobes : int
        How many lobes they share; each has an equal share of them.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    Optics
        Of coats that are ``coat_um`` of ``data/effect-families.toml`` thick.
    """
    own, flat = effect_ranges()["midcoat"], effect_ranges()["flakes"]
    area = log_uniform(own["area"], count, rng) / own["coat_um"]
    shine, pass_on = pearl(count, rng)
    hues = [draw_chromatic(name, count, rng) for name in chromatic_families()]
    chosen = rng.integers(0, len(hues), count)
    absorbs, scatters = np.stack([_transport(each) for each in hues], axis=1)
    row = np.arange(count)
    tint = log_uniform(own["tint"], count, rng) * area
    tint *= rng.random((count, 1)) < own["tinted"]
    made = Flakes(
        area_per_um=area,
        reflectance=shine,
        transmittance=pass_on,
        edges=log_uniform(flat["edges"], count, rng),
        radius_um=uniform(flat["radius_um"], count, rng)[:, 0],
        lobe=row * lobes // count,
    )
    floor = effect_ranges()["pigments"]["floor_per_um"]
    return optics(
        made,
        floor + tint * absorbs[chosen, row],
        floor + tint * scatters[chosen, row],
    )


def _draw_flakes(
    count: int, rng: np.random.Generator
) -> tuple[tuple[Array, Array], NDArray[np.intp]]:
    """Reflectance and transmittance of flakes, and their kind."""
    own = effect_ranges()["kinds"]
    shares = [own["aluminium"], own["pearl"], own["mixed"]]
    kind = rng.choice(len(shares), count, p=shares)
    metal = aluminium(count, rng)
    shine, pass_on = pearl(count, rng)
    mixed = uniform(own["mixed_aluminium"], count, rng)[:, 0]
    share = np.choose(kind, [np.ones(count), np.zeros(count), mixed])[:, None]
    reflectance = share * metal + (1.0 - share) * shine
    return (reflectance, (1.0 - share) * pass_on), kind


def aluminium(count: int, rng: np.random.Generator) -> Array:
    """Draw the reflectance of aluminium flakes, which pass no light.

    Parameters
    ----------
    count : int
        How many paints.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    array, shape (count, wavelengths)
    """
    own = effect_ranges()["aluminium"]
    place = (WAVES_NM - _MIDDLE_NM) / _HALF_RANGE_NM
    rise = 1.0 + rng.normal(0.0, own["slope"], (count, 1)) * place
    bright = uniform(own["reflectance"], count, rng) * rise
    edge = uniform(own["coloured_edge_nm"], count, rng)
    skin = _below(edge, own["coloured_width_nm"]) * own["coloured_depth"]
    coloured = rng.random((count, 1)) < own["coloured"]
    return np.asarray(bright * np.where(coloured, 1.0 - skin, 1.0))


def pearl(count: int, rng: np.random.Generator) -> tuple[Array, Array]:
    """Draw reflectance and transmittance of coated mica.

    Parameters
    ----------
    count : int
        How many paints.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    reflectance, transmittance : array, shape (count, wavelengths)

    References
    ----------
    .. [1] M. Born and E. Wolf, "Principles of Optics", section 7.6 (the Airy formula).
    """
    own = effect_ranges()["pearl"]
    film = uniform(own["film_nm"], count, rng)
    one = np.zeros((count, WAVES_NM.size))
    for spread in own["film_spread"]:
        phase = 2.0 * np.pi * own["index"] * film * spread / WAVES_NM
        airy = own["finesse"] * np.sin(phase) ** 2
        one += airy / (1.0 + airy) / len(own["film_spread"])
    both = 2.0 * one / (1.0 + one)
    density = log_uniform(own["iron_density"], count, rng)
    absorbed = np.exp(-density * _below(own["iron_edge_nm"], own["iron_width_nm"]))
    iron = rng.random((count, 1)) < own["iron"]
    return both, (1.0 - both) * np.where(iron, absorbed, 1.0)


def _draw_pigments(area: Array, rng: np.random.Generator) -> tuple[Array, Array]:
    """Absorption and scattering between the flakes, for each um of path."""
    count = len(area)
    own = effect_ranges()["pigments"]
    hue = _transport(
        together(
            draw_chromatic(name, COLORANTS_PER_FAMILY, rng)
            for name in chromatic_families()
        )
    )
    black = _transport(draw_black(COLORANTS_PER_FAMILY, rng))
    white = draw_white(COLORANTS_PER_FAMILY, rng)
    parts = _draw_parts(count, rng)[..., None] * area
    clear = log_uniform(own["transparency"], count, rng)
    total = np.full((2, count, WAVES_NM.size), own["floor_per_um"])
    for part, (absorbs, scatters) in zip(parts, (hue, hue, black), strict=True):
        one = rng.integers(0, len(absorbs), count)
        total[0] += part * absorbs[one]
        total[1] += part * clear * scatters[one]
    one = rng.integers(0, COLORANTS_PER_FAMILY, count)
    parts_white = log_uniform(own["white"], count, rng) * (
        rng.random((count, 1)) < _WHITES
    )
    parts_white *= area
    total[0] += parts_white * white.absorption[one][:, ::STEP] / 2.0
    total[1] += parts_white * white.scattering[one][:, ::STEP]
    return total[0], total[1]


def _draw_parts(count: int, rng: np.random.Generator) -> Array:
    """First hue, second hue and black to one part of flakes, shape (3, count)."""
    own = effect_ranges()["pigments"]

    def some(name: str, share: float) -> Array:
        drawn = log_uniform(own[name], count, rng)[:, 0]
        return np.asarray(drawn * (rng.random(count) < share))

    neutral = rng.random(count) < own["neutral"]
    few = rng.random(count) < own["few_flakes"]
    first = np.where(few, some("few_flakes_hue", 1.0), some("hue", 1.0))
    second = first * some("second_hue", _HUES_SECOND)
    black = some("black", _BLACKS)
    return np.stack(
        [
            np.where(neutral, some("neutral_hue", _NEUTRAL_HUES), first),
            np.where(neutral, 0.0, second),
            np.where(neutral, some("neutral_black", _NEUTRAL_BLACKS), black),
        ]
    )


def _transport(colorants: Colorants) -> tuple[Array, Array]:
    """Absorption and scattering for each um of path, absorbing 1 at the peak."""
    loss, depth = albedo_and_depth_per_um(
        colorants.absorption[:, ::STEP], colorants.scattering[:, ::STEP]
    )
    absorption, scattering = depth * loss, depth * (1.0 - loss)
    peak = absorption.max(axis=1, keepdims=True)
    return absorption / peak, scattering / peak


def _below(edge_nm: Array | float, width_nm: float) -> Array:
    return np.asarray(1.0 / (1.0 + np.exp((WAVES_NM - edge_nm) / width_nm)))
