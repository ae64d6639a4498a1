"""Scores against small cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from .scoring import (
    brier,
    closest_in_lightness,
    of_pick,
    regret,
    reliability,
    score_counts,
    score_picks,
)

# Four paints over three undercoats, cap 5, so 6 means that it does not hide.
TRUE = np.array([[2, 3, 6], [4, 4, 1], [5, 2, 3], [6, 6, 6]])
PICK = np.array([0, 1, 2, 1])


def test_picked_entries() -> None:
    np.testing.assert_array_equal(of_pick(TRUE, PICK), [2, 4, 3, 6])


def test_regret_is_coats_beyond_the_best() -> None:
    np.testing.assert_array_equal(regret(TRUE, PICK), [0, 3, 1, 0])


def test_pick_score() -> None:
    score = score_picks(TRUE, PICK)
    assert score.mean_regret == pytest.approx(1.0)
    assert score.best == pytest.approx(0.5)
    assert score.within_one == pytest.approx(0.75)
    assert score.worst == 3


def test_count_score_of_picks() -> None:
    score = score_counts(
        of_pick(TRUE, PICK),
        predicted=[2, 5, 5, 9],
        low=[1, 5, 2, 4],
        high=[2, 6, 5, 12],
        cap=5,
    )
    # errors 0, 1, 2, 0: nine coats and no hiding in five are the same thing
    assert score.exact == pytest.approx(0.5)
    assert score.within_one == pytest.approx(0.75)
    assert score.bias == pytest.approx(0.75)
    # only the second paint's four coats lie outside, below five to six
    assert score.coverage == pytest.approx(0.75)
    assert score.width == pytest.approx((1 + 1 + 3 + 2) / 4)


def test_count_score_of_every_undercoat() -> None:
    shifted = TRUE + 1
    score = score_counts(TRUE, shifted, TRUE, shifted, cap=5)
    # the four that do not hide are right, the eight others one too many
    assert score.exact == pytest.approx(4 / 12)
    assert score.within_one == pytest.approx(1.0)
    assert score.coverage == pytest.approx(1.0)
    assert score.width == pytest.approx(8 / 12)


def test_fractional_predictions_round_half_up() -> None:
    score = score_counts([3, 3, 3], [3.4, 2.5, 3.5], [3, 3, 3], [3, 3, 3], cap=20)
    assert score.exact == pytest.approx(2 / 3)


def test_perfect_foresight_scores_perfectly() -> None:
    score = score_picks(TRUE, TRUE.argmin(axis=1))
    assert (score.mean_regret, score.best, score.worst) == (0.0, 1.0, 0)


def test_closest_in_lightness() -> None:
    picks = closest_in_lightness([97.0, 54.0, 10.0], [95.0, 60.0, 50.0, 25.5])
    np.testing.assert_array_equal(picks, [0, 2, 3])


# Two paints over two undercoats by 1, 2, 3 coats; coats 2, 4 (not by 3), 1 and 3.
COATS = np.array([[2, 4], [1, 3]])
CHANCE = np.array(
    [[[0.1, 0.6, 0.9], [0.0, 0.2, 0.7]], [[0.8, 1.0, 1.0], [0.4, 0.5, 1.0]]]
)


def test_reliability_by_hand() -> None:
    table = reliability(CHANCE, COATS, bins=2)
    # below a half: 0.1, 0, 0.2, 0.4, none of them came true;
    # from a half on: 0.6, 0.9, 0.7, 0.8, 1, 1, 0.5, 1, of which 0.7 and 0.5 did not
    np.testing.assert_array_equal(table.count, [4, 8])
    np.testing.assert_allclose(table.predicted, [0.7 / 4, 6.5 / 8])
    np.testing.assert_allclose(table.observed, [0.0, 6 / 8])


def test_reliability_marks_empty_bins() -> None:
    table = reliability([[[0.05, 0.95, 1.0]]], [[2]], bins=4)
    np.testing.assert_array_equal(table.count, [1, 0, 0, 2])
    np.testing.assert_allclose(table.predicted, [0.05, np.nan, np.nan, 0.975])
    np.testing.assert_allclose(table.observed, [0.0, np.nan, np.nan, 1.0])


def test_chances_that_hold_are_reliable() -> None:
    rng = np.random.default_rng(21)
    chance = np.sort(rng.random((3000, 2, 4)), axis=-1)
    # one draw per film decides when it hides, so each chance comes true as stated
    coats = 1 + (chance < rng.random((3000, 2, 1))).sum(axis=-1)
    table = reliability(chance, coats)
    assert table.count.sum() == chance.size
    np.testing.assert_allclose(table.observed, table.predicted, atol=0.04)


def test_brier_by_hand() -> None:
    # misses 0.1 0.4 0.1, 0 0.2 0.7, 0.2 0 0, 0.4 0.5 0
    squares = 0.01 + 0.16 + 0.01 + 0.04 + 0.49 + 0.04 + 0.16 + 0.25
    assert brier(CHANCE, COATS) == pytest.approx(squares / 12)


def test_brier_of_foresight_and_of_even_odds() -> None:
    sure = (COATS[..., None] <= np.arange(1, 4)).astype(float)
    assert brier(sure, COATS) == 0.0
    assert brier(1.0 - sure, COATS) == 1.0
    assert brier(np.full(sure.shape, 0.5), COATS) == pytest.approx(0.25)


def test_chances_must_be_probabilities_of_the_same_films() -> None:
    rounded = CHANCE + 1e-12
    np.testing.assert_array_equal(
        reliability(rounded, COATS, 2).count, reliability(CHANCE, COATS, 2).count
    )
    for wrong in (CHANCE + 0.1, CHANCE - 0.1, CHANCE * np.nan):
        with pytest.raises(ValueError, match="a chance is 0 to 1"):
            brier(wrong, COATS)
    with pytest.raises(ValueError, match="do not fit coats"):
        reliability(CHANCE, COATS[:1])
