"""Sand-throughs: when areas they look alike, and what sealing first does."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.evidence import believe
from shadecore.coats.loading import Loading
from shadecore.coats.pick import pick
from shadecore.coats.sand_throughs import SandThroughs, compare_sand_throughs
from shadecore.colour.appearance import colour_difference
from shadecore.errors import ShelfError
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import Shelf, inside_film

SETTINGS = [shadecore.Settings(tolerance) for tolerance in (1.0, 2.0)]
COLOURS = ("80 5 100", "45 60 35", "58 0 2", "91 0 9", "30 2 -38", "9 0 -1")
"""A clear yellow and red, a grey, a cream, a blue and a black."""


def grey(lightness: float, name: str = "") -> shadecore.Undercoat:
    return shadecore.undercoat(name or f"Grey {lightness:g}", (lightness, 0, 0))


def paints_of(colour: str) -> LikelyPaints:
    return likely_paints(shadecore.parse_topcoat(colour), recipe_library())


def compared(
    colour: str,
    areas: Shelf,
    settings: shadecore.Settings,
    sealer: shadecore.Undercoat | None = None,
) -> SandThroughs:
    held = believe(paints_of(colour), settings)
    return compare_sand_throughs(held, areas, sealer or grey(80.0), settings)


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_the_same_undercoat_twice_is_alike_from_the_first_coat(
    colour: str, settings: shadecore.Settings
) -> None:
    found = compared(colour, (grey(60.0), grey(60.0, "Same")), settings)
    assert (found.count.coats, found.count.low, found.count.high) == (1, 1, 1)
    assert found.difference == pytest.approx([0.0] * settings.coat_cap, abs=1e-3)
    assert found.count.chance == pytest.approx([1.0] * settings.coat_cap)


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_areas_further_apart_take_more_coats(
    colour: str, settings: shadecore.Settings
) -> None:
    """Greys of growing distance, all of them under the lightest: on the average."""
    beyond = settings.coat_cap + 1
    coats, first = [], []
    for lightness in (69.0, 60.0, 45.0, 25.0):
        found = compared(colour, (grey(70.0), grey(lightness)), settings)
        coats.append(beyond if found.count.coats is None else found.count.coats)
        first.append(found.count.chance[0])
    assert coats == sorted(coats)
    assert np.all(np.diff(first) <= 1e-6)
    assert first[-1] < first[0]


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_alike_areas_stay_alike(colour: str, settings: shadecore.Settings) -> None:
    found = compared(colour, (grey(75.0), grey(56.0), grey(41.0)), settings)
    assert len(found.difference) == len(found.count.chance) == settings.coat_cap
    assert np.all(np.diff(found.count.chance) >= -1e-9)
    assert np.all(np.diff(found.difference) <= 1e-3)
    coats = settings.coat_cap + 1 if found.count.coats is None else found.count.coats
    # The film shown is alike from the coat that is counted on, and not before.
    assert np.all(np.array(found.difference[coats - 1 :]) <= settings.tolerance + 1e-6)
    assert np.all(np.array(found.difference[: coats - 1]) > settings.tolerance)
    assert np.all(np.array(found.count.chance[coats - 1 :]) >= 0.5 - 1e-6)
    assert np.all(np.array(found.count.chance[: coats - 1]) < 0.5)
    low, high = (
        settings.coat_cap + 1 if each is None else each
        for each in (found.count.low, found.count.high)
    )
    assert low <= coats <= high


def test_the_difference_is_that_of_the_two_furthest_apart() -> None:
    """One paint alone, its film over each area compared pair by pair."""
    everything = paints_of("45 60 35")
    one = LikelyPaints(
        everything.absorption[:1], everything.scattering[:1], np.ones(1), 0.0
    )
    areas = (grey(80.0), grey(66.0), grey(56.0))
    known = believe(one, SETTINGS[1], loading=Loading(0.0, 0.01))
    found = compare_sand_throughs(known, areas, grey(80.0), SETTINGS[1])
    lab = one.lab_over(inside_film(areas), SETTINGS[1].films_um)[0, :, :, 0]
    pairs = [colour_difference(lab[i], lab[j]) for i, j in ((0, 1), (0, 2), (1, 2))]
    expected = np.max(pairs, axis=0)
    np.testing.assert_allclose(found.difference, expected, rtol=0.02)
    # Alike from the coat after the last that still shows.
    shows = np.flatnonzero(expected > 2.0)
    assert found.count.coats == (shows[-1] + 2 if shows.size else 1)


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_an_area_between_two_others_changes_little(
    colour: str, settings: shadecore.Settings
) -> None:
    """The largest difference is that of the outer two, or nearly."""
    outer = compared(colour, (grey(80.0), grey(40.0)), settings)
    with_middle = compared(colour, (grey(80.0), grey(60.0), grey(40.0)), settings)
    assert np.all(np.array(with_middle.difference) >= np.array(outer.difference) - 1e-6)
    np.testing.assert_allclose(
        with_middle.difference, outer.difference, rtol=0.1, atol=0.05
    )


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_the_order_of_areas_does_not_matter(
    colour: str, settings: shadecore.Settings
) -> None:
    areas = (grey(80.0), grey(60.0), grey(40.0))
    there, back = (compared(colour, each, settings) for each in (areas, areas[::-1]))
    assert there.difference == pytest.approx(back.difference, abs=1e-4)
    assert there.count.coats == back.count.coats


# Sealing first -----------------------------------------------------------------------


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("colour", COLOURS)
def test_the_best_sealer_is_never_worse_than_the_worst_area(
    colour: str, settings: shadecore.Settings
) -> None:
    shelf = shadecore.demo_shelf()
    answer = pick(shadecore.parse_topcoat(colour), shelf, settings)
    found = compared(colour, shelf[1:4], settings, answer.recommended.undercoat)
    assert found.sealer == answer.recommended.undercoat
    assert found.sealed_coats == answer.recommended.coats
    beyond = settings.coat_cap + 1
    worst = max(
        beyond if outlook.coats is None else outlook.coats
        for outlook in answer.outlooks
        if outlook.undercoat in found.areas
    )
    assert (found.sealed_coats or beyond) <= worst


def test_what_sealing_saves() -> None:
    """A red over light and dark: coats until alike, less those over the sealer."""
    areas = (grey(80.0), grey(50.0))
    found = compared("45 60 35", areas, SETTINGS[1], grey(90.0))
    assert found.count.coats is not None
    assert found.sealed_coats is not None
    assert found.sealing_saves == found.count.coats - found.sealed_coats > 0


def test_what_cannot_be_said_is_not() -> None:
    short = shadecore.Settings(1.0, coat_cap=1)
    found = compared("80 5 100", (grey(90.0), grey(25.0)), short, grey(25.0))
    assert found.count.coats is None
    assert found.sealed_coats is None
    assert found.sealing_saves is None


def test_a_sealer_may_be_one_of_the_areas() -> None:
    areas = (grey(80.0), grey(40.0))
    found = compared("58 0 2", areas, SETTINGS[0], areas[0])
    assert found.areas == areas
    assert found.sealer == areas[0]


# Refusals ---------------------------------------------------------------------------


@pytest.mark.parametrize("areas", [(), (grey(50.0),)])
def test_one_area_has_nothing_to_be_compared_with(areas: Shelf) -> None:
    with pytest.raises(ShelfError, match="at least two areas"):
        compared("58 0 2", areas, SETTINGS[0])


def test_areas_with_the_same_name() -> None:
    with pytest.raises(ShelfError, match="called 'Old'"):
        compared("58 0 2", (grey(50.0, "Old"), grey(60.0, "Old")), SETTINGS[0])
