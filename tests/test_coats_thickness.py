"""Hiding thickness against closed forms, by hand and by what must hold of any film."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.thickness import (
    FILMS_UM,
    hidden_from,
    last_crossing,
    ln_thickness,
)
from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    neutral_reflectance,
)
from shadecore.colour.colour_science import colour_science
from shadecore.colour.surface import Surface
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import inside_film, undercoat

CURVES = st.lists(st.floats(0.0, 9.0), min_size=2, max_size=12)
SOME = settings(derandomize=True, deadline=None, max_examples=40)
BARE = TwoFluxFilm(Surface(mirror=0.0, through=1.0, returned=0.0))
"""A two-flux film without a surface, for which the handbooks' equations hold."""


def paints(
    absorption: NDArray[np.floating], scattering: NDArray[np.floating]
) -> LikelyPaints:
    """Paints without a surface, equally likely."""
    count = len(absorption)
    return LikelyPaints(
        absorption.astype(np.float32),
        scattering.astype(np.float32),
        np.full(count, 1.0 / count),
        0.0,
        model=BARE,
    )


def some_recipes(count: int, seed: int = 4) -> LikelyPaints:
    library = recipe_library()
    places = np.random.default_rng(seed).integers(0, len(library.lab), count)
    return LikelyPaints(
        library.recipes.absorption[places],
        library.recipes.scattering[places],
        np.full(count, 1.0 / count),
        0.0,
        model=library.model,
    )


def greys(*lightness: float) -> NDArray[np.float32]:
    return inside_film(
        tuple(undercoat(f"{each:g}", (each, 0, 0)) for each in lightness)
    )


# Counting on curves drawn by hand -----------------------------------------------------


@pytest.mark.parametrize(
    ("curve", "expected"),
    [
        ([0.5, 0.4, 0.3], 1),
        ([3.0, 1.5, 0.9, 0.2], 3),
        ([3.0, 0.9, 1.4, 0.7], 4),  # passes through the tolerance on its way
        ([0.2, 0.9, 1.4, 0.7], 4),  # even when it starts inside
        ([0.9, 3.0, 0.9, 3.0], 5),  # inside twice and out again at the end
        ([2.0, 1.0, 1.0], 2),  # on the tolerance is inside
        ([3.0, 2.0, 1.1], 4),  # never within the coats that are counted
        ([0.9], 1),
        ([1.1], 2),
    ],
)
def test_coats_are_counted_from_where_the_difference_stays_inside(
    curve: list[float], expected: int
) -> None:
    assert hidden_from(np.array(curve), 1.0) == expected


@pytest.mark.parametrize(
    ("curve", "expected"),
    [
        # Falls by a factor of 4 from 10 to 20 um: half way in its logarithm.
        ([2.0, 0.5, 0.1, 0.1], 10.0 * np.sqrt(2.0)),
        ([0.5, 0.5, 4.0, 0.25], 40.0 * np.sqrt(2.0)),  # out again from 20 to 80 um
        ([0.5, 0.5, 0.5, 0.5], 10.0),  # never outside: the thinnest
        ([0.5, 0.5, 0.5, 2.0], 80.0),  # outside at the end: the thickest
    ],
)
def test_the_film_is_the_last_crossing(curve: list[float], expected: float) -> None:
    ln_film = np.log([10.0, 20.0, 40.0, 80.0])
    found = last_crossing(np.array([curve]), ln_film, 1.0)
    assert np.exp(found) == pytest.approx([expected])


@given(CURVES, st.floats(0.1, 8.0))
@SOME
def test_coats_of_the_crossing_are_the_coats_of_the_curve(
    curve: list[float], tolerance: float
) -> None:
    """A film of n coats is the n-th of the films, so the two must agree."""
    coats = np.arange(1.0, len(curve) + 1)
    crossing = np.exp(last_crossing(np.array(curve), np.log(coats), tolerance))
    if curve[-1] <= tolerance:
        assert np.ceil(crossing - 1e-9) == hidden_from(np.array(curve), tolerance)


# Closed forms -------------------------------------------------------------------------


@pytest.mark.parametrize("tolerance", [0.5, 1.0, 2.0])
def test_a_film_that_does_not_scatter(tolerance: float) -> None:
    """Beer and Lambert: R = Rg exp(-2 K X), black when it hides, over a grey.

    Of greys CIEDE2000 is L* over S_L at half of it, by colour-science.
    """
    absorption = 0.05
    k = np.full((1, 31), absorption)
    found = ln_thickness(paints(k, np.full((1, 31), 1e-9)), _flat(0.6), tolerance)
    black = np.zeros(3)

    def apart(lightness: float) -> float:
        lab = np.array([lightness, 0.0, 0.0])
        return float(colour_science().delta_E(black, lab, method="CIE 2000"))

    levels = np.linspace(0.0, 8.0, 8001)
    level = np.interp(tolerance, [apart(each) for each in levels[::40]], levels[::40])
    reflected = float(neutral_reflectance(level))
    expected = np.log(0.6 / reflected) / (2.0 * absorption)
    assert np.exp(found[0, 0]) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize("under", [0.02, 0.9])
@pytest.mark.parametrize("tolerance", [1.0, 2.0])
def test_a_grey_film(under: float, tolerance: float) -> None:
    """Kubelka (1948): coth(b S X) of the film whose L* is the tolerance away.

    R = [1 - Rg (a - b c)] / [a - Rg + b c] solved for c = coth(b S X).
    """
    scattering, ratio = 0.2, 0.3
    a = 1.0 + ratio
    b = np.sqrt(a * a - 1.0)
    full = a - b
    at = np.linspace(min(under, full), max(under, full), 200_001)[1:-1]
    spectra = np.repeat(np.array([full, *at])[:, None], 31, axis=1)
    lab = lab_from_reflectance(spectra)
    apart = colour_difference(lab[1:], lab[0])
    order = np.argsort(apart)
    reached = float(np.interp(tolerance, apart[order], at[order]))
    c = (1.0 - under * a - reached * (a - under)) / (b * (reached - under))
    expected = np.arctanh(1.0 / c) / (b * scattering)
    s = np.full((1, 31), scattering)
    found = ln_thickness(paints(ratio * s, s), _flat(under), tolerance)
    assert np.exp(found[0, 0]) == pytest.approx(expected, rel=0.01)


def _flat(level: float) -> NDArray[np.float64]:
    return np.full((1, 31), level)


# What must hold of any film -----------------------------------------------------------


def test_twice_the_loading_hides_at_half_the_film() -> None:
    """K and S times two; and times three, which is not exact in binary."""
    once = some_recipes(200)
    under = greys(95.0, 60.0, 25.0)
    for factor in (2.0, 3.0):
        more = LikelyPaints(
            once.absorption * np.float32(factor),
            once.scattering * np.float32(factor),
            once.weight,
            0.0,
            model=once.model,
        )
        thinner = ln_thickness(once, under, 1.0) - ln_thickness(more, under, 1.0)
        off = np.abs(thinner - np.log(factor))
        # Rounding of single precision can move a curve that only grazes the tolerance.
        assert np.median(off) < 1e-6 if factor == 2.0 else np.median(off) < 1e-4
        assert np.mean(off < 1e-3) > 0.99


@given(st.floats(0.3, 4.0), st.floats(0.01, 4.0), st.integers(0, 50))
@SOME
def test_a_looser_tolerance_needs_no_thicker_film(
    tolerance: float, looser_by: float, seed: int
) -> None:
    some, under = some_recipes(20, seed), greys(95.0, 70.0, 45.0, 20.0)
    strict = ln_thickness(some, under, tolerance)
    loose = ln_thickness(some, under, tolerance + looser_by)
    assert np.all(loose <= strict + 1e-3)


def test_from_the_film_on_the_difference_stays_and_just_before_it_does_not() -> None:
    some, under = some_recipes(60), greys(90.0, 50.0)
    tolerance = 1.0
    found = np.exp(ln_thickness(some, under, tolerance))
    full = some.full_lab()[:, None]
    for paint in range(len(found)):
        one = some.only(paint)
        for place in range(len(under)):
            film = float(found[paint, place])
            if not FILMS_UM[0] < film < FILMS_UM[-1]:
                continue
            films = film * np.array([0.97, 1.03, 1.2, 1.5, 2.0, 4.0])
            lab = one.lab_over(under[place : place + 1], films)[0, 0]
            apart = colour_difference(lab, full[paint])[:, 0]
            assert apart[0] > tolerance * 0.98
            assert np.all(apart[1:] < tolerance * 1.02)


def test_an_undercoat_of_the_full_colour_hides_at_once() -> None:
    s = np.full((1, 31), 0.2)
    ratio = 0.3
    full = 1.0 + ratio - np.sqrt((1.0 + ratio) ** 2 - 1.0)
    found = ln_thickness(paints(ratio * s, s), _flat(float(full)), 1.0)
    assert np.exp(found[0, 0]) < 0.2


class TwoSided:
    """A film that hides at 20 um when looked at squarely, at 40 um from the side."""

    weight = np.ones(1)
    nearest = 0.0
    basis = "colour"
    angles = (45.0, 110.0)
    loading = None

    def only(self, place: int) -> "TwoSided":
        """There is only one."""
        assert place == 0
        return self

    def full_lab(self) -> NDArray[np.float64]:
        """Two greys."""
        return np.array([[[50.0, 0.0, 0.0], [20.0, 0.0, 0.0]]])

    def lab_over(
        self, backing: NDArray[np.floating], dry_film_um: NDArray[np.floating]
    ) -> NDArray[np.float64]:
        """Lightness off by 30 up to a film, then right."""
        lab = np.zeros((1, len(backing), len(dry_film_um), 2, 3))
        for angle, (full, film) in enumerate(((50.0, 20.0), (20.0, 40.0))):
            off = np.where(dry_film_um < film, 30.0, 0.0)
            lab[0, :, :, angle, 0] = full + off
        return lab


def test_the_last_angle_decides() -> None:
    found = float(np.exp(ln_thickness(TwoSided(), _flat(0.5), 1.0)[0, 0]))
    step = FILMS_UM[1] / FILMS_UM[0]
    assert 40.0 / step <= found <= 40.0 * step
