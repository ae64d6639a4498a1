"""What must hold of any answer, over colours drawn by hypothesis."""

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import shadecore
from shadecore.coats import pick_many as pick_many_module
from shadecore.coats.answer import Outlook, Picks
from shadecore.coats.flags import raise_flags
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.thickness import hidden_from
from shadecore.colour.appearance import colour_difference
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import Shelf

SHELF = shadecore.demo_shelf()
SOME = settings(derandomize=True, deadline=None, max_examples=25)
TOLERANCES = st.sampled_from([1.0, 2.0])
Lab = tuple[float, float, float]


@st.composite
def colours(draw: st.DrawFn, least: int = 1) -> np.ndarray:
    """Colours as paints have them: full colours of recipes, slightly misread."""
    full = recipe_library().lab
    places = draw(st.lists(st.integers(0, len(full) - 1), min_size=least, max_size=12))
    rng = np.random.default_rng(draw(st.integers(0, 1000)))
    lab = full[places] + rng.normal(0.0, 1.5, (len(places), 3))
    lab[:, 0] = np.clip(lab[:, 0], 1.0, 99.0)
    return lab


def topcoat(lab: np.ndarray) -> shadecore.Topcoat:
    return shadecore.Topcoat((float(lab[0]), float(lab[1]), float(lab[2])), "drawn")


def settings_of(
    tolerance: float, film_um: float = 10.0, cap: int = 12
) -> shadecore.Settings:
    return shadecore.Settings(tolerance, shadecore.CoatFilm(film_um), cap)


def best(picks: Picks) -> np.ndarray:
    return np.asarray(picks.counts.coats.min(axis=1))


@given(colours(), st.floats(0.5, 4.0), st.floats(0.01, 3.0))
@SOME
def test_a_looser_tolerance_never_adds_coats(
    lab: np.ndarray, tolerance: float, looser_by: float
) -> None:
    strict = pick_many(lab, SHELF, settings_of(tolerance)).counts
    loose = pick_many(lab, SHELF, settings_of(tolerance + looser_by)).counts
    assert np.all(loose.chance >= strict.chance - 1e-3)
    for name in ("coats", "average"):
        assert np.all(getattr(loose, name) <= getattr(strict, name) + 1e-2)


@given(colours(), TOLERANCES, st.floats(4.0, 20.0), st.floats(1.0, 2.5))
@SOME
def test_a_thicker_coat_never_adds_coats(
    lab: np.ndarray, tolerance: float, film_um: float, thicker: float
) -> None:
    thin = pick_many(lab, SHELF, settings_of(tolerance, film_um))
    thick = pick_many(lab, SHELF, settings_of(tolerance, film_um * thicker))
    assert np.all(thick.counts.coats <= thin.counts.coats)
    assert np.all(thick.counts.chance >= thin.counts.chance - 1e-6)


@given(colours(), TOLERANCES, st.floats(2.0, 25.0), st.integers(1, 15))
@SOME
def test_answers_are_whole(
    lab: np.ndarray, tolerance: float, film_um: float, cap: int
) -> None:
    picks = pick_many(lab, SHELF, settings_of(tolerance, film_um, cap))
    found = picks.counts
    assert found.chance.shape == (len(lab), len(SHELF), cap)
    assert np.all(found.low >= 1)
    assert np.all(found.low <= found.coats)
    assert np.all(found.coats <= found.high)
    assert np.all(found.high <= cap + 1)
    assert np.all((found.average >= 1.0 - 1e-9) & (found.average <= cap + 1))
    assert np.all((found.chance >= 0.0) & (found.chance <= 1.0 + 1e-9))
    assert np.all(np.diff(found.chance, axis=-1) >= 0.0)
    assert np.all(np.isfinite(found.ln_film))
    assert np.all((picks.poor_chance >= 0.0) & (picks.poor_chance <= 1.0))
    assert np.all(picks.contrast_low <= picks.contrast_ratio)
    assert np.all(picks.contrast_ratio <= picks.contrast_high)
    assert np.all(np.sort(picks.order, axis=1) == np.arange(len(SHELF)))
    assert np.all((picks.contrast_ratio > 0.0) & (picks.contrast_ratio <= 1.0 + 1e-6))
    assert np.all(picks.nearest >= 0.0)


@given(colours(), TOLERANCES)
@SOME
def test_the_pick_is_never_worse_than_the_closest_in_lightness(
    lab: np.ndarray, tolerance: float
) -> None:
    picks = pick_many(lab, SHELF, settings_of(tolerance))
    row = np.arange(len(lab))
    picked = picks.counts.coats[row, picks.recommended]
    assert np.all(picked <= picks.counts.coats[row, picks.closest])
    assert np.all(picked == best(picks))
    lightness = np.array([each.lightness for each in SHELF])
    gap = np.abs(lab[:, :1] - lightness)
    np.testing.assert_allclose(gap[row, picks.closest], gap.min(axis=1), atol=0.1)


@given(colours(least=2), st.randoms(use_true_random=False))
@SOME
def test_turning_the_colours_round_turns_the_answers_round(
    lab: np.ndarray, random: Random
) -> None:
    turn = np.array(random.sample(range(len(lab)), len(lab)))
    there = pick_many(lab, SHELF)
    turned = pick_many(lab[turn], SHELF)
    assert np.array_equal(turned.counts.coats, there.counts.coats[turn])
    assert np.array_equal(turned.counts.low, there.counts.low[turn])
    assert np.array_equal(turned.counts.high, there.counts.high[turn])
    assert np.array_equal(turned.order, there.order[turn])
    assert np.array_equal(turned.closest, there.closest[turn])
    np.testing.assert_allclose(turned.contrast_ratio, there.contrast_ratio[turn])


@given(colours(), st.permutations(range(len(SHELF))))
@SOME
def test_where_an_undercoat_stands_on_the_shelf_does_not_matter(
    lab: np.ndarray, turn: list[int]
) -> None:
    there = pick_many(lab, SHELF).counts
    turned = pick_many(lab, tuple(SHELF[i] for i in turn)).counts
    assert np.array_equal(turned.coats, there.coats[:, turn])
    assert np.array_equal(turned.high, there.high[:, turn])


@given(colours(), st.floats(1.0, 99.0), TOLERANCES)
@SOME
def test_one_more_undercoat_never_makes_the_best_count_worse(
    lab: np.ndarray, lightness: float, tolerance: float
) -> None:
    more = (*SHELF, shadecore.undercoat("One more", (lightness, 0.0, 0.0)))
    before = pick_many(lab, SHELF, settings_of(tolerance))
    after = pick_many(lab, more, settings_of(tolerance))
    assert np.all(best(after) <= best(before))
    assert np.array_equal(after.counts.coats[:, : len(SHELF)], before.counts.coats)


@given(colours(), TOLERANCES, st.floats(5.0, 20.0))
@settings(SOME, max_examples=5)
def test_one_answer_agrees_with_many(
    lab: np.ndarray, tolerance: float, film_um: float
) -> None:
    same = settings_of(tolerance, film_um)
    picks = pick_many(lab, SHELF, same)
    for place, each in enumerate(lab):
        answer = pick(topcoat(each), SHELF, same)
        names = [SHELF[i].name for i in picks.order[place]]
        assert [outlook.undercoat.name for outlook in answer.outlooks] == names
        assert answer.recommended is answer.outlooks[0]
        assert answer.closest.undercoat == SHELF[picks.closest[place]]
        assert answer.nearest_recipe == pytest.approx(picks.nearest[place])
        assert answer.hiding.contrast_ratio == pytest.approx(
            picks.contrast_ratio[place], abs=1e-3
        )
        assert answer.poor_chance == pytest.approx(picks.poor_chance[place], abs=1e-5)
        for outlook in answer.outlooks:
            _agrees(outlook, picks, place, lab, same)


def _agrees(
    outlook: Outlook,
    picks: Picks,
    place: int,
    lab: np.ndarray,
    same: shadecore.Settings,
) -> None:
    where = SHELF.index(outlook.undercoat)
    found = picks.counts
    beyond = same.coat_cap + 1
    assert [
        beyond if each is None else each
        for each in (outlook.coats, outlook.count.low, outlook.count.high)
    ] == [each[place, where] for each in (found.coats, found.low, found.high)]
    assert outlook.count.chance == pytest.approx(
        found.chance[place, where].tolist(), abs=1e-5
    )
    flags = raise_flags(
        found, np.full(len(lab), where), lab[:, 0], picks.nearest, same
    )[place]
    assert outlook.flags == flags


@given(colours(), st.floats(0.6, 2.0), st.integers(1, 3))
@SOME
def test_one_answer_orders_what_never_hides_as_many_do(
    lab: np.ndarray, film_um: float, cap: int
) -> None:
    thin = settings_of(0.5, film_um, cap)
    picks = pick_many(lab, SHELF, thin)
    for place, each in enumerate(lab):
        answer = pick(topcoat(each), SHELF, thin)
        names = [SHELF[i].name for i in picks.order[place]]
        assert [outlook.undercoat.name for outlook in answer.outlooks] == names


def test_blocks_of_colours_and_recipes_do_not_show(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rng = np.random.default_rng(8)
    lab = recipe_library().lab[rng.integers(0, 60_000, 11)]
    whole = pick_many(lab, SHELF)
    monkeypatch.setattr(pick_many_module, "_COLOURS_AT_ONCE", 3)
    monkeypatch.setattr(pick_many_module, "_RECIPES_AT_ONCE", 50)
    shares: list[float] = []
    parts = pick_many(lab, SHELF, progress=shares.append)
    assert np.array_equal(parts.counts.coats, whole.counts.coats)
    assert np.array_equal(parts.order, whole.order)
    np.testing.assert_allclose(parts.contrast_ratio, whole.contrast_ratio)
    assert len(shares) > 2
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


@given(colours())
@SOME
def test_a_mix_is_a_line_of_its_own_where_it_saves_a_coat(lab: np.ndarray) -> None:
    blends = shadecore.shelf_blends(SHELF)
    for each in lab[:4]:
        plain = pick(topcoat(each), SHELF)
        answer = pick(topcoat(each), SHELF, blends=blends)
        assert [one.undercoat for one in answer.outlooks] == [
            one.undercoat for one in plain.outlooks
        ]
        assert plain.mix is None
        if answer.mix is not None:
            assert answer.mix.undercoat in blends
            assert answer.mix.coats is not None
            assert answer.mix.coats < (answer.recommended.coats or 13)


def test_a_mix_does_save_a_coat_somewhere() -> None:
    """So that the rule above is not met by never mixing anything."""
    two = (SHELF[0], SHELF[-1])
    blends = shadecore.shelf_blends(two)
    mixes = [
        pick(shadecore.parse_topcoat(text), two, blends=blends).mix
        for text in ("60 0 2", "50 -40 10")
    ]
    assert any(each is not None for each in mixes)


@given(colours(), TOLERANCES)
@SOME
def test_an_answer_holds_together(lab: np.ndarray, tolerance: float) -> None:
    same = settings_of(tolerance)
    answer = pick(topcoat(lab[0]), SHELF, same)
    for outlook in answer.outlooks:
        assert outlook.count.cap == len(outlook.difference) == len(outlook.lab) == 12
        assert np.all(np.isfinite(outlook.lab))
        assert np.all(np.array(outlook.difference) >= 0.0)
        # The count, the colours shown and the differences under them say the same.
        shown = colour_difference(outlook.lab, lab[0])
        np.testing.assert_allclose(outlook.difference, shown, atol=2e-3)
        assert hidden_from(shown, tolerance) == (outlook.coats or 13)
        assert outlook.lightness_gap == pytest.approx(
            abs(outlook.undercoat.lightness - lab[0, 0])
        )
        if outlook.coats is None:
            assert outlook.paint_ml_per_m2 is None
        else:
            # um of film over share of solids that stays = ml per m2
            sprayed = outlook.coats * 10.0 / 0.13 / 0.65
            assert outlook.paint_ml_per_m2 == pytest.approx(sprayed)
    assert answer.flags == answer.recommended.flags
    assert answer.hiding.low <= answer.hiding.contrast_ratio <= answer.hiding.high
    through = np.array(answer.bands.see_through)
    assert through.shape == (12, 31)
    assert np.all((through >= -1e-4) & (through <= 1.0))
    assert np.all(np.diff(through, axis=0) <= 1e-4)


def test_enough_coats_end_on_the_topcoat_colour() -> None:
    thick = shadecore.Settings(film=shadecore.CoatFilm(200.0))
    for text in ("45 60 35", "72 30 80", "91 0 9", "30 2 -38", "9 0 -1"):
        answer = pick(shadecore.parse_topcoat(text), SHELF, thick)
        for outlook in answer.outlooks:
            last = np.array(outlook.lab[-1])
            np.testing.assert_allclose(last, answer.topcoat.lab, atol=0.5)


def test_hopeless_still_names_a_best() -> None:
    thin = settings_of(1.0, film_um=1.0, cap=2)
    answer = pick(shadecore.parse_topcoat("45 60 35"), SHELF, thin)
    assert all(outlook.coats is None for outlook in answer.outlooks)
    assert all(outlook.paint_ml_per_m2 is None for outlook in answer.outlooks)
    average = [outlook.coats_average for outlook in answer.outlooks]
    assert average[0] == min(average)
    assert "not-within-cap" in [flag.code for flag in answer.flags]


@pytest.mark.parametrize("shelf", [(), (SHELF[0], SHELF[0])])
def test_a_shelf_that_cannot_be_picked_from_is_refused(shelf: Shelf) -> None:
    with pytest.raises(shadecore.ShadecoreError):
        pick(shadecore.parse_topcoat("45 60 35"), shelf)
    with pytest.raises(shadecore.ShadecoreError):
        pick_many([[45.0, 60.0, 35.0]], shelf)


def test_one_undercoat_is_both_picks() -> None:
    answer = pick(shadecore.parse_topcoat("45 60 35"), SHELF[-1:])
    assert answer.recommended is answer.closest
    assert len(answer.outlooks) == 1
