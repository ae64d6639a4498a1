"""Cautions about an area: each at its limit, each of the right area."""

from dataclasses import replace

import pytest

from shadecore.photo.area import AreaReading
from shadecore.photo.cautions import area_cautions

FINE = AreaReading(
    linear=(0.4, 0.2, 0.1),
    noise=((0.0,) * 3,) * 3,
    extent=(0.2, 0.2),
    slope=(0.0, 0.0),
    slope_error=(0.0, 0.0),
    clipped=0.0,
    dark=0.0,
    rejected=0.0,
    texture=0.01,
    sparkle=False,
    at_limit=(False, False, False),
    at_floor=(False, False, False),
)


def test_a_good_area_needs_no_caution() -> None:
    assert area_cautions("swatch", FINE) == ()
    assert area_cautions("reference", FINE) == ()


@pytest.mark.parametrize(
    ("what", "limit", "said"),
    [
        ("clipped", 0.02, "overexposed"),
        ("dark", 0.20, "too dark to read"),
        ("rejected", 0.40, "left out as reflection, dirt or edge"),
    ],
)
@pytest.mark.parametrize("area", ["swatch", "reference"])
def test_shares_are_told_from_their_limits_on(
    what: str, limit: float, said: str, area: str
) -> None:
    """Limits are this tool's own."""
    assert area_cautions(area, replace(FINE, **{what: 0.9 * limit})) == ()
    (told,) = area_cautions(area, replace(FINE, **{what: 1.5 * limit}))
    assert said in told
    assert f"{150 * limit:.0f} % of the {area}" in told


def test_a_channel_clipped_all_over_is_said_once() -> None:
    reading = replace(FINE, clipped=1.0, at_limit=(True, False, False))
    (told,) = area_cautions("swatch", reading)
    assert "overexposed all over" in told


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        ({"at_floor": (False, False, True)}, "stronger than the picture can hold"),
        ({"sparkle": True}, "metallic or pearl"),
    ],
)
def test_faults_of_a_paint_are_told_of_the_swatch_alone(
    fault: dict[str, object], said: str
) -> None:
    (told,) = area_cautions("swatch", replace(FINE, **fault))
    assert said in told
    assert area_cautions("reference", replace(FINE, **fault)) == ()
