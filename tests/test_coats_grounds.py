"""Coloured grounds: tinted sealers and ground coats against plain greys."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.belief import count_over
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.evidence import believe
from shadecore.coats.grounds import TINTS, Ground, rank_grounds, tinted_sealer
from shadecore.coats.pick import pick
from shadecore.colour.appearance import colour_difference, lab_from_reflectance
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.library import recipe_library

SHELF = shadecore.demo_shelf()
PLAIN = {each.name for each in SHELF}
OCHRE = ("Ochre", shadecore.parse_topcoat("70 15 55"))
"""An opaque yellow of the shop's, as a ground for clear ones."""
CLEAR = ("80 5 100", "72 30 80", "45 60 35", "40 65 50")
"""Yellow, orange and reds of high chroma: made of pigments that scatter little."""
ALL = (*CLEAR, "91 0 9", "30 2 -38", "58 0 2", "9 0 -1")
SETTINGS = [shadecore.Settings(tolerance) for tolerance in (1.0, 2.0)]


def paints_of(colour: str) -> LikelyPaints:
    return likely_paints(shadecore.parse_topcoat(colour), recipe_library())


def ranked(
    colour: str, settings: shadecore.Settings, *grounds: tuple[str, shadecore.Topcoat]
) -> tuple[Ground, ...]:
    held = believe(paints_of(colour), settings)
    return rank_grounds(held, grounds, SHELF, settings, recipe_library())


def fewest(grounds: tuple[Ground, ...], *, plain: bool) -> int:
    return min(way.coats for way in grounds if (way.name in PLAIN) is plain)


# The ranking -------------------------------------------------------------------------


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", CLEAR)
def test_a_coloured_ground_is_no_worse_than_every_grey(
    colour: str, settings: shadecore.Settings
) -> None:
    """Common practice (no source): clear yellows and reds go over their own colour."""
    found = ranked(colour, settings, ("Same", shadecore.parse_topcoat(colour)), OCHRE)
    assert fewest(found, plain=False) <= fewest(found, plain=True)


def test_a_tinted_sealer_saves_coats_of_a_clear_colour() -> None:
    """Of the four clear colours some must gain, or the tint would do nothing."""
    saved = [
        fewest(found, plain=True) - fewest(found, plain=False)
        for found in (ranked(colour, SETTINGS[1]) for colour in CLEAR)
    ]
    assert max(saved) >= 1


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", ALL)
def test_ways_are_sorted_and_whole(colour: str, settings: shadecore.Settings) -> None:
    found = ranked(colour, settings, OCHRE)
    order = [(way.coats, way.ground_coats) for way in found]
    assert order == sorted(order)
    assert len({way.name for way in found}) == len(found)
    for way in found:
        assert way.under in SHELF
        assert way.coats == way.ground_coats + way.colour_coats
        assert 1 <= way.colour_coats <= settings.coat_cap
        assert way.colour_coats <= (way.colour_high or settings.coat_cap)
        assert way.paint_ml_per_m2 == pytest.approx(
            settings.film.sprayed_ml_per_m2(way.coats)
        )
        assert (way.ground_coats > 0) == (way.name == OCHRE[0])
        assert (way.name == way.under.name) == (way.name in PLAIN)


@pytest.mark.parametrize("colour", ALL)
def test_plain_undercoats_are_counted_as_ever(colour: str) -> None:
    answer = pick(shadecore.parse_topcoat(colour), SHELF, SETTINGS[1])
    expected = {
        outlook.undercoat.name: (outlook.coats, outlook.count.high)
        for outlook in answer.outlooks
        if outlook.coats is not None
    }
    found = {
        way.name: (way.colour_coats, way.colour_high)
        for way in ranked(colour, SETTINGS[1])
        if way.name in PLAIN
    }
    assert found == expected


@pytest.mark.parametrize("settings", SETTINGS)
def test_a_black_needs_no_ground(settings: shadecore.Settings) -> None:
    """Carbon black hides in a coat or two, whatever is under it."""
    found = ranked("9 0 -1", settings, OCHRE)
    assert found[0].name in PLAIN
    assert found[0].ground_coats == 0
    assert found[0].coats == fewest(found, plain=False)


def test_a_ground_coat_goes_over_its_own_best_undercoat() -> None:
    own = pick(OCHRE[1], SHELF, SETTINGS[1]).recommended
    ground = next(
        way for way in ranked("45 60 35", SETTINGS[1], OCHRE) if way.ground_coats
    )
    assert ground.name == OCHRE[0]
    assert ground.ground_coats == own.coats
    own_coats = {
        outlook.undercoat.name: outlook.coats
        for outlook in pick(OCHRE[1], SHELF, SETTINGS[1]).outlooks
    }
    assert own_coats[ground.under.name] == own.coats


def test_a_ground_of_a_measured_spectrum_is_that_spectrum() -> None:
    """Counted much as an undercoat of the same spectrum on the shelf would be.

    Not just as: over ground coats every likely paint is given the same full colour.
    """
    spectrum = np.linspace(0.05, 0.75, 31)
    lab = lab_from_reflectance(spectrum)
    colour = shadecore.Topcoat(
        (float(lab[0]), float(lab[1]), float(lab[2])),
        "measured",
        tuple(spectrum.tolist()),
    )
    ground = next(
        way
        for way in ranked("45 60 35", SETTINGS[1], ("Measured", colour))
        if way.name == "Measured"
    )
    shelf = (shadecore.undercoat("Stand-in", (50, 0, 0)),)
    same = shelf[0].__class__("Measured", colour.lab, tuple(spectrum.tolist()))
    held = believe(paints_of("45 60 35"), SETTINGS[1])
    counts = count_over(held, (same,), SETTINGS[1])
    assert abs(ground.colour_coats - counts.coats[0, 0]) <= 2


def test_a_ground_that_does_not_hide_itself_is_no_way() -> None:
    yellow = ("Yellow", shadecore.parse_topcoat("80 5 100"))
    short = shadecore.Settings(0.5, coat_cap=2)
    assert all(way.name != "Yellow" for way in ranked("9 0 -1", short, yellow))


def test_ways_that_do_not_hide_are_left_out() -> None:
    short = shadecore.Settings(0.5, coat_cap=1)
    assert ranked("80 5 100", short) == ()


# Tinted sealers ----------------------------------------------------------------------


@pytest.mark.parametrize("sealer", SHELF, ids=lambda each: each.name)
def test_no_tint_leaves_the_sealer_as_it_was(sealer: shadecore.Undercoat) -> None:
    """Its constants come from a two-flux film, so such a film gives it back."""
    none = tinted_sealer(sealer, paints_of("45 60 35"), 0.0, TwoFluxFilm())
    np.testing.assert_allclose(none.reflectance, sealer.reflectance, atol=1e-4)


@pytest.mark.parametrize("colour", CLEAR)
def test_all_tint_is_the_paint(colour: str) -> None:
    """The middle of its likely paints, which lie within a few CIEDE2000 of it."""
    paints, model = paints_of(colour), recipe_library().model
    pure = tinted_sealer(SHELF[0], paints, 1.0, model)
    full = lab_from_reflectance(
        paints.weight @ model.masstone(paints.absorption, paints.scattering)
    )
    assert float(colour_difference(np.array(pure.lab), full)) < 3.0


@pytest.mark.parametrize("colour", ALL)
@pytest.mark.parametrize("sealer", SHELF, ids=lambda each: each.name)
def test_a_tinted_sealer_lies_between_sealer_and_paint(
    sealer: shadecore.Undercoat, colour: str
) -> None:
    """K and S add by concentration (Duncan 1940), so K/S of a mix lies between.

    And with it the masstone, at each wavelength.
    """
    paints, model = paints_of(colour), recipe_library().model
    none, *some, pure = (
        np.array(tinted_sealer(sealer, paints, part, model).reflectance)
        for part in (0.0, *TINTS, 1.0)
    )
    low, high = np.minimum(none, pure), np.maximum(none, pure)
    distance = np.abs(np.stack([none, *some, pure]) - pure)
    assert np.all(np.diff(distance, axis=0) <= 1e-5)
    for each in some:
        assert np.all((each >= low - 1e-5) & (each <= high + 1e-5))


def test_tint_by_hand() -> None:
    """A white sealer without absorption scatters 0.2 / um, as much as its pigment.

    Half of a paint of K = 0.1 and S = 0.1: K/S = 0.05 / 0.15, whose masstone by
    Kubelka and Munk (1931) is 1 + K/S - sqrt((K/S)^2 + 2 K/S).
    """
    white = shadecore.Undercoat("Perfect", (100.0, 0.0, 0.0), (1.0,) * 31)
    flat = np.full((1, 31), 0.1, dtype=np.float32)
    model = TwoFluxFilm()
    mixed = tinted_sealer(white, LikelyPaints(flat, flat, np.ones(1), 0.0), 0.5, model)
    ratio = 0.05 / 0.15
    inside = 1.0 + ratio - np.sqrt(ratio**2 + 2.0 * ratio)
    expected = float(model.surface.measured(inside))
    np.testing.assert_allclose(mixed.reflectance, expected, rtol=1e-5)
    assert "Perfect" in mixed.name
    assert "50 %" in mixed.name
