"""The engine against simulated paints it has never seen, with room for luck.

Limits are well below what ``python -m validation`` prints for 1000 paints, so that they
fail when the engine breaks and not when a draw is unlucky.
"""

import pytest

from .loading_report import loading_truth
from .report import Validation, lines, validate
from .truth import Truth

PAINTS = 160
SEED = 4_711


@pytest.fixture(scope="module")
def truth() -> Truth:
    """Paints of half to five times the loading that recipes are drawn with."""
    return loading_truth(PAINTS, SEED)


@pytest.fixture(scope="module", params=[1.0, 2.0], ids="dE00 {}".format)
def validation(truth: Truth, request: pytest.FixtureRequest) -> Validation:
    return validate(truth, request.param)


def test_picks_cost_a_fraction_of_the_lightness_rule(validation: Validation) -> None:
    assert validation.engine.mean_regret < 0.3 * validation.lightness.mean_regret


def test_picks_are_within_a_coat_of_the_best(validation: Validation) -> None:
    assert validation.engine.within_one > 0.85


def test_intervals_hold_about_as_often_as_they_say(validation: Validation) -> None:
    assert 0.78 < validation.pick_counts.coverage < 0.99
    assert 0.78 < validation.all_counts.coverage < 0.99


def test_counts_are_rough_but_not_wild(validation: Validation) -> None:
    assert validation.pick_counts.within_one > 0.55
    assert abs(validation.pick_counts.bias) < 1.5


def test_the_table_names_both_rules(validation: Validation) -> None:
    table = "\n".join(lines({"45/0": [validation]}))
    assert "lightness" in table
    assert "shadecore" in table
