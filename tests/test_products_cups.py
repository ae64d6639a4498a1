"""Flow cups against the equations as a viscosity laboratory's table quotes them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.products.cups import (
    FlowCup,
    cup_seconds,
    find_cup,
    flow_cups,
    in_every_cup,
    viscosity_mm2_s,
)

SOME = settings(deadline=None, derandomize=True, max_examples=100)
CUPS = list(flow_cups().values())


@pytest.mark.parametrize(
    ("cup", "seconds", "viscosity"),
    [
        # ISO 2431, from memory: 0.443 t - 200/t and so on.
        ("iso_3", 50.0, 22.15 - 4.0),
        ("iso_4", 40.0, 54.8 - 5.0),
        ("iso_5", 44.0, 144.32 - 5.0),
        ("iso_6", 57.0, 393.3 - 10.0),
        # ASTM D1200, the first two as quoted, the others from memory.
        ("ford_1", 75.0, 19.6),
        ("ford_2", 68.0, 72.0),
        ("ford_3", 26.58, 46.2),
        ("ford_4", 24.49, 77.0),
        # ASTM D4212, as quoted.
        ("zahn_1", 49.0, 22.0),
        ("zahn_2", 24.0, 35.0),
        ("zahn_3", 27.5, 234.0),
        ("zahn_4", 25.0, 296.0),
        ("zahn_5", 20.0, 460.0),
    ],
)
def test_equations(cup: str, seconds: float, viscosity: float) -> None:
    assert viscosity_mm2_s(flow_cups()[cup], seconds) == pytest.approx(viscosity)


def test_each_cup_says_how_well_it_is_known() -> None:
    assert {each.status for each in CUPS} == {"R2", "M"}
    known = {each.cup for each in CUPS if each.status == "R2"}
    assert known == {"ford_1", "ford_2", *(f"zahn_{n}" for n in range(1, 6))}
    assert {each.standard for each in CUPS} == {"ISO 2431", "ASTM D1200", "ASTM D4212"}


@SOME
@given(st.sampled_from(CUPS), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_there_and_back(cup: FlowCup, one: float, other: float) -> None:
    times = cup.from_s + (cup.to_s - cup.from_s) * np.array([one, other])
    found = viscosity_mm2_s(cup, times)
    assert cup_seconds(cup, found) == pytest.approx(times)
    assert np.all(found > 0.0)
    # Slower is thicker.
    assert (found[0] < found[1]) == (times[0] < times[1])


def test_a_paint_in_two_cups() -> None:
    """Both cups read one viscosity: 1.37 t - 200/t = 3.85 (s - 4.49)."""
    iso, ford = flow_cups()["iso_4"], flow_cups()["ford_4"]
    found = float(cup_seconds(ford, viscosity_mm2_s(iso, 60.0)))
    assert found == pytest.approx((82.2 - 200.0 / 60.0) / 3.85 + 4.49)
    back = cup_seconds(iso, viscosity_mm2_s(ford, found))
    assert float(back) == pytest.approx(60.0)


@pytest.mark.parametrize("seconds", [29.9, 100.1, 0.0, -5.0, np.nan, np.inf])
def test_times_that_a_cup_does_not_measure(seconds: float) -> None:
    with pytest.raises(JobError, match=r"ISO cup 4 mm \(ISO 2431\) measures from 30"):
        viscosity_mm2_s(flow_cups()["iso_4"], [50.0, seconds])


def test_a_viscosity_that_a_cup_does_not_measure() -> None:
    with pytest.raises(JobError, match="take another cup"):
        cup_seconds(flow_cups()["iso_4"], 500.0)


def test_eighteen_seconds_are_fewer_than_a_4_mm_cup_measures() -> None:
    """1.37 x 18 - 200 / 18 = 13.5 mm2/s, which the 3 mm cup measures: 41.5 s."""
    viscosity, (given, *others) = in_every_cup(18.0, find_cup("ISO 4 mm"))
    assert viscosity == pytest.approx(24.66 - 11.11, abs=0.01)
    assert (given.cup.cup, given.seconds, given.inside) == ("iso_4", 18.0, False)
    finer = next(each for each in others if each.cup.cup == "iso_3")
    assert finer.inside
    assert 0.443 * finer.seconds - 200.0 / finer.seconds == pytest.approx(viscosity)
    # Where both measure it, it is what the standards' cups give.
    thick, readings = in_every_cup(60.0, find_cup("iso4"))
    for each in readings[1:]:
        if each.inside:
            assert each.seconds == pytest.approx(float(cup_seconds(each.cup, thick)))
    assert any(each.inside for each in readings[1:])


def test_cups_by_any_usual_name() -> None:
    names = ("ford4", "Ford cup No. 4", "FORD 4", "ford_4", "Ford #4")
    assert {find_cup(each).cup for each in names} == {"ford_4"}
    assert find_cup("zahn 2").cup == "zahn_2"
    for wrong in ("din4", "", "4", "iso", "ford 9"):
        with pytest.raises(JobError, match="take one of iso_3, iso_4"):
            find_cup(wrong)


def test_so_few_seconds_that_they_say_nothing() -> None:
    with pytest.raises(JobError, match="Take a cup with a finer hole"):
        in_every_cup(12.0, flow_cups()["ford_2"])
    with pytest.raises(JobError, match="The seconds of the cup must be from 1 to 600"):
        in_every_cup(float("nan"), flow_cups()["ford_2"])
