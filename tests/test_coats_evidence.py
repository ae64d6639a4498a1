"""Records: what they must and must not change."""

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import shadecore
from shadecore.coats.belief import count_over, first_belief
from shadecore.coats.count import Counts
from shadecore.coats.estimate import likely_paints
from shadecore.coats.evidence import BLUR_COATS, after, agreement, resolved
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.rests_on import contradictions
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.errors import SettingError
from shadecore.recipes.library import recipe_library

SHELF = shadecore.demo_shelf()
WHITE, BLACK = SHELF[0], SHELF[-1]
SETTINGS = shadecore.Settings()
RED = shadecore.parse_topcoat("45 60 35")
SOME = settings(derandomize=True, deadline=None, max_examples=15)


def chances(*seen: Seen, colour: shadecore.Topcoat = RED) -> np.ndarray:
    answer = pick(colour, SHELF, SETTINGS, seen=seen)
    by_name = {each.undercoat.name: each.count.chance for each in answer.outlooks}
    return np.array([by_name[each.name] for each in SHELF])


RECORDS = st.builds(
    lambda source, low, more, hid, place, looked: Seen(
        source, low, low + more, hid, SHELF[place], looked=looked
    ),
    st.sampled_from(["data-sheet", "job", "check"]),
    st.integers(1, 8),
    st.integers(0, 4),
    st.booleans(),
    st.integers(0, len(SHELF) - 1),
    st.booleans(),
)


@given(st.lists(RECORDS, min_size=2, max_size=4), st.randoms(use_true_random=False))
@SOME
def test_the_order_of_records_does_not_matter(seen: list[Seen], random: Random) -> None:
    turned = random.sample(seen, len(seen))
    np.testing.assert_allclose(chances(*seen), chances(*turned), atol=1e-6)


@pytest.mark.parametrize("source", ["data-sheet", "job", "check"])
def test_a_record_that_spans_all_counts_changes_nothing(source: str) -> None:
    spans = Seen(source, 1, None, undercoat=WHITE)  # type: ignore[arg-type]
    np.testing.assert_allclose(chances(spans), chances(), atol=1e-5)


def test_a_record_pulls_the_count_towards_it() -> None:
    counts = []
    for coats in (3, 5, 7, 10):
        answer = pick(
            RED, SHELF, SETTINGS, seen=(Seen("job", coats, coats, undercoat=BLACK),)
        )
        black = next(o for o in answer.outlooks if o.undercoat == BLACK)
        counts.append(black.coats_average)
    assert counts == sorted(counts)
    assert counts[0] < 5.5
    assert counts[-1] > 7.5


def test_a_painter_who_looked_at_the_end_proves_only_the_upper_end() -> None:
    plain = chances()[0]
    looked = chances(Seen("job", 5, 5, undercoat=WHITE))[0]
    end = chances(Seen("job", 5, 5, undercoat=WHITE, looked=False))[0]
    # Looked: 5 and not 4. Not looked: 5 or fewer, so it may still be 1.
    assert looked[2] < plain[2]
    assert end[2] >= plain[2] - 1e-6
    assert end[5] > plain[5]


def test_coats_that_did_not_hide_are_ruled_out() -> None:
    plain, not_hid = (
        chances()[0],
        chances(Seen("job", 1, 4, hid=False, undercoat=WHITE))[0],
    )
    assert not_hid[3] < 0.5 * plain[3]


def test_up_to_four_is_one_to_four() -> None:
    up_to = chances(Seen("job", 1, 4, undercoat=WHITE))
    end = chances(Seen("job", 4, 4, undercoat=WHITE, looked=False))
    np.testing.assert_allclose(up_to, end, atol=1e-9)


def test_sources_differ_in_what_they_are_worth() -> None:
    """A sheet speaks of another gun: the same words narrow less than a job's."""

    def entropy(source: str) -> float:
        record = Seen(source, 4, 4, undercoat=WHITE)  # type: ignore[arg-type]
        return _entropy(chances(record)[0])

    assert entropy("job") < entropy("data-sheet") < _entropy(chances()[0])


def _entropy(chance: np.ndarray) -> float:
    part = np.diff(np.concatenate([[0.0], chance, [1.0]]))
    part = part[part > 0.0]
    return float(-(part * np.log(part)).sum())


def test_a_record_lowers_the_entropy_on_average() -> None:
    """Over paints drawn from what is held, each writing down its own count."""
    belief = first_belief(likely_paints(RED, recipe_library()), default_loading())
    before = _entropy(_of(count_over(belief, (WHITE,), SETTINGS)))
    chance = _of(count_over(belief, (WHITE,), SETTINGS))
    share = np.diff(np.concatenate([[0.0], chance]))
    entropies = []
    for coats in range(1, 13):
        record = Seen("job", coats, coats, undercoat=WHITE)
        held = after(belief, (record,), SETTINGS)
        entropies.append(_entropy(_of(count_over(held, (WHITE,), SETTINGS))))
    assert float(share @ entropies) / share.sum() < before - 0.2


def _of(counts: Counts) -> np.ndarray:
    return counts.chance[0, 0]


def test_a_loading_and_a_film_cannot_be_told_apart_by_a_record() -> None:
    """The record's own film counts: 4 coats of 5 um say what 2 of 10 um say."""
    thin = Seen("job", 1, 4, undercoat=WHITE, film_um=5.0)
    belief = first_belief(likely_paints(RED, recipe_library()), default_loading())
    held = belief.spread_out()
    one = agreement(thin, held, SETTINGS)
    other = agreement(Seen("job", 1, 2, undercoat=WHITE), held, SETTINGS)
    # Twice the coats at half the blur: only the blur differs.
    ln_middle = [_crossing(each, held.ln_loading) for each in (one, other)]
    assert ln_middle[0] == pytest.approx(ln_middle[1], abs=0.12)


def _crossing(agrees: np.ndarray, ln_loading: np.ndarray) -> float:
    """Loading from which the likeliest paint agrees more than not."""
    paint = int(np.argmax(np.ptp(agrees, axis=1)))
    return float(np.interp(0.5, agrees[paint], ln_loading))


def test_a_check_rests_on_black_and_white_alone() -> None:
    one = chances(Seen("check", 2, 2, undercoat=WHITE))
    other = chances(Seen("check", 2, 2, undercoat=BLACK))
    np.testing.assert_array_equal(one, other)
    assert not np.allclose(one, chances(), atol=0.02)


def test_missing_film_and_tolerance_are_the_questions() -> None:
    asked = shadecore.Settings(1.5, shadecore.CoatFilm(12.0))
    job, check = resolved((Seen("job", 2, 3), Seen("check", 2, 3)), asked)
    assert (job.film_um, job.tolerance) == (12.0, 1.5)
    # What the eye just notices edge to edge, common practice, no source.
    assert (check.film_um, check.tolerance) == (12.0, 1.0)
    known = Seen("job", 2, 3, film_um=9.0, tolerance=2.5)
    assert resolved((known,), asked) == (known,)


def test_the_record_that_stands_alone_is_named() -> None:
    belief = first_belief(likely_paints(RED, recipe_library()), default_loading())
    seen = (
        Seen("job", 2, 2, undercoat=WHITE),
        Seen("job", 3, 3, undercoat=WHITE),
        Seen("job", 12, 12, undercoat=WHITE),
    )
    found = contradictions(belief.spread_out(), seen, SETTINGS)
    assert found.tolist() == [False, False, True]
    assert not contradictions(belief.spread_out(), seen[:2], SETTINGS).any()


def test_an_answer_says_what_it_rests_on() -> None:
    seen = (Seen("job", 4, 4, undercoat=WHITE), Seen("data-sheet", 3, 5))
    answer = pick(RED, SHELF, SETTINGS, seen=seen)
    plain = pick(RED, SHELF, SETTINGS)
    assert plain.rests_on == ()
    assert plain.guessed
    assert not answer.guessed
    assert [(each.source, each.coats_low) for each in answer.seen] == [
        ("job", 4),
        ("data-sheet", 3),
    ]
    best = next(
        each
        for each in plain.outlooks
        if each.undercoat == answer.recommended.undercoat
    )
    assert answer.without_records == best.count
    for each in answer.rests_on:
        assert (each.low_before, each.high_before) == (best.count.low, best.count.high)
        assert not each.contradicts
    narrowed = answer.rests_on[0]
    assert (narrowed.high_after or 13) - (narrowed.low_after or 13) < (
        best.count.high or 13
    ) - (best.count.low or 13)


def test_a_chart_takes_records_by_row() -> None:
    lab = [RED.lab, (50.0, -30.0, 10.0)]
    record = Seen("job", 5, 5, undercoat=WHITE)
    plain = pick_many(lab, SHELF)
    told = pick_many(lab, SHELF, seen={0: (record,)})
    alone = pick(RED, SHELF, seen=(record,))
    assert np.array_equal(told.counts.chance[1], plain.counts.chance[1])
    found = {
        each.undercoat.name: np.array(each.count.chance) for each in alone.outlooks
    }
    for place, each in enumerate(SHELF):
        np.testing.assert_allclose(
            told.counts.chance[0, place], found[each.name], atol=1e-6
        )
    assert told.poor_chance[0] == pytest.approx(alone.poor_chance)
    assert told.contrast_ratio[0] == pytest.approx(alone.hiding.contrast_ratio)


def test_spreading_the_loading_out_changes_no_chance() -> None:
    belief = first_belief(likely_paints(RED, recipe_library()), Loading(0.4, 0.6))
    one = count_over(belief, SHELF, SETTINGS)
    other = count_over(belief.spread_out(), SHELF, SETTINGS)
    np.testing.assert_allclose(one.chance, other.chance, atol=2e-5)


def test_each_source_blurs_by_about_a_coat() -> None:
    assert all(0.5 <= blur <= 1.5 for blur in BLUR_COATS.values())


@pytest.mark.parametrize(
    "values",
    [
        {"source": "rumour"},
        {"coats_low": 0},
        {"coats_low": 5, "coats_high": 4},
        {"coats_high": 51},
        {"hid": False, "coats_high": None},
        {"film_um": 0.0},
        {"tolerance": 0.0},
    ],
)
def test_what_cannot_be_a_record_is_refused(values: dict[str, object]) -> None:
    fine: dict[str, object] = {"source": "job", "coats_low": 1, "coats_high": 4}
    with pytest.raises(SettingError):
        Seen(**{**fine, **values})  # type: ignore[arg-type]


def test_of_more_records_than_are_worked_out_the_newest_count() -> None:
    old, new = (Seen("job", 1, 1),) * 5, (Seen("job", 3, 3),) * 200
    many = resolved((*old, *new), Settings())
    assert many == resolved(new, Settings())
    assert len(many) == 200
