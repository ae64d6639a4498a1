"""Ranges: both ends are in them, and what is not is named."""

import math

import pytest

from shadecore.errors import JobError, SettingError
from shadecore.products import ranges
from shadecore.products.ranges import PANEL_C, Range

ALL = [each for each in vars(ranges).values() if isinstance(each, Range)]


@pytest.mark.parametrize("each", ALL)
def test_both_ends_are_in_it_and_what_is_beyond_is_not(each: Range) -> None:
    assert each.low < each.high
    for value in (each.low, each.high, (each.low + each.high) / 2):
        assert value in each
        each.check(value, "It")
        assert each.rule().read(value) == value
    for value in (
        math.nextafter(each.low, -math.inf),
        math.nextafter(each.high, math.inf),
        math.nan,
        math.inf,
        -math.inf,
    ):
        assert value not in each
        with pytest.raises(JobError, match=r"^It must be from "):
            each.check(value, "It")


def test_the_message_names_what_was_given_and_the_range() -> None:
    with pytest.raises(SettingError) as caught:
        PANEL_C.check(95.0, "The panel's temperature", SettingError)
    assert str(caught.value) == (
        "The panel's temperature must be from -20 to 90 degrees C, not 95; check it "
        "and its unit."
    )
