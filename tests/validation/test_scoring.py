"""Scores against small cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from .scoring import (
    closest_in_lightness,
    of_pick,
    regret,
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
