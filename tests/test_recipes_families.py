"""Colorants stay within the ranges that the data file gives for their family."""

import tomllib
from typing import Any

import numpy as np
import pytest

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file
from shadecore.recipes.families import (
    chromatic_families,
    draw_black,
    draw_chromatic,
    draw_white,
)

RANGES: dict[str, Any] = tomllib.loads(
    data_file("colorant-families.toml").read_text("utf-8")
)
COUNT = 400
LONG_PASS = tuple(RANGES["long_pass"])
BAND = tuple(RANGES["band"])


def column(nm: int) -> int:
    return int(np.flatnonzero(nm == WAVELENGTHS_NM)[0])


def within(values: np.ndarray, limits: list[float], slack: float = 1e-9) -> bool:
    low, high = limits[0] * (1.0 - slack), limits[1] * (1.0 + slack)
    return bool(np.all((values >= low) & (values <= high)))


def spread_over(values: np.ndarray, limits: list[float]) -> bool:
    """Whether draws reach both fifths at the ends of a range."""
    share = (np.log(values) - np.log(limits[0])) / np.log(limits[1] / limits[0])
    return bool(share.min() < 0.2 and share.max() > 0.8)


def test_every_family_is_drawn() -> None:
    assert set(chromatic_families()) == {*LONG_PASS, *BAND}


@pytest.mark.parametrize("family", [*LONG_PASS, *BAND])
def test_colorants_are_possible_and_repeat(family: str) -> None:
    first = draw_chromatic(family, COUNT, np.random.default_rng(70))
    again = draw_chromatic(family, COUNT, np.random.default_rng(70))
    other = draw_chromatic(family, COUNT, np.random.default_rng(71))
    assert first.absorption.shape == first.scattering.shape == (COUNT, 31)
    for values in (first.absorption, first.scattering):
        assert np.all(np.isfinite(values) & (values > 0.0))
    np.testing.assert_array_equal(first.absorption, again.absorption)
    np.testing.assert_array_equal(first.scattering, again.scattering)
    assert not np.allclose(first.absorption, other.absorption)


def test_an_unknown_family_is_refused() -> None:
    with pytest.raises(KeyError):
        draw_chromatic("ultraviolet", 3, np.random.default_rng(0))


def test_whites() -> None:
    """S = 1 at 550 nm falls with the slope's power; K rises into the violet."""
    white = draw_white(COUNT, np.random.default_rng(72))
    ranges = RANGES["white"]
    above = WAVELENGTHS_NM >= 420
    assert within(white.absorption[:, above], ranges["absorption"])
    assert spread_over(white.absorption[:, -1], ranges["absorption"])
    np.testing.assert_allclose(white.absorption[:, 0], ranges["absorption_at_400"])
    np.testing.assert_allclose(white.scattering[:, column(550)], 1.0)
    slope = -np.log(white.scattering[:, -1] / white.scattering[:, 0]) / np.log(7 / 4)
    low, high = ranges["slope"]
    assert np.all((slope >= low - 1e-9) & (slope <= high + 1e-9))


@pytest.mark.parametrize("place", [0, 1])
def test_blacks(place: int) -> None:
    """Half of the draws is bone black, half carbon black, in the file's order."""
    kind = list(RANGES["black"].values())[place]
    drawn = draw_black(COUNT, np.random.default_rng(73))
    half = slice(place * COUNT // 2, (place + 1) * COUNT // 2)
    absorption, scattering = drawn.absorption[half], drawn.scattering[half]
    middle = np.exp(np.log(absorption).mean(axis=1))
    assert within(middle, kind["absorption"])
    assert spread_over(middle, kind["absorption"])
    # K goes exponentially with wavelength: 420 to 700 nm is 280 / 300 of the way.
    rise = (absorption[:, -1] / absorption[:, column(420)]) ** (300.0 / 280.0)
    assert within(rise, kind["red_over_blue"], 1e-6)
    assert within(scattering, kind["scattering"])


@pytest.mark.parametrize("family", LONG_PASS)
def test_long_pass_families(family: str) -> None:
    """K stops the violet, passes the red, and falls between at the family's edges."""
    own = RANGES["long_pass"][family]
    drawn = draw_chromatic(family, COUNT, np.random.default_rng(74))
    violet, red = drawn.absorption[:, 0], drawn.absorption[:, -1]
    stop = list(own["absorption_stop"])
    if own["half_by"]:
        # Farther below the edge than 200 nm at most: 0.5^(distance / half_by).
        distance = np.array(own["edge"]) - WAVELENGTHS_NM[0]
        stop = [stop[0] * 0.5 ** (distance[1] / own["half_by"]), stop[1]]
    assert within(violet, stop, 0.1)
    # The broadest edges reach the ends of the visible.
    assert within(red, own["absorption_pass"], 0.35)
    between = np.sqrt(violet * red)
    edge = [
        float(np.interp(-np.log(mid), -np.log(row), WAVELENGTHS_NM))
        for mid, row in zip(between, drawn.absorption, strict=True)
    ]
    assert min(edge) > own["edge"][0] - 8.0
    assert max(edge) < own["edge"][1] + 8.0
    assert max(edge) - min(edge) > 0.7 * (own["edge"][1] - own["edge"][0])


@pytest.mark.parametrize("family", LONG_PASS)
def test_long_pass_scattering_peaks_past_the_edge(family: str) -> None:
    own = RANGES["long_pass"][family]
    drawn = draw_chromatic(family, COUNT, np.random.default_rng(75))
    assert within(drawn.scattering[:, 0], own["scattering_stop"], 0.1)
    limits = [
        min(own["scattering_stop"][0], own["scattering_pass"][0]),
        max(own["scattering_edge"][1], own["scattering_pass"][1]),
    ]
    assert within(drawn.scattering, limits, 1e-6)
    peak = WAVELENGTHS_NM[drawn.scattering.argmax(axis=1)]
    assert np.median(peak) > own["edge"][0]


@pytest.mark.parametrize("family", BAND)
def test_band_families_scatter_about_their_centre(family: str) -> None:
    """Geometric means near the file's curve, spread by the file's factors.

    The shift along the wavelength adds where the curve is steep.
    """
    own, scatter = RANGES["band"][family], RANGES["band_scatter"]
    drawn = draw_chromatic(family, 2000, np.random.default_rng(76))
    for values, curve, factor in (
        (drawn.absorption, own["absorption"], scatter["absorption_factor"]),
        (drawn.scattering, own["scattering"], scatter["scattering_factor"]),
    ):
        centre = np.interp(WAVELENGTHS_NM, own["nodes"], np.log(curve))
        off = np.log(values) - centre
        steepest = np.abs(np.gradient(centre, 10.0)).max()
        assert np.abs(np.median(off, axis=0)).max() < 0.05 + 4.0 * steepest
        # The level alone has half the variance, with shape as much again at a node.
        spread = off.std(axis=0)
        assert spread.min() > 0.8 * np.log(factor) / np.sqrt(2.0)
        assert spread.max() < np.log(factor) + 1.5 * scatter["shift"] * steepest
