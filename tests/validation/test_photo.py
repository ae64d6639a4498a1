"""A small part of the photo validation, with bounds that a regression would break.

Bounds are this tool's own: what it reached when they were set, less what a sample of
this size scatters. Pictures are smaller than those of ``python -m validation photo``.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from shadecore.photo.combine import combine

from .camera import Conditions, photograph_again
from .photo_report import FOUND, Case, errors, read_photos, read_shot, score_photo_picks

SHOTS = 24
SEED = 77
SMALL = Conditions(size=(600, 460))

WORST_MEAN = {"white paper": 4.5, "grey card": 4.5, "chart marked": 2.5, FOUND: 2.5}
"""Mean CIEDE2000."""
LEAST_INSIDE = {"white paper": 0.60, "grey card": 0.60, "chart marked": 0.85}
"""Share of truths in the 95 percent ellipsoid."""
LEAST_EQUAL = {"white paper": 0.65, "grey card": 0.65, "chart marked": 0.75}
"""Share of picks that are those from the true Lab."""
LEAST_FOUND = 0.6


@cache
def _cases(kind: str) -> list[Case]:
    return list(read_photos(kind, SHOTS, SEED, SMALL))


@pytest.mark.parametrize(("kind", "worst"), WORST_MEAN.items())
def test_colours_are_near_the_truth(kind: str, worst: float) -> None:
    assert errors(_cases(kind)).difference.mean() < worst


def test_a_reference_helps_and_a_chart_helps_more() -> None:
    """Common practice, no source."""
    nothing, card, chart = (
        errors(_cases(kind)).difference.mean()
        for kind in ("nothing", "grey card", "chart marked")
    )
    assert 1.3 * chart < card < nothing / 1.5


@pytest.mark.parametrize(("kind", "least"), LEAST_INSIDE.items())
def test_intervals_hold(kind: str, least: float) -> None:
    assert errors(_cases(kind)).joint.mean() > least


@pytest.mark.parametrize(("kind", "least"), LEAST_EQUAL.items())
def test_picks_are_those_from_the_true_colour(kind: str, least: float) -> None:
    score = score_photo_picks(_cases(kind))
    assert score.equal_lab.mean() > least
    assert (score.regret <= 1).mean() > 0.9
    # Stable is said where it is so.
    assert score.equal_lab[score.stable].mean() >= score.equal_lab.mean()


@pytest.mark.parametrize("kind", ["white paper", "grey card", "chart marked"])
def test_most_pictures_are_read(kind: str) -> None:
    assert np.mean([each.colour is not None for each in _cases(kind)]) > 0.7


def test_charts_are_found_where_they_are() -> None:
    error = np.array([each.corner_error for each in _cases(FOUND)])
    seen = np.isfinite(error)
    assert seen.mean() > LEAST_FOUND
    # A patch is about 13 % of the chart's long side.
    assert error[seen].max() < 0.03


def test_a_wrong_photo_is_told_from_good_ones() -> None:
    named, accused, sets, wrong = 0, 0, 0, 2
    for seed in range(9):
        rng = np.random.default_rng([SEED, seed])
        shots = photograph_again(rng, "paper", 5, wrong, SMALL)
        read = [read_shot(each).colour for each in shots]
        colours = [each for each in read if each is not None]
        if len(colours) < len(shots):
            continue
        sets += 1
        named += combine(tuple(colours)).odd == wrong
        del colours[wrong]
        accused += combine(tuple(colours)).odd is not None
    assert sets >= 5
    assert named > 0.7 * sets
    assert accused < 0.4 * sets
