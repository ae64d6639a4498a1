"""Settings at their limits, and tolerances by number and by name."""

import math

import numpy as np
import pytest

import shadecore
from shadecore.coats.settings import TOLERANCES, parse_tolerance


@pytest.mark.parametrize("tolerance", [0.1, 1.0, 20.0])
@pytest.mark.parametrize("cap", [1, 50])
def test_the_ends_of_the_ranges_are_allowed(tolerance: float, cap: int) -> None:
    settings = shadecore.Settings(tolerance=tolerance, coat_cap=cap)
    assert settings.films_um.shape == (cap,)


@pytest.mark.parametrize("tolerance", [0.0, 0.09, 20.1, -1.0, math.nan, math.inf])
def test_a_tolerance_nobody_sees_is_refused(tolerance: float) -> None:
    with pytest.raises(shadecore.ShadecoreError, match="tolerance") as caught:
        shadecore.Settings(tolerance=tolerance)
    assert "0.1" in str(caught.value)
    assert "20" in str(caught.value)


@pytest.mark.parametrize("cap", [0, -3, 51])
def test_a_cap_outside_its_range_is_refused(cap: int) -> None:
    with pytest.raises(shadecore.ShadecoreError, match="between 1 and 50"):
        shadecore.Settings(coat_cap=cap)


@pytest.mark.parametrize("film", [0.0, -1.0, math.nan, math.inf])
def test_films_must_be_there(film: float) -> None:
    with pytest.raises(shadecore.ShadecoreError, match="film limit"):
        shadecore.Settings(film_limit_um=film)
    with pytest.raises(shadecore.ShadecoreError, match="contrast ratio"):
        shadecore.Settings(hiding_film_um=film)


def test_coats_add_up_to_film() -> None:
    settings = shadecore.Settings(film=shadecore.CoatFilm(12.5), coat_cap=4)
    np.testing.assert_allclose(settings.films_um, [12.5, 25.0, 37.5, 50.0])


def test_the_named_tolerances_are_those_of_the_trade() -> None:
    """Common practice, no source: 1 beside an old panel, 2 on a whole car."""
    assert parse_tolerance("beside-old-panel") == 1.0
    assert parse_tolerance("whole-car") == 2.0
    assert shadecore.Settings().tolerance == TOLERANCES["whole-car"][0]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Whole Car", 2.0),
        (" whole-car ", 2.0),
        ("1.5", 1.5),
        ("1,5", 1.5),
        ("2", 2.0),
    ],
)
def test_tolerances_as_people_write_them(text: str, expected: float) -> None:
    assert parse_tolerance(text) == expected


@pytest.mark.parametrize("text", ["", "tight", "1 2", "whole"])
def test_anything_else_names_the_choices(text: str) -> None:
    with pytest.raises(shadecore.ShadecoreError) as caught:
        parse_tolerance(text)
    assert all(name in str(caught.value) for name in TOLERANCES)
