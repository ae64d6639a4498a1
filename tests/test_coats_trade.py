"""Check values of the trade: what painters find, without a source to quote.

They bound the answers from outside; none of them was read off the tool.
"""

import numpy as np
import pytest

import shadecore
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import TOLERANCES

SHELF = shadecore.demo_shelf()
LIGHTNESS = np.array([each.lightness for each in SHELF])
LIGHT_FROM = 70.0
WHOLE_CAR = TOLERANCES["whole-car"][0]
BOTH = [value for value, _ in TOLERANCES.values()]
SATURATED_RED = (45.0, 60.0, 35.0)


def in_polar(lightness: float, chroma: float, hue_degrees: float) -> list[float]:
    hue = np.radians(hue_degrees)
    return [lightness, chroma * np.cos(hue), chroma * np.sin(hue)]


SATURATED = {
    "red": [
        in_polar(lightness, chroma, hue)
        for lightness in (40.0, 46.0, 52.0)
        for chroma in (58.0, 66.0)
        for hue in (20.0, 30.0, 38.0)
    ],
    "orange": [
        in_polar(lightness, chroma, hue)
        for lightness in (52.0, 60.0, 68.0)
        for chroma in (70.0, 82.0)
        for hue in (48.0, 55.0, 63.0)
    ],
    "yellow": [
        in_polar(lightness, chroma, hue)
        for lightness in (72.0, 78.0, 84.0)
        for chroma in (80.0, 95.0)
        for hue in (77.0, 84.0, 92.0)
    ],
}


def test_a_saturated_red_over_white_reaches_colour_in_three_to_four_coats() -> None:
    """Common practice, no source: a red goes over a white sealer, mixed 1:1."""
    one_to_one = shadecore.Settings(
        WHOLE_CAR, shadecore.coat_film(paint_to_reducer=(1.0, 1.0))
    )
    answer = pick(
        shadecore.Topcoat(SATURATED_RED, "a saturated red"), SHELF, one_to_one
    )
    white = next(each for each in answer.outlooks if each.undercoat is SHELF[0])
    assert white.undercoat.lightness > 85.0
    assert white.coats in (3, 4)


def test_less_reducer_leaves_more_film_and_needs_no_more_coats() -> None:
    """Common practice, no source: 2:1 leaves a thicker coat than 1:1."""
    films = [shadecore.coat_film(paint_to_reducer=(paint, 1.0)) for paint in (1, 2)]
    assert films[1].dry_film_um > films[0].dry_film_um
    colours = [SATURATED_RED, *SATURATED["red"], *SATURATED["yellow"]]
    one, two = (
        pick_many(colours, SHELF, shadecore.Settings(WHOLE_CAR, film)) for film in films
    )
    assert np.all(two.counts.coats <= one.counts.coats)
    assert np.any(two.counts.coats < one.counts.coats)


@pytest.mark.parametrize("tolerance", BOTH)
@pytest.mark.parametrize("hue", SATURATED)
def test_saturated_warm_colours_come_out_over_light_undercoats(
    hue: str, tolerance: float
) -> None:
    """Common practice, no source: reds, oranges and yellows want a light ground."""
    picks = pick_many(SATURATED[hue], SHELF, shadecore.Settings(tolerance=tolerance))
    assert np.all(LIGHTNESS[picks.recommended] >= LIGHT_FROM)


@pytest.mark.parametrize("tolerance", BOTH)
def test_neutral_colours_come_out_with_their_own_lightness(tolerance: float) -> None:
    """Common practice, no source: match a white, a grey, a near-black by lightness."""
    lightness = np.arange(4.0, 97.0, 1.5)
    neutral = np.column_stack([lightness, 0.0 * lightness, 1.0 + 0.0 * lightness])
    picks = pick_many(neutral, SHELF, shadecore.Settings(tolerance=tolerance))
    # The shelf runs from white to near-black, so neighbours stand side by side.
    assert np.all(np.diff(LIGHTNESS) < 0.0)
    nearest = np.argmin(np.abs(lightness[:, None] - LIGHTNESS), axis=1)
    steps_away = np.abs(picks.recommended - nearest)
    assert np.all(steps_away <= 1)
    assert np.mean(steps_away == 0) > 0.8


def test_matching_lightness_costs_a_saturated_red_coats() -> None:
    """Common practice, no source: a red over its own grey takes many coats."""
    picks = pick_many([SATURATED_RED], SHELF)
    own = picks.counts.coats[0, picks.closest[0]]
    assert abs(LIGHTNESS[picks.closest[0]] - SATURATED_RED[0]) < 10.0
    assert own >= 2 * picks.counts.coats[0, picks.recommended[0]]
