"""What a card must read: right cards pass, each wrong one is told what is wrong."""

from dataclasses import replace

import numpy as np
import pytest
from check_values import numbers
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shadecore.card.reading import (
    BLACKEST,
    DEFAULT_BLACK,
    DEFAULT_WHITE,
    WHITEST,
    Card,
    Reading,
    Step,
    bare_areas,
    check_card,
    luminous_reflectance,
)
from shadecore.colour.surface import directional
from shadecore.errors import CardError
from shadecore.film.two_flux import TwoFluxFilm

SOME = settings(deadline=None, derandomize=True, max_examples=100)


def grey(reflectance: float, numbers_: int = 1) -> Reading:
    """A grey as Y, as a spectrum, or as Lab."""
    if numbers_ == 3:
        return (116.0 * float(np.cbrt(reflectance)) - 16.0, 0.0, 0.0)
    return (100.0 * reflectance,) if numbers_ == 1 else (reflectance,) * 31


def step(coats: int, black: float, white: float) -> Step:
    return Step(coats, grey(black), grey(white))


THIN, MIDDLE, THICK = step(1, 0.30, 0.60), step(2, 0.36, 0.50), step(4, 0.40, 0.42)
RIGHT = Card((THIN, MIDDLE, THICK))


def said_of(card: Card) -> str:
    with pytest.raises(CardError) as caught:
        check_card(card)
    message = str(caught.value)
    assert message.endswith(".")
    return message


# Right cards -------------------------------------------------------------------------


def test_a_right_card_passes_as_it_is() -> None:
    assert check_card(RIGHT) == RIGHT


def test_steps_come_back_in_order_of_coats() -> None:
    mixed = Card((THICK, THIN, MIDDLE), 0.01, 0.78, grey(0.41))
    assert check_card(mixed) == Card((THIN, MIDDLE, THICK), 0.01, 0.78, grey(0.41))


@SOME
@given(
    st.floats(-3.0, 0.7),
    st.floats(-3.0, 1.0),
    st.integers(0, 20),
    st.sampled_from([1, 3, 31]),
)
def test_films_of_any_paint_pass(
    scattering: float, ratio: float, black_permille: int, kind: int
) -> None:
    """Two-flux films of one, two and four coats, seen through the surface.

    Those that leave a bare card bare are left out; so are dark films that match the
    black area while they hardly dim the white one.
    """
    model, s = TwoFluxFilm(), 10.0**scattering
    black = black_permille / 1000.0
    k = s * 10.0**ratio
    films = np.array([1.0, 2.0, 4.0])
    terms = model.terms(np.full((1, 1), k), np.full((1, 1), s), films)
    seen = [terms.over(directional().inside(bare))[0, :, 0] for bare in (black, 0.80)]
    assume(max(abs(seen[0][0] - black), abs(0.80 - seen[1][0])) > 0.02)
    steps = tuple(
        Step(coats, grey(float(dark), kind), grey(float(light), kind))
        for coats, dark, light in zip((1, 2, 4), *seen, strict=True)
    )
    # The grey's L* is written with the cube root, which holds from Y 0.9 on.
    assume(kind != 3 or min(seen[0]) > 0.009)
    assert check_card(Card(steps, black, 0.80)).steps == steps


@pytest.mark.parametrize(
    ("black", "white"),
    [(0.0, 1.0), (BLACKEST, WHITEST), (0.01, 0.78), (DEFAULT_BLACK, DEFAULT_WHITE)],
)
def test_bare_areas_that_serve(black: float, white: float) -> None:
    """ASTM D2805 asks for at most 1 and at least 78 percent; both are served."""
    check_card(Card((MIDDLE,), black, white))


def test_noise_may_turn_a_hidden_step_round() -> None:
    check_card(Card((step(6, 0.412, 0.408),)))


def test_noise_may_widen_the_gap_of_a_hidden_step() -> None:
    check_card(Card((step(4, 0.40, 0.403), step(6, 0.40, 0.407))))


def test_a_white_paint_shows_on_the_black_area_alone() -> None:
    """A white hardly changes the white area, a black hardly the black one."""
    check_card(Card((step(1, 0.40, 0.80),)))
    check_card(Card((step(1, 0.005, 0.02),)))


# Wrong cards, each one slip away from a right one ------------------------------------


def test_no_steps() -> None:
    assert "at least one step" in said_of(Card(()))


def test_bare_areas_swapped() -> None:
    said = said_of(replace(RIGHT, black=0.80, white=0.005))
    assert "bare white area" in said
    assert "bare black" in said
    assert "swapped" in said
    assert "80.0 %" in said


@pytest.mark.parametrize(
    ("black", "white"),
    [
        pytest.param(BLACKEST + 0.001, 0.80, id="grey black"),
        pytest.param(-0.01, 0.80, id="below nothing"),
        pytest.param(0.005, WHITEST - 0.001, id="grey white"),
        pytest.param(0.5, 80.0, id="percent"),
        pytest.param(0.005, float("nan"), id="no white"),
    ],
)
def test_bare_areas_that_do_not_serve(black: float, white: float) -> None:
    said = said_of(replace(RIGHT, black=black, white=white))
    assert "bare card" in said
    assert "swapped" not in said


@pytest.mark.parametrize("coats", [0, -2])
def test_steps_without_coats(coats: int) -> None:
    said = said_of(Card((replace(MIDDLE, coats=coats),)))
    assert f"{coats} coats" in said
    assert "1 or more" in said


@pytest.mark.parametrize("kind", [1, 3, 31])
def test_readings_of_a_step_swapped(kind: int) -> None:
    swapped = Step(2, grey(0.50, kind), grey(0.36, kind))
    said = said_of(Card((THIN, swapped)))
    assert "After 2 coats" in said
    assert "over black (50.0 %" in said
    assert "over white (36.0 %)" in said
    assert "swapped" in said


def test_a_bare_card_read_as_a_step() -> None:
    said = said_of(Card((step(1, 0.006, 0.79),)))
    assert "After 1 coat the" in said
    assert "bare" in said


def test_two_steps_of_as_many_coats() -> None:
    assert "Two steps have 2 coats" in said_of(Card((THIN, MIDDLE, MIDDLE)))


def test_steps_swapped() -> None:
    said = said_of(Card((replace(THIN, coats=2), replace(MIDDLE, coats=1))))
    assert "after 2 coats" in said
    assert "after 1" in said
    assert "thinner" in said
    assert "which step is which" in said


@pytest.mark.parametrize("count", [0, 2, 4, 16, 30, 32])
def test_readings_of_the_wrong_length(count: int) -> None:
    wrong = (50.0,) * count
    for each in (Step(2, wrong, grey(0.5)), Step(2, grey(0.3), wrong)):
        said = said_of(Card((each,)))
        assert f"has {count} numbers" in said
        assert "31 reflectances" in said


# Luminous reflectance ----------------------------------------------------------------


def test_y_alone_is_in_percent() -> None:
    assert luminous_reflectance((18.4,)) == pytest.approx(0.184)


@pytest.mark.parametrize("row", numbers("munsell-value-d1535.csv"))
def test_y_of_a_lightness(row: np.ndarray) -> None:
    """Y and L* of ASTM D1535's values, computed independently."""
    _, luminance, lightness = (float(each) for each in row)
    found = luminous_reflectance((lightness, 20.0, -30.0))
    assert 100.0 * found == pytest.approx(luminance, rel=2e-4)


@SOME
@given(st.floats(0.01, 1.0))
def test_all_readings_of_a_grey_agree(reflectance: float) -> None:
    for kind in (1, 3, 31):
        found = luminous_reflectance(grey(reflectance, kind))
        assert found == pytest.approx(reflectance, rel=1e-4)


def test_bare_areas_are_flat_and_black_comes_first() -> None:
    areas = bare_areas(Card((MIDDLE,), 0.01, 0.75))
    np.testing.assert_array_equal(areas, [[0.01] * 31, [0.75] * 31])
