"""Flop index, let-down panels and candy."""

import numpy as np
import pytest
from check_values import numbers

from shadecore.colour.angles import AngleReadings, angle_readings
from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    lab_from_reflectance,
)
from shadecore.effects.appearance import angle_lab
from shadecore.effects.candy import Candy, candy_from_strip, match_candy
from shadecore.effects.flop import flop_index, readings_flop_index
from shadecore.effects.geometry import views
from shadecore.effects.midcoat_model import build_midcoat_films, estimate_midcoats
from shadecore.effects.midcoat_panel import parse_midcoat_panel
from shadecore.effects.midcoats import match_midcoats
from shadecore.effects.xyz import lab_of_xyz, xyz_of_lab
from shadecore.errors import CardError, ColourError, TableError
from shadecore.film.two_flux import FilmTerms

ANGLES = (15.0, 25.0, 45.0, 75.0, 110.0)


# Flop index -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lightness", "expected"),
    [((120.0, 60.0, 25.0), 12.46853), ((100.0, 50.0, 30.0), 10.39195)],
)
def test_flop_index(lightness: tuple[float, float, float], expected: float) -> None:
    """2.69 (L15 - L110)^1.11 / L45^0.86, Alman 1987 (from memory), computed by hand."""
    assert float(flop_index(*lightness)) == pytest.approx(expected, abs=1e-5)


def test_a_solid_does_not_flop() -> None:
    assert float(flop_index(60.0, 60.0, 60.0)) == 0.0
    assert float(flop_index(59.0, 60.0, 60.0)) == 0.0


def test_flop_index_needs_its_three_angles() -> None:
    full = angle_readings(
        [(15.0, (120, 0, 0)), (45.0, (60, 0, 0)), (110.0, (25, 0, 0))]
    )
    assert readings_flop_index(full) == pytest.approx(12.46853, abs=1e-5)
    without = angle_readings([(45.0, (60, 0, 0)), (110.0, (25, 0, 0))])
    assert readings_flop_index(without) is None


# Tristimulus values ---------------------------------------------------------------


def test_xyz_and_back_above_the_white_as_well() -> None:
    lab = np.array([[136.0, 1.0, -3.0], [5.0, 2.0, 1.0], [60.0, -30.0, 40.0]])
    np.testing.assert_allclose(lab_of_xyz(xyz_of_lab(lab)), lab, atol=1e-9)
    assert xyz_of_lab(np.array([100.0, 0.0, 0.0]))[1] == pytest.approx(100.0, abs=1e-3)


# Let-down panels ------------------------------------------------------------------


def pearl_over(
    coats: float,
    ground: tuple[float, float, float] = (0.80, 0.80, 0.78),
    pearl: tuple[float, float, float] = (0.9, 0.95, 1.0),
) -> AngleReadings:
    """A made-up white pearl: light of the ground dies away, the pearl's own grows.

    Not a model of a film; X, Y and Z over the white's, a power of the coats each.
    """
    shine = np.array([1.9, 1.0, 0.25, 0.06, 0.04])[:, None]
    grown = 1.0 - 0.70**coats
    left = 0.86 ** np.minimum(coats, 6.0)
    share = np.array(ground) * left + shine * grown * np.array(pearl)
    share = share + 0.30 * grown
    white = xyz_of_lab(np.array([100.0, 0.0, 0.0]))
    return angle_readings(
        zip(ANGLES, map(tuple, lab_of_xyz(share * white)), strict=True)
    )


PANEL = {n: pearl_over(n) for n in range(6)}


@pytest.mark.parametrize("coats", [1, 2, 3, 4, 5])
def test_a_car_of_whole_coats_is_found(coats: int) -> None:
    found = match_midcoats(pearl_over(coats), PANEL)
    assert found.coats == coats
    assert found.fraction == pytest.approx(coats, abs=0.02)
    assert found.difference == pytest.approx(0.0, abs=1e-9)
    assert found.fits
    assert found.suspect is None


@pytest.mark.parametrize("coats", [1.5, 2.4, 3.7])
def test_a_car_between_two_strips(coats: float) -> None:
    found = match_midcoats(pearl_over(coats), PANEL)
    assert found.fraction == pytest.approx(coats, abs=0.08)
    assert abs(found.coats - coats) <= 0.6
    assert found.left < found.difference


def test_steps_are_the_strips_differences() -> None:
    found = match_midcoats(pearl_over(3.0), PANEL)
    for step, other in ((found.step_more, 4), (found.step_less, 2)):
        expected = colour_difference(PANEL[3].lab, PANEL[other].lab)
        np.testing.assert_allclose(step, expected, atol=1e-6)
    assert match_midcoats(pearl_over(5.0), PANEL).step_more is None


def test_no_strip_fits_and_the_ground_is_suspected() -> None:
    found = match_midcoats(pearl_over(3.0, ground=(0.62, 0.64, 0.70)), PANEL)
    assert not found.fits
    assert found.left > 2.0
    assert found.suspect == "ground"


def test_no_strip_fits_and_the_pearl_is_suspected() -> None:
    found = match_midcoats(pearl_over(3.0, pearl=(1.15, 1.0, 0.6)), PANEL)
    assert not found.fits
    assert found.suspect == "pearl"


def test_a_wide_tolerance_takes_what_a_narrow_one_refuses() -> None:
    car = pearl_over(3.0, ground=(0.62, 0.64, 0.70))
    assert match_midcoats(car, PANEL, tolerance=20.0).fits
    assert match_midcoats(car, PANEL, tolerance=20.0).suspect is None


def test_strips_with_gaps_and_fewer_angles() -> None:
    three = {
        n: angle_readings((a, each.at(a)) for a in (15.0, 45.0, 110.0))
        for n, each in PANEL.items()
        if n in {0, 2, 4}
    }
    found = match_midcoats(pearl_over(2.0), three)
    assert (found.coats, found.angles) == (2, (15.0, 45.0, 110.0))


@pytest.mark.parametrize("strips", [{0: PANEL[0]}, {2: PANEL[2]}, {}])
def test_a_panel_needs_ground_and_a_strip(strips: dict[int, AngleReadings]) -> None:
    with pytest.raises(ColourError, match="bare ground"):
        match_midcoats(pearl_over(3.0), strips)


def panel_text(rows: dict[str, AngleReadings]) -> str:
    heading = ",".join(f"{letter}{a:g}" for a in ANGLES for letter in "Lab")
    lines = [f"area,{heading}"]
    for area, each in rows.items():
        cells = ",".join(f"{value:.6f}" for lab in each.lab for value in lab)
        lines.append(f"{area},{cells}")
    return "\n".join(lines) + "\n"


def test_a_panel_s_table() -> None:
    rows = {"car": pearl_over(2.0)} | {str(n): each for n, each in PANEL.items()}
    panel = parse_midcoat_panel(panel_text(rows), "panel.csv")
    assert sorted(panel.strips) == [0, 1, 2, 3, 4, 5]
    assert match_midcoats(panel.car, panel.strips).coats == 2


@pytest.mark.parametrize(
    ("areas", "said"),
    [
        (("0", "1"), "no row for the car"),
        (("car", "1"), "bare ground"),
        (("car", "0"), "bare ground"),
        (("car", "0", "1.5"), "line 4"),
        (("car", "0", "-1"), "line 4"),
        (("car", "0", "roof"), "line 4"),
        (("car", "0", "1", "1"), "second row"),
        (("car", "Car", "0", "1"), "second row"),
    ],
)
def test_panels_that_cannot_be_used(areas: tuple[str, ...], said: str) -> None:
    heading, row = panel_text({"car": pearl_over(1.0)}).splitlines()
    cells = row.split(",", 1)[1]
    text = "\n".join([heading, *(f"{area},{cells}" for area in areas)])
    with pytest.raises(CardError, match=said):
        parse_midcoat_panel(text, "panel.csv")


def test_a_panel_without_angles_is_no_such_table() -> None:
    with pytest.raises(TableError):
        parse_midcoat_panel("area,L,a,b\ncar,50,0,0\n", "panel.csv")


# Candy ----------------------------------------------------------------------------

SILVER_FACTORS = np.array([1.9, 0.85, 0.20, 0.075, 0.065])
RED = 0.35 / (1.0 + np.exp((WAVELENGTHS_NM - 590.0) / 12.0)) + 0.003


def candy_readings(coats: float, *, spectra: bool = True) -> AngleReadings:
    """Silver under red candy by Beer and Lambert's law, ways in and out by Snell's."""
    sines = np.sin(np.radians(np.array([45.0, 30.0, 20.0, 0.0, 30.0, 65.0]))) / 1.5
    path = 1.0 / np.sqrt(1.0 - sines[0] ** 2) + 1.0 / np.sqrt(1.0 - sines[1:] ** 2)
    spectrum = SILVER_FACTORS[:, None] * np.exp(-coats * path[:, None] * RED)
    if spectra:
        return angle_readings(zip(ANGLES, map(tuple, spectrum), strict=True))
    lab = lab_from_reflectance(spectrum)
    return angle_readings(zip(ANGLES, map(tuple, lab), strict=True))


def test_a_candy_s_absorbance_comes_back_from_spectra() -> None:
    candy = candy_from_strip(candy_readings(0.0), candy_readings(2.0), 2.0)
    np.testing.assert_allclose(candy.absorbance, RED, rtol=1e-6)
    for coats in (1.0, 4.0):
        expected = candy_readings(coats).lab
        np.testing.assert_allclose(candy.lab(coats), expected, atol=1e-6)


@pytest.mark.parametrize("coats", [1, 3, 5])
@pytest.mark.parametrize("spectra", [True, False])
def test_coats_of_candy_for_a_target(coats: int, spectra: bool) -> None:  # noqa: FBT001
    """From Lab alone three bands stand for the spectrum: within half a coat."""
    bare, strip, target = (
        candy_readings(n, spectra=spectra) for n in (0.0, 2.0, float(coats))
    )
    found = match_candy(candy_from_strip(bare, strip, 2.0), target)
    assert found.coats == coats
    assert found.fraction == pytest.approx(coats, abs=0.02 if spectra else 0.5)
    if spectra:
        assert found.difference == pytest.approx(0.0, abs=1e-3)


def test_each_coat_takes_the_same_share_and_none_hides_the_ground() -> None:
    dark = Candy((45.0,), np.full((1, 31), 0.2), RED)
    bright = Candy((45.0,), np.full((1, 31), 0.8), RED)
    for coats in (1.0, 6.0, 12.0):
        apart = colour_difference(bright.lab(coats), dark.lab(coats))[0]
        assert apart > 10.0
    path = views((45.0,)).path[0]
    green = WAVELENGTHS_NM.tolist().index(550)
    steps = np.diff(np.log([0.8 * np.exp(-n * path * RED[green]) for n in range(5)]))
    np.testing.assert_allclose(steps, steps[0])


def test_a_tenth_of_film_weighs_more_the_more_coats_there_are() -> None:
    candy = candy_from_strip(candy_readings(0.0), candy_readings(2.0), 2.0)
    tenth = [candy.per_tenth(n).max() for n in (1.0, 2.0, 3.0)]
    assert tenth[0] < tenth[1] < tenth[2]
    assert np.all(candy.per_coat(1.0) > candy.per_tenth(1.0))


def test_what_is_no_candy_is_refused() -> None:
    with pytest.raises(ColourError, match="swapped"):
        candy_from_strip(candy_readings(2.0), candy_readings(0.0), 2.0)
    with pytest.raises(ColourError, match="at least one coat"):
        candy_from_strip(candy_readings(0.0), candy_readings(2.0), 0.0)


# Without a panel ------------------------------------------------------------------

GROUND = np.full(31, 0.85)


@pytest.fixture(scope="module")
def pearls() -> FilmTerms:
    return build_midcoat_films(count=120, lobes=4)


def car_of(pearls: FilmTerms, pearl: int, coats: int) -> AngleReadings:
    lab = angle_lab(np.asarray(pearls.over(GROUND[::2])))[pearl, coats]
    return angle_readings(zip(ANGLES, map(tuple, lab), strict=True))


@pytest.mark.parametrize(("pearl", "coats"), [(5, 1), (40, 3), (99, 5)])
def test_the_interval_holds_a_plausible_pearl_s_own_coats(
    pearls: FilmTerms, pearl: int, coats: int
) -> None:
    found = estimate_midcoats(car_of(pearls, pearl, coats), GROUND, pearls)
    assert found.low <= coats <= found.high
    assert found.low <= found.coats <= found.high
    assert sum(found.chance) == pytest.approx(1.0)
    assert found.difference == pytest.approx(0.0, abs=1e-6)
    assert len(found.step_more) == len(found.step_less) == 5


def test_no_mid_coats_are_the_bare_ground_under_clear(pearls: FilmTerms) -> None:
    bare = np.asarray(pearls.over(0.5))[0, 0, :, 0]
    expected = numbers("aspecular-geometry.csv")[:, -1]
    np.testing.assert_allclose(bare, expected, atol=1e-4)
