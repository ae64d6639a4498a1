"""Hiding power: two-flux films, spreading rates, intervals."""

import numpy as np
import pytest
from check_values import numbers
from numpy.typing import ArrayLike, NDArray

from shadecore.card.hiding_power import UM_M2_PER_LITRE, hiding_power
from shadecore.coats.contrast import contrast_ratios
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.colour.surface import Surface, directional
from shadecore.colour.topcoat import Topcoat
from shadecore.film.two_flux import FilmTerms, TwoFluxFilm
from shadecore.recipes.library import recipe_library
from shadecore.units import UNITS

Floats = NDArray[np.floating]
GRID = 0.005
"""How close the films that are looked at lie: the ratio is taken straight between."""
HIDING = numbers("hiding-thickness.csv")


class BareTerms(FilmTerms):
    """A film whose backing is not carried through a surface."""

    def over(self, backing: ArrayLike) -> Floats:
        """Reflectance over a backing as it reads in air."""
        return super().over(directional().measured(backing))


class BareFilm(TwoFluxFilm):
    """A two-flux film without any surface, as the handbooks' tables have it."""

    def __init__(self) -> None:
        super().__init__(Surface(mirror=0.0, through=1.0, returned=0.0))

    def terms(
        self, absorption: Floats, scattering: Floats, dry_film_um: Floats
    ) -> FilmTerms:
        """Terms inside the film."""
        return BareTerms(*super().terms(absorption, scattering, dry_film_um))


def greys(
    ratio: ArrayLike, scattering: ArrayLike, weight: ArrayLike = 1.0
) -> LikelyPaints:
    """Paints whose K/S and S are the same at every wavelength."""
    ratios, s = np.broadcast_arrays(np.atleast_1d(ratio), np.atleast_1d(scattering))
    flat = np.ones((1, 31), dtype=np.float32)
    return LikelyPaints(
        (ratios * s)[:, None].astype(np.float32) * flat,
        s[:, None].astype(np.float32) * flat,
        np.broadcast_to(np.asarray(weight, dtype=np.float64), s.shape)
        / np.sum(np.broadcast_to(weight, s.shape)),
        0.0,
        model=BareFilm(),
    )


@pytest.mark.parametrize("scattering", [0.05, 0.2])
@pytest.mark.parametrize("row", HIDING)
def test_films_that_hide(row: np.ndarray, scattering: float) -> None:
    """S X of the table (two-flux closed form, computed independently) over S.

    The convention is ASTM D2805's: a contrast ratio of 0.98 over 0.80 white. Dark
    paints hide below the thinnest film looked at, so S is small there.
    """
    masstone, _, sx_98, sx_95, _ = (float(each) for each in row)
    scattering *= min(1.0, sx_95)
    paint = greys((1.0 - masstone) ** 2 / (2.0 * masstone), scattering)
    for contrast, power in ((0.98, sx_98), (0.95, sx_95)):
        found = hiding_power(paint, 0.3, contrast)
        assert found.dry_film_um == pytest.approx([power / scattering] * 3, rel=GRID)
        assert found.contrast_ratio == contrast


def test_a_white_by_hand() -> None:
    """A masstone of 0.80 hides at S X = 6.50069: 32.5 um for 0.2 / um."""
    found = hiding_power(greys(0.025, 0.2), 1.0)
    assert found.dry_film_um[0] == pytest.approx(6.50069 / 0.2, rel=GRID)
    assert found.spreading_rate_m2_per_l[0] == pytest.approx(
        1000.0 / 32.50345, rel=GRID
    )


@pytest.mark.parametrize(
    "lab", [(91.0, 0.0, 9.0), (45.0, 60.0, 35.0), (9.0, 0.0, -1.0)]
)
def test_the_film_reaches_the_ratio(lab: tuple[float, float, float]) -> None:
    """Put back into the exact film, it has the contrast ratio it was asked for."""
    library = recipe_library()
    paints = likely_paints(Topcoat(lab, "asked"), library)
    one = LikelyPaints(paints.absorption[:1], paints.scattering[:1], np.ones(1), 0.0)
    for ratio in (0.95, 0.98):
        film = hiding_power(one, 0.3, ratio).dry_film_um[0]
        reached = contrast_ratios(one, np.array([film]))
        assert float(reached[0, 0]) == pytest.approx(ratio, abs=3e-4)


# Spreading rate ----------------------------------------------------------------------


def test_a_litre_and_a_gallon() -> None:
    """1 L at 1 um covers 1000 m2 (a text on spreading rates).

    1 US gal covers 1604.17 ft2 at 1 mil (a trade column), and 1 m2/L is 40.746 ft2/gal.
    """
    assert UM_M2_PER_LITRE == 1000.0
    gallon_l, foot_m = 231 * 0.254**3, 0.3048
    show = UNITS["us"].spreading
    assert show.number(1.0) == pytest.approx(gallon_l / foot_m**2, rel=1e-5)
    assert show.number(UM_M2_PER_LITRE / 25.4) == pytest.approx(1604.17, rel=1e-5)


def test_a_spreading_rate_by_hand() -> None:
    """65 percent solids at 125 um dry is 5.2 m2/L (a text on spreading rates)."""
    found = hiding_power(greys(0.025, 6.50069 / 125.0), 0.65)
    assert found.dry_film_um[0] == pytest.approx(125.0, rel=GRID)
    assert found.spreading_rate_m2_per_l[0] == pytest.approx(5.2, rel=GRID)


def test_the_rate_grows_with_the_solids() -> None:
    thin, rich = (hiding_power(greys(0.025, 0.2), vs) for vs in (0.13, 0.26))
    assert rich.dry_film_um == thin.dry_film_um
    assert np.divide(
        rich.spreading_rate_m2_per_l, thin.spreading_rate_m2_per_l
    ) == pytest.approx([2.0] * 3)


# Intervals ---------------------------------------------------------------------------


def test_intervals_by_hand() -> None:
    """Films go with 1 / S: of a hundred even weights, 5 lie below and 5 above."""
    scattering = np.linspace(0.1, 0.3, 100)
    found = hiding_power(greys(0.025, scattering), 0.5)
    films = np.sort(6.50069 / scattering)
    expected = films[[49, 4, 94]]
    assert found.dry_film_um == pytest.approx(expected.tolist(), rel=GRID)
    assert found.spreading_rate_m2_per_l == pytest.approx(
        (500.0 / expected[[0, 2, 1]]).tolist(), rel=GRID
    )


def test_heavy_paints_count_more() -> None:
    found = hiding_power(greys(0.025, [0.1, 0.2], [0.1, 0.9]), 0.5)
    assert found.dry_film_um == pytest.approx([32.5, 32.5, 65.0], rel=GRID)


@pytest.mark.parametrize(
    "lab",
    [(91.0, 0.0, 9.0), (72.0, 30.0, 80.0), (45.0, 60.0, 35.0), (30.0, 2.0, -38.0)],
)
def test_intervals_are_in_order_and_less_hiding_needs_less_film(
    lab: tuple[float, float, float],
) -> None:
    library = recipe_library()
    paints = likely_paints(Topcoat(lab, "asked"), library)
    less, more = (hiding_power(paints, 0.3, ratio) for ratio in (0.95, 0.98))
    for found in (less, more):
        for middle, low, high in (found.dry_film_um, found.spreading_rate_m2_per_l):
            assert 0.0 < low <= middle <= high
    assert np.all(np.array(less.dry_film_um) < np.array(more.dry_film_um))
    assert np.all(
        np.array(less.spreading_rate_m2_per_l) > np.array(more.spreading_rate_m2_per_l)
    )


def test_a_paint_that_never_hides_takes_the_thickest_film() -> None:
    found = hiding_power(greys(0.1, 1e-4), 0.3)
    assert found.dry_film_um == pytest.approx([2000.0] * 3, rel=GRID)
