"""What the book learns: against sums and samples of the same model done another way."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats
from validation.shops import PAINTERS, interval, middle, simulate

from shadecore.book.experience import observation
from shadecore.book.learning import (
    BATCH_SHARE,
    COLOUR_SHARE,
    GUN_SHARE,
    LINE_SHARE,
    SHOP_SHARE,
    WRONG,
    Observation,
    Usual,
    learn,
)
from shadecore.book.records import BookSeen
from shadecore.book.worked_out import Hides
from shadecore.coats.evidence import BLUR_COATS
from shadecore.errors import SettingError

USUAL = Usual(0.3, 0.5)
THREE = Observation("red", "line", "gun", 3, 3, math.log(40.0), 0.3, 10.0)


def seen(count: int, **other: object) -> list[Observation]:
    """Records of as many colours."""
    return [replace(THREE, colour=f"colour {i}", **other) for i in range(count)]


def test_without_records_all_is_as_usual() -> None:
    for line in ("", "line"):
        learned = learn([], USUAL).loading(line, "gun", "batch")
        assert (learned.mean, learned.jobs) == (USUAL.mean, 0)
        assert learned.spread == pytest.approx(USUAL.spread)
    shares = (SHOP_SHARE, LINE_SHARE, BATCH_SHARE, GUN_SHARE, COLOUR_SHARE)
    assert math.fsum(shares) == pytest.approx(1.0)


@pytest.mark.parametrize(
    "record",
    [
        THREE,
        replace(THREE, coats_low=2, coats_high=5, source="data-sheet"),
        replace(THREE, looked=False, coats_low=1, coats_high=2),
        replace(THREE, hid=False, coats_low=1, coats_high=2),
    ],
)
def test_one_record_agrees_with_an_integral(record: Observation) -> None:
    """The model of one record, integrated by scipy."""
    shared = (1.0 - COLOUR_SHARE) * USUAL.spread**2
    own = COLOUR_SHARE * USUAL.spread**2 + record.ln_thickness_spread**2
    expected = record.ln_thickness_mean - math.log(record.film_um) - USUAL.mean
    wrongly = WRONG[record.source]
    looked = record.hid and record.looked

    def chance(needed: float) -> float:
        coats = math.exp(needed)
        error = math.hypot(BLUR_COATS[record.source], 0.15 * coats)
        by_high = stats.norm.cdf((record.coats_high - coats) / error)
        if not record.hid:
            return float((1 - wrongly) * (1.0 - by_high) + wrongly * 0.5)
        if not looked:
            return float((1 - wrongly) * by_high + wrongly * 0.5)
        before = stats.norm.cdf((record.coats_low - 1 - coats) / error)
        before = before if record.coats_low > 1 else 0.0
        width = record.coats_high - record.coats_low + 1
        return float((1 - wrongly) * (by_high - before) + wrongly * width / 12)

    spread = math.sqrt(shared + own)
    moments = [
        integrate.quad(
            lambda z, power=power: (
                z**power * chance(z) * stats.norm.pdf(z, expected, spread)
            ),
            expected - 7 * spread,
            expected + 7 * spread,
            limit=200,
        )[0]
        for power in range(3)
    ]
    mean = moments[1] / moments[0]
    variance = moments[2] / moments[0] - mean**2
    gain = shared / (shared + own)
    learned = learn([record], USUAL).loading("line", "gun")
    assert learned.mean == pytest.approx(
        USUAL.mean - gain * (mean - expected), abs=2e-3
    )
    left = shared - gain**2 * (shared + own - variance)
    assert learned.spread == pytest.approx(
        math.sqrt(left + COLOUR_SHARE * USUAL.spread**2), abs=2e-3
    )


def test_many_records_agree_with_samples() -> None:
    """Two lines, two guns, a wrong record: importance sampling from the same model."""
    records = [
        replace(THREE, colour="a", coats_low=2, coats_high=2),
        replace(THREE, colour="b", coats_high=2, coats_low=1, looked=False),
        replace(THREE, colour="b", coats_low=2, coats_high=2, gun="other"),
        replace(THREE, colour="c", line="second", coats_low=5, coats_high=5),
        replace(THREE, colour="d", line="second", hid=False),
        replace(THREE, colour="e", coats_low=9, coats_high=9),
    ]
    rng = np.random.default_rng(5)
    size = 400_000

    def draw(share: float, more: float = 0.0) -> np.ndarray:
        spread = math.sqrt(share * USUAL.spread**2 + more)
        return rng.normal(0.0, spread, size)

    shop = draw(SHOP_SHARE)
    line = {name: draw(LINE_SHARE) + draw(BATCH_SHARE) for name in ("line", "second")}
    gun = {name: draw(GUN_SHARE) for name in ("gun", "other")}
    own = {each: draw(COLOUR_SHARE, 0.3**2) for each in "abcde"}
    weight = np.ones(size)
    for each in records:
        expected = each.ln_thickness_mean - math.log(each.film_um) - USUAL.mean
        coats = np.exp(
            expected - shop - line[each.line] - gun[each.gun] + own[each.colour]
        )
        error = np.hypot(0.8, 0.15 * coats)
        high = stats.norm.cdf((each.coats_high - coats) / error)
        low = stats.norm.cdf((each.coats_low - 1 - coats) / error)
        right, wrong = (high - low, 1 / 12) if each.looked else (high, 0.5)
        if not each.hid:
            right, wrong = 1.0 - high, 0.5
        weight *= 0.95 * right + 0.05 * wrong
    experience = learn(records, USUAL)
    colour = COLOUR_SHARE * USUAL.spread**2
    for name, with_gun in (("line", "gun"), ("line", "other"), ("second", "gun")):
        total = shop + line[name] + gun[with_gun]
        mean = np.average(total, weights=weight)
        spread = math.sqrt(np.average((total - mean) ** 2, weights=weight) + colour)
        learned = experience.loading(name, with_gun)
        assert learned.mean == pytest.approx(USUAL.mean + mean, abs=0.03)
        assert learned.spread == pytest.approx(spread, abs=0.02)


def test_one_job_counts_a_little_and_ten_a_lot() -> None:
    low = [learn(seen(n, coats_low=2, coats_high=2), USUAL) for n in (0, 1, 3, 10)]
    means = [each.loading("line", "gun").mean for each in low]
    spreads = [each.loading("line", "gun").spread for each in low]
    assert means == sorted(means)
    assert spreads == sorted(spreads, reverse=True)
    assert low[3].loading("line", "gun").jobs == 10
    # All ten say half the coats that are usual: a loading 1.5 times the usual at least.
    assert means[3] - means[0] > math.log(1.5)
    assert 0.0 < means[1] - means[0] < 0.6 * (means[3] - means[0])


def test_another_gun_or_batch_widens_and_another_line_more() -> None:
    experience = learn(seen(10, coats_low=2, coats_high=2, batch="one"), USUAL)
    same = experience.loading("line", "gun", "one")
    batch = experience.loading("line", "gun", "two")
    gun = experience.loading("line", "new gun", "one")
    line = experience.loading("new line", "gun", "one")
    assert same.spread < batch.spread < gun.spread < line.spread < USUAL.spread
    assert same.mean > gun.mean > line.mean > USUAL.mean
    assert experience.line("line").mean > experience.gun("gun").mean > 0.0


def test_a_wrong_record_is_named_and_moves_little() -> None:
    good = seen(10, coats_low=3, coats_high=3)
    wrong = replace(THREE, colour="odd", coats_low=12, coats_high=12)
    without = learn(good, USUAL).loading("line", "gun")
    experience = learn([*good, wrong], USUAL)
    assert experience.wrong[-1] > 0.5
    assert max(experience.wrong[:-1]) < 0.1
    assert experience.loading("line", "gun").mean == pytest.approx(
        without.mean, abs=0.05
    )


def test_who_looks_only_at_the_end_does_not_teach_the_plan() -> None:
    looked = learn(seen(10, coats_low=4, coats_high=4), USUAL)
    end = learn(seen(10, coats_low=4, coats_high=4, looked=False), USUAL)
    assert end.loading("line", "gun").mean > looked.loading("line", "gun").mean
    assert end.loading("line", "gun").spread > looked.loading("line", "gun").spread


def test_a_record_that_says_nothing_changes_nothing() -> None:
    open_end = replace(THREE, coats_low=1, coats_high=50, looked=False)
    learned = learn([open_end], USUAL).loading("line", "gun")
    assert learned.mean == pytest.approx(USUAL.mean, abs=1e-3)
    assert learned.spread == pytest.approx(USUAL.spread, abs=1e-3)


def test_records_of_one_colour_count_less_than_of_several() -> None:
    one = [replace(THREE, coats_low=2, coats_high=2, job=f"{i}") for i in range(10)]
    several = learn(seen(10, coats_low=2, coats_high=2), USUAL)
    same = learn(one, USUAL)
    assert same.loading("line", "gun").spread > several.loading("line", "gun").spread
    assert same.loading("line", "gun").jobs == 10
    assert learn(one, USUAL, leave_out="red").loading("line", "gun").jobs == 0


def test_records_of_one_job_are_one_job() -> None:
    both = [replace(THREE, hid=False, coats_high=3, job="j"), replace(THREE, job="j")]
    assert learn(both, USUAL).loading("line", "gun").jobs == 1


def test_twice_the_film_told_is_half_the_strength() -> None:
    thin = learn(seen(5), USUAL).loading("line", "gun")
    told = [
        replace(
            each, film_um=20.0, ln_thickness_mean=each.ln_thickness_mean + math.log(2)
        )
        for each in seen(5)
    ]
    thick = learn(told, USUAL).loading("line", "gun")
    assert thick.mean == pytest.approx(thin.mean, abs=1e-9)


_RECORDS = st.lists(
    st.builds(
        lambda colour, line, gun, low, more, hid, looked: Observation(
            colour, line, gun, low, low + more, math.log(40.0), 0.3, 10.0, hid, looked
        ),
        st.sampled_from("abc"),
        st.sampled_from(["", "line", "second"]),
        st.sampled_from(["gun", "other"]),
        st.integers(1, 8),
        st.integers(0, 3),
        st.booleans(),
        st.booleans(),
    ),
    min_size=1,
    max_size=12,
)


@settings(max_examples=40, deadline=None)
@given(records=_RECORDS, seed=st.integers(0, 99))
def test_records_in_any_order_say_the_same(
    records: list[Observation], seed: int
) -> None:
    order = np.random.default_rng(seed).permutation(len(records))
    one = learn(records, USUAL)
    other = learn([records[i] for i in order], USUAL)
    for line in ("line", "second", "never seen"):
        first, second = one.loading(line, "gun"), other.loading(line, "gun")
        assert first.mean == pytest.approx(second.mean, abs=1e-4)
        assert first.spread == pytest.approx(second.spread, abs=1e-4)
        # Records that contradict each other may widen what is known.
        assert 0.0 < first.spread < 1.5 * USUAL.spread


@pytest.mark.parametrize(
    "values",
    [
        {"coats_low": 0},
        {"coats_low": 4},
        {"film_um": 0.0},
        {"ln_thickness_mean": math.nan},
        {"ln_thickness_spread": -1.0},
        {"source": "rumour"},
        {"coats_high": None, "hid": False},
    ],
)
def test_records_that_cannot_be_are_refused(values: dict[str, object]) -> None:
    with pytest.raises(SettingError):
        replace(THREE, **values)
    with pytest.raises(SettingError):
        Usual(0.0, 0.0)


def test_intervals_of_simulated_shops_hold() -> None:
    """A few shops only; ``python -m validation shops`` tries many and prints them."""
    for score in simulate(PAINTERS[1], shops=10):
        assert score.holds >= 0.75, score
        assert score.colours == 30


def test_a_record_of_the_book_is_something_to_learn_from() -> None:
    seen_in_book = BookSeen("red", "job", 3, 3, line="line", gun="gun")
    assert observation(seen_in_book, Hides(math.log(40.0), 0.3, 10.0)) == THREE
    told = replace(seen_in_book, film_um=12.0)
    assert observation(told, Hides(1.0, 0.3, 10.0)).film_um == 12.0


def test_the_interval_of_the_simulation_is_the_shortest() -> None:
    within = np.array([0.02, 0.5, 0.93, 0.97, 1.0])
    assert interval(within) == (2, 3)
    assert middle(within) == 2
