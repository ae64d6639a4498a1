"""A swatch measured: round trips, what the light does not change, what is in doubt."""

import numpy as np
import pytest
from numpy.typing import NDArray
from photo_scenes import (
    CARD,
    SIZE,
    SWATCH,
    chart_corners,
    encoded,
    linear_of,
    scene,
    share,
    stored,
)
from skimage.color import deltaE_ciede2000

from shadecore.colour.convert import lab_from_linear_srgb
from shadecore.errors import PhotoError
from shadecore.photo.area import Area, read_area
from shadecore.photo.measure import Marks, PhotoColour, measure_swatch
from shadecore.photo.picture import Picture, open_picture
from shadecore.photo.reference import REFERENCES, own_reference

COLOURS = (
    (45.0, 40.0, 25.0),
    (70.0, 5.0, 45.0),
    (35.0, 5.0, -25.0),
    (60.0, -25.0, 10.0),
)
SWATCH_AT = Area(*share(SWATCH))
CARD_AT = Area(*share(CARD))
CARD_KIND = REFERENCES["grey card"]
AGAINST_CARD = Marks(SWATCH_AT, ((CARD_AT, CARD_KIND),))
AGAINST_CHART = Marks(SWATCH_AT, chart=chart_corners())


@pytest.mark.parametrize("lab", COLOURS)
@pytest.mark.parametrize("kind", ["PNG", "TIFF"])
def test_a_patch_comes_back_as_it_was_drawn(
    lab: tuple[float, float, float], kind: str
) -> None:
    """Drawn by colour-science; eight bits and all steps between within 0.3 dE00."""
    opened = open_picture(stored(encoded(scene(lab)), kind), "patch")
    read = read_area(opened, SWATCH_AT)
    assert deltaE_ciede2000(lab_from_linear_srgb(read.linear), lab) < 0.3


@pytest.mark.parametrize("lab", COLOURS)
def test_the_chart_gives_the_colour_back(lab: tuple[float, float, float]) -> None:
    levels = encoded(scene(lab, cast=(0.9, 0.8, 0.65), slope=0.2, gamma=1.1))
    found = measure_swatch(open_picture(stored(levels), "a"), AGAINST_CHART)
    assert deltaE_ciede2000(found.lab, lab) < 1.0
    assert found.source == "chart"


def test_a_neutral_swatch_is_read_exactly_beside_the_card() -> None:
    """What daylight and observer do to a hue does not touch a grey."""
    for lightness in (30.0, 60.0, 85.0):
        levels = encoded(scene((lightness, 0.0, 0.0), cast=(0.9, 0.8, 0.6)))
        found = measure_swatch(open_picture(stored(levels), "a"), AGAINST_CARD)
        assert deltaE_ciede2000(found.lab, (lightness, 0.0, 0.0)) < 1.0


@pytest.mark.parametrize("lab", COLOURS)
def test_the_light_is_taken_out_by_the_card(lab: tuple[float, float, float]) -> None:
    """A warm and a dim light give what the plain one gives."""
    plain, warm, dim, sloping = (
        measure_swatch(open_picture(stored(encoded(drawn)), "a"), AGAINST_CARD)
        for drawn in (
            scene(lab),
            scene(lab, cast=(0.95, 0.85, 0.7)),
            scene(lab, cast=(0.5, 0.5, 0.5)),
            scene(lab, slope=0.3),
        )
    )
    assert deltaE_ciede2000(plain.lab, dim.lab) < 0.5
    assert deltaE_ciede2000(plain.lab, sloping.lab) < 0.8
    # Taken out of cone responses, while the cast was put on screen primaries.
    assert deltaE_ciede2000(plain.lab, warm.lab) < 2.5


def test_two_pieces_of_one_card_are_off_by_the_same() -> None:
    """The doubt of a reference shrinks only where another kind shares it."""
    opened = open_picture(stored(encoded(scene(COLOURS[0]))), "a")
    half = (CARD_AT.left + CARD_AT.right) / 2.0
    upper = Area(CARD_AT.left, CARD_AT.top, half - 0.01, CARD_AT.bottom)
    lower = Area(half + 0.01, CARD_AT.top, CARD_AT.right, CARD_AT.bottom)
    measured_grey = own_reference(49.5)
    one, same, other = (
        measure_swatch(opened, Marks(SWATCH_AT, references))
        for references in (
            ((upper, CARD_KIND),),
            ((upper, CARD_KIND), (lower, CARD_KIND)),
            ((upper, CARD_KIND), (lower, measured_grey)),
        )
    )
    first, both, mixed = (
        next(each.size for each in found.drivers if each.name == "reference")
        for found in (one, same, other)
    )
    assert both == pytest.approx(first, rel=0.02)
    assert mixed == pytest.approx(first / np.sqrt(2.0), rel=0.02)
    assert deltaE_ciede2000(one.lab, same.lab) < 0.3


def covariance_of(found: PhotoColour, name: str) -> NDArray[np.float64]:
    return np.array(next(e.covariance for e in found.drivers if e.name == name))


def scatter(
    box: tuple[int, int, int, int], marks: Marks, channels: int, pictures: int = 24
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Scatter of L*, a*, b* over pictures with grain in a box, and what they tell.

    The grain is one for all channels, or one for each. What the pictures tell is the
    noise for a* and b*. It includes the light for L*: noise moves the slope of the
    light, too, and with it the card's light at the swatch.
    """
    rng = np.random.default_rng(21)
    linear = scene((55.0, 20.0, 15.0))
    levels = encoded(linear)
    left, top, right, bottom = box
    inside = (slice(top, bottom), slice(left, right))
    seen, told = [], []
    for _ in range(pictures):
        grain = rng.standard_normal((bottom - top, right - left, channels))
        levels[inside] = encoded(linear[inside] * (1.0 + 0.2 * grain))
        found = measure_swatch(Picture("a", levels), marks)
        seen.append(found.lab)
        noise, light = (np.diag(covariance_of(found, e)) for e in ("noise", "light"))
        told.append(noise + np.array([light[0], 0.0, 0.0]))
    return np.std(seen, axis=0, ddof=1), np.sqrt(np.mean(told, axis=0))


@pytest.mark.parametrize(
    ("box", "marks"),
    [(SWATCH, AGAINST_CARD), (CARD, AGAINST_CARD), (SWATCH, AGAINST_CHART)],
    ids=["swatch", "card", "swatch beside a chart"],
)
def test_noise_of_each_channel_is_told_as_it_is_seen(
    box: tuple[int, int, int, int], marks: Marks
) -> None:
    """A sensor's noise, which differs from channel to channel, scatters a* and b*."""
    seen, told = scatter(box, marks, channels=3)
    # The scatter of 24 pictures is known to some 15 percent (chi distribution).
    assert told[1:] == pytest.approx(seen[1:], rel=0.4)
    assert told[0] > 0.7 * seen[0]


def test_grain_that_channels_share_hardly_moves_the_hue() -> None:
    apart, alike = (scatter(SWATCH, AGAINST_CHART, each, 4)[1] for each in (3, 1))
    assert np.all(alike[1:] < 0.35 * apart[1:])


def test_an_overexposed_reference_is_refused() -> None:
    linear = scene(COLOURS[0])
    left, top, right, bottom = CARD
    linear[top:bottom, left:right, 0] = 1.0
    with pytest.raises(PhotoError, match="The grey card is overexposed"):
        measure_swatch(open_picture(stored(encoded(linear)), "a"), AGAINST_CARD)


def test_a_clipped_swatch_is_in_doubt_beside_a_chart_too() -> None:
    """As read in an exposure twice too long, the truth lies within the interval."""
    lab = (52.0, 60.0, 45.0)
    levels = encoded(2.0 * scene(lab))
    found = measure_swatch(open_picture(stored(levels), "a"), AGAINST_CHART)
    assert any("overexposed all over" in each for each in found.warnings)
    plain = measure_swatch(
        open_picture(stored(encoded(scene(lab))), "a"), AGAINST_CHART
    )
    assert found.interval[0] > 3.0 * plain.interval[0]


def test_without_a_reference_it_answers_with_much_doubt() -> None:
    opened = open_picture(stored(encoded(scene(COLOURS[0]))), "a")
    with_card = measure_swatch(opened, AGAINST_CARD)
    alone = measure_swatch(opened, Marks(SWATCH_AT))
    assert alone.source == "nothing"
    assert any("grey card" in each for each in alone.warnings)
    # Exposure is guessed, so lightness suffers most.
    assert alone.interval[0] > 3.0 * with_card.interval[0]
    assert np.all(np.array(alone.interval) > with_card.interval)


def test_the_doubt_is_the_sum_of_its_parts() -> None:
    opened = open_picture(stored(encoded(scene(COLOURS[1]))), "a")
    found = measure_swatch(opened, AGAINST_CARD)
    assert {each.name for each in found.drivers} == {
        "noise",
        "reference",
        "light",
        "camera",
    }
    total = np.sum([each.covariance for each in found.drivers], axis=0)
    assert np.allclose(found.covariance, total)
    assert np.all(np.linalg.eigvalsh(found.covariance) > 0.0)
    sizes = [each.size for each in found.drivers]
    assert sizes == sorted(sizes, reverse=True)
    # 1.96 standard deviations hold 95 percent of a normal distribution.
    assert found.interval[0] == pytest.approx(1.96 * np.sqrt(found.covariance[0, 0]))


def test_an_error_of_the_card_is_one_of_a_swatch_like_it() -> None:
    """A card that is 0.7 lighter than told makes the same grey 0.7 darker."""
    grey = CARD_KIND.lab
    levels = encoded(scene(grey))
    found = measure_swatch(Picture("a", levels), AGAINST_CARD)
    covariance = covariance_of(found, "reference")
    sds = CARD_KIND.lightness_sd, CARD_KIND.opponent_sd, CARD_KIND.opponent_sd
    assert np.sqrt(np.diag(covariance)) == pytest.approx(sds, rel=0.02)


def test_a_worse_reference_widens_the_interval() -> None:
    opened = open_picture(stored(encoded(scene(COLOURS[1]))), "a")
    widths = [
        measure_swatch(opened, Marks(SWATCH_AT, ((CARD_AT, kind),))).interval[0]
        for kind in (REFERENCES["light grey card"], REFERENCES["white paper"])
    ]
    assert widths[1] > widths[0]


def test_the_known_lightness_of_a_grey_sets_the_scale() -> None:
    opened = open_picture(stored(encoded(scene((60.0, 0.0, 0.0)))), "a")
    darker, lighter = (
        measure_swatch(opened, Marks(SWATCH_AT, ((CARD_AT, own_reference(value)),)))
        for value in (49.5, 55.0)
    )
    assert lighter.lab[0] > darker.lab[0] + 4.0


def test_highlights_flakes_and_exposure_are_told() -> None:
    linear = scene((50.0, 0.0, 0.0))
    rng = np.random.default_rng(4)
    left, top, right, bottom = SWATCH
    flakes = rng.random((bottom - top, right - left, 1)) < 0.03
    linear[top:bottom, left:right] *= np.where(flakes, 2.5, 1.0)
    found = measure_swatch(open_picture(stored(encoded(linear)), "a"), AGAINST_CARD)
    assert any("metallic or pearl" in each for each in found.warnings)

    bright = scene((50.0, 0.0, 0.0))
    bright[top : top + 60, left:right] = 1.0
    found = measure_swatch(open_picture(stored(encoded(bright)), "a"), AGAINST_CARD)
    assert any("overexposed" in each for each in found.warnings)


def test_marks_that_overlap_are_refused() -> None:
    opened = open_picture(stored(encoded(scene(COLOURS[0]))), "a")
    width = SWATCH_AT.right - SWATCH_AT.left
    moved = Area(
        SWATCH_AT.left + width / 2,
        SWATCH_AT.top,
        SWATCH_AT.right + width / 2,
        SWATCH_AT.bottom,
    )
    with pytest.raises(PhotoError, match="overlap"):
        measure_swatch(opened, Marks(SWATCH_AT, ((moved, CARD_KIND),)))


@pytest.mark.parametrize("lightness", [5.0, 101.0, float("nan")])
def test_a_reference_that_cannot_be_is_refused(lightness: float) -> None:
    with pytest.raises(PhotoError, match="must lie between 20 and 100"):
        own_reference(lightness)


def test_a_light_nobody_knows_is_refused() -> None:
    opened = open_picture(stored(encoded(scene(COLOURS[0]))), "a")
    with pytest.raises(PhotoError, match="light 'moon' is not known"):
        measure_swatch(opened, Marks(SWATCH_AT, light="moon"))


def test_eighteen_percent_is_the_grey_card() -> None:
    """CIELAB's own definition: Y = 18 gives L* 49.5."""
    lightness = 116.0 * np.cbrt(0.18) - 16.0
    assert REFERENCES["grey card"].lab[0] == pytest.approx(lightness, abs=0.05)
    assert linear_of(np.array([[49.5, 0.0, 0.0]]))[0] == pytest.approx(0.18, abs=0.001)
    assert SIZE == (900, 700)


def test_a_channel_at_its_limit_adds_doubt() -> None:
    strong = scene((55.0, 60.0, 45.0))
    left, top, right, bottom = SWATCH
    clipped = strong.copy()
    clipped[top:bottom, left:right, 0] = 1.0
    plain, limited = (
        measure_swatch(open_picture(stored(encoded(each)), "a"), AGAINST_CARD)
        for each in (0.6 * strong, clipped)
    )
    assert any("overexposed all over" in each for each in limited.warnings)
    assert not plain.warnings
    noise = [
        next(each.size for each in found.drivers if each.name == "noise")
        for found in (plain, limited)
    ]
    assert noise[1] > noise[0] + 1.0


def test_a_colour_that_the_picture_cannot_hold_is_in_doubt() -> None:
    left, top, right, bottom = SWATCH
    plain, cut = scene((80.0, 5.0, 60.0)), scene((80.0, 5.0, 60.0))
    cut[top:bottom, left:right, 2] = 0.0
    inside, outside = (
        measure_swatch(open_picture(stored(encoded(each)), "a"), AGAINST_CARD)
        for each in (plain, cut)
    )
    assert any("stronger than the picture can hold" in e for e in outside.warnings)
    assert not inside.warnings
    noise = [
        next(each.size for each in found.drivers if each.name == "noise")
        for found in (inside, outside)
    ]
    assert noise[1] > noise[0] + 1.0


def test_tones_far_from_the_reference_are_in_more_doubt() -> None:
    """A picture style bends light away from the card's own lightness."""
    near, far = (
        measure_swatch(
            open_picture(stored(encoded(scene((lightness, 0.0, 0.0)))), "a"),
            AGAINST_CARD,
        )
        for lightness in (50.0, 85.0)
    )
    camera = [
        next(each for each in found.drivers if each.name == "camera").covariance[0][0]
        for found in (near, far)
    ]
    assert camera[1] > 2.0 * camera[0]
