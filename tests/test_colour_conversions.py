"""Conversions into the working condition and back out to a screen."""

import itertools

import numpy as np
import pytest
from check_values import numbers, weights_of

from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    lab_from_reflectance,
)
from shadecore.colour.colour_science import colour_science
from shadecore.colour.condition import (
    ILLUMINANTS,
    OBSERVERS,
    WORKING,
    Condition,
)
from shadecore.colour.convert import (
    lab_from_lab,
    lab_from_lch,
    lab_from_munsell,
    lab_from_srgb,
    lab_from_xyz,
    lab_from_yxy,
    without_mirror,
)
from shadecore.colour.display import hex_from_lab, srgb_from_lab
from shadecore.errors import ColourError

CAT16 = np.array(
    [
        [0.401288, 0.650173, -0.051461],
        [-0.250268, 1.204414, 0.045854],
        [-0.002079, 0.048952, 0.953127],
    ]
)
"""Li et al., Color Res. Appl. 42 (2017) 703, from memory."""
SRGB = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)
"""IEC 61966-2-1:1999, read second-hand; linear R, G, B to X, Y, Z."""
SRGB_INVERSE = np.array(
    [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
)
"""The same standard's rounded inverse, read second-hand."""
D65_10 = np.array([94.811, 100.0, 107.304]) / 100.0
"""A textbook's printed white."""
C_2 = np.array([0.31006 / 0.31616, 1.0, (1.0 - 0.31006 - 0.31616) / 0.31616])
"""Illuminant C, x = 0.31006 and y = 0.31616, from memory of CIE 15."""


def adapted(xyz: np.ndarray, source: np.ndarray, target: np.ndarray) -> np.ndarray:
    """Von Kries scaling in the responses of CAT16, written out."""
    gain = (CAT16 @ target) / (CAT16 @ source)
    return np.linalg.solve(CAT16, gain[:, None] * (CAT16 @ xyz.T)).T


def cielab(xyz: np.ndarray, white: np.ndarray) -> np.ndarray:
    """ISO/CIE 11664-4 written out."""
    t = xyz / white
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.stack(
        [
            116 * f[:, 1] - 16,
            500 * (f[:, 0] - f[:, 1]),
            200 * (f[:, 1] - f[:, 2]),
        ],
        axis=1,
    )


# sRGB ---------------------------------------------------------------------------


def test_srgb_by_the_standard_written_out() -> None:
    rng = np.random.default_rng(40)
    encoded = np.vstack([rng.random((200, 3)), np.eye(3), np.full((1, 3), 0.03)])
    linear = np.where(
        encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4
    )
    expected = cielab(
        adapted(linear @ SRGB.T, SRGB.sum(axis=1), D65_10),
        D65_10,
    )
    np.testing.assert_allclose(lab_from_srgb(encoded), expected, atol=0.05)


def test_screen_colours_by_the_standard_written_out() -> None:
    """The encoding's straight foot and its power part, through the printed inverse."""
    rng = np.random.default_rng(41)
    lab = np.column_stack(
        [rng.uniform(2, 90, 100), rng.uniform(-8, 8, 100), rng.uniform(-8, 8, 100)]
    )
    f = (lab[:, :1] + 16) / 116 + lab @ np.array(
        [[0, 0, 0], [1 / 500, 0, 0], [0, 0, -1 / 200]]
    )
    xyz = D65_10 * np.where(f > 6 / 29, f**3, (f - 4 / 29) * 3 * (6 / 29) ** 2)
    linear = adapted(xyz, D65_10, SRGB.sum(axis=1)) @ SRGB_INVERSE.T
    expected = np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.abs(linear) ** (1 / 2.4) - 0.055
    )
    shown, outside = srgb_from_lab(lab)
    inside = ~outside
    assert inside.sum() > 50
    np.testing.assert_allclose(shown[inside], expected[inside], atol=1.5e-3)


def test_screen_white_is_the_white_of_the_paint() -> None:
    np.testing.assert_allclose(lab_from_srgb(np.ones(3)), [100, 0, 0], atol=1e-3)
    np.testing.assert_allclose(lab_from_srgb(np.zeros(3)), [0, 0, 0], atol=1e-9)
    greys = lab_from_srgb(np.repeat(np.linspace(0, 1, 12)[:, None], 3, axis=1))
    np.testing.assert_allclose(greys[:, 1:], 0.0, atol=1e-3)
    assert np.all(np.diff(greys[:, 0]) > 0.0)


def test_hex_codes_survive_the_round_trip() -> None:
    levels = np.array(list(itertools.product([0, 1, 10, 60, 128, 200, 255], repeat=3)))
    codes = ["#{:02x}{:02x}{:02x}".format(*row) for row in levels]
    assert hex_from_lab(lab_from_srgb(levels / 255.0)) == codes


def test_colours_a_screen_cannot_show_are_marked() -> None:
    lab = np.array(
        [
            [50, 0, 0],
            [60, 40, 30],
            [50, -90, 0],
            [60, 0, -90],
            [80, 0, 150],
            [60, 110, 0],
        ]
    )
    shown, outside = srgb_from_lab(lab)
    assert outside.tolist() == [False, False, True, True, True, True]
    assert np.all((shown >= 0.0) & (shown <= 1.0))


@pytest.mark.parametrize("bad", [[1.1, 0, 0], [0, -0.1, 0], [np.nan, 0, 0]])
def test_srgb_outside_its_range_is_refused(bad: list[float]) -> None:
    with pytest.raises(ColourError, match="sRGB channels"):
        lab_from_srgb(bad)


# Munsell ------------------------------------------------------------------------


@pytest.mark.parametrize("row", numbers("munsell-value-d1535.csv"))
def test_neutral_munsell_notations(row: np.ndarray) -> None:
    """ASTM D1535-08e1 (computed independently): L* of N 1 to N 10, and no hue."""
    lab = lab_from_munsell(f"N {row[0]:g}")
    assert lab[0] == pytest.approx(row[2], abs=1.5e-3)
    np.testing.assert_allclose(lab[1:], 0.0, atol=0.05)


def test_munsell_chips_have_their_renotation() -> None:
    """Renotation chromaticities (Newhall, Nickerson, Judd 1943) in colour-science.

    With the luminance polynomial of ASTM D1535 and the adaptation from illuminant C
    written out here. The renotation's C and C summed at 1 nm differ by 0.04 percent
    in Z, which moves b* of the strongest yellows most.
    """
    chips = [
        chip
        for chip in colour_science().MUNSELL_COLOURS["Munsell Colours Real"]
        if chip[0][1] >= 2.0 and chip[0][2] > 0.0
    ]
    rng = np.random.default_rng(42)
    chosen = [chips[i] for i in rng.choice(len(chips), 150, replace=False)]
    value = np.array([name[1] for name, _ in chosen])
    y = np.polynomial.polynomial.polyval(
        value, [0, 1.1914, -0.22533, 0.23352, -0.020484, 0.00081939]
    )
    xy = np.array([xyy[:2] for _, xyy in chosen])
    xyz = np.column_stack(
        [y * xy[:, 0] / xy[:, 1], y, y * (1 - xy.sum(axis=1)) / xy[:, 1]]
    )
    expected = cielab(adapted(xyz / 100.0, C_2, D65_10), D65_10)
    got = [lab_from_munsell(f"{hue} {v:g}/{c:g}") for (hue, v, c), _ in chosen]
    np.testing.assert_allclose(got, expected, atol=0.4)
    assert np.median(np.abs(np.array(got) - expected)) < 0.02


@pytest.mark.parametrize(
    "written", ["5R 4/14", "5r 4/14", "5 R 4 / 14", " 5R 4/14 ", "5.0R 4.0/14.0"]
)
def test_munsell_notations_may_be_spaced_freely(written: str) -> None:
    np.testing.assert_allclose(
        lab_from_munsell(written), lab_from_munsell("5R4/14"), atol=1e-9
    )


@pytest.mark.parametrize(
    "bad", ["5Q 4/14", "R 4/14", "5R 4", "5R 4/100", "5R 0/4", "N"]
)
def test_munsell_notations_outside_the_data_are_refused(bad: str) -> None:
    with pytest.raises(ColourError, match="renotation data"):
        lab_from_munsell(bad)


# Conditions ---------------------------------------------------------------------


@pytest.mark.parametrize("illuminant", ILLUMINANTS)
@pytest.mark.parametrize("observer", OBSERVERS)
@pytest.mark.parametrize("specular", ["excluded", "included"])
def test_greys_stay_grey(illuminant: str, observer: int, specular: str) -> None:
    condition = Condition(illuminant, observer, specular)
    lightness = np.linspace(30.0, 100.0, 8)
    greys = np.column_stack([lightness, 0 * lightness, 0 * lightness])
    working = lab_from_lab(greys, condition)
    np.testing.assert_allclose(working[:, 1:], 0.0, atol=1e-6)
    if specular == "excluded":
        np.testing.assert_allclose(working[:, 0], lightness, atol=1e-4)
    else:
        assert np.all(working[:, 0] < lightness + 0.2)
    from_white = lab_from_xyz(0.4 * condition.white, condition)
    np.testing.assert_allclose(from_white[1:], 0.0, atol=1e-6)


CHARTS = ("BabelColor Average", "PMC")


def measured(illuminant: str, observer: int) -> tuple[np.ndarray, np.ndarray]:
    """X, Y, Z of chart patches under a condition, and their true working Lab."""
    colour = colour_science()
    weights = weights_of(illuminant, observer)
    xyz, truth = [], []
    for chart in CHARTS:
        for patch in colour.SDS_COLOURCHECKERS[chart].values():
            visible = patch.copy().align(colour.SpectralShape(400, 700, 10))
            xyz.append(visible.values @ weights)
            truth.append(lab_from_reflectance(visible.values))
    return np.array(xyz), np.array(truth)


@pytest.mark.parametrize(
    ("illuminant", "observer", "on_average", "at_worst"),
    [
        ("D65", 10, 0.01, 0.05),
        ("C", 10, 0.5, 1.5),
        ("D50", 10, 1.5, 3),
        ("A", 10, 4, 9),
    ],
)
def test_adaptation_comes_near_the_spectral_truth(
    illuminant: str, observer: int, on_average: float, at_worst: float
) -> None:
    """Measured patches: what an adaptation predicts against what their spectra give.

    No adaptation is exact for all surfaces; a few units from A to D65 are usual.
    """
    xyz, truth = measured(illuminant, observer)
    off = colour_difference(lab_from_xyz(xyz, Condition(illuminant, observer)), truth)
    assert off.mean() < on_average
    assert off.max() < at_worst


def test_adaptation_is_better_than_none() -> None:
    """XYZ under A taken as they stand for D65 are far off for every patch's hue."""
    xyz, truth = measured("A", 10)
    unadapted = colour_difference(lab_from_xyz(xyz), truth)
    with_it = colour_difference(lab_from_xyz(xyz, Condition("A", 10)), truth)
    assert np.median(unadapted) > 4.0 * np.median(with_it)


def test_all_notations_of_one_colour_agree() -> None:
    condition = Condition("D50", 2)
    xyz = np.array([32.0, 25.0, 6.0])
    expected = lab_from_xyz(xyz, condition)
    yxy = [xyz[1], xyz[0] / xyz.sum(), xyz[1] / xyz.sum()]
    np.testing.assert_allclose(lab_from_yxy(yxy, condition), expected, atol=1e-6)
    lab = cielab(xyz[None] / 100.0, condition.white / 100.0)[0]
    np.testing.assert_allclose(lab_from_lab(lab, condition), expected, atol=1e-4)
    lch = [lab[0], np.hypot(lab[1], lab[2]), np.degrees(np.arctan2(lab[2], lab[1]))]
    np.testing.assert_allclose(lab_from_lch(lch, condition), expected, atol=1e-4)


def test_lch_turns_by_degrees() -> None:
    lab = lab_from_lch([[50, 20, 0], [50, 20, 90], [50, 20, 180], [50, 20, 330]])
    half = 20.0 * np.sqrt(3.0) / 2.0
    expected = [[50, 20, 0], [50, 0, 20], [50, -20, 0], [50, half, -10]]
    np.testing.assert_allclose(lab, expected, atol=1e-9)


# The mirror reflection ------------------------------------------------------------


def test_specular_included_readings_become_45_0() -> None:
    """Saunderson's equation for n = 1.5 with Fresnel constants computed independently.

    k1 = 0.04, k2 = 0.59635; r(45) = 0.05024; 45/0 is reckoned against a diffuser.
    """
    inside = np.array([0.02, 0.2, 0.5, 0.8, 0.95])
    returned = inside / (1.0 - 0.59635 * inside)
    included = 0.04 + 0.96 * (1.0 - 0.59635) * returned
    directional = 0.96 * (1.0 - 0.05024) / 1.5**2 * returned
    np.testing.assert_allclose(
        without_mirror(included, "included"), directional, atol=2e-5
    )
    np.testing.assert_array_equal(without_mirror(included, "excluded"), included)


def test_tristimulus_values_and_spectra_agree_about_the_mirror() -> None:
    """The carry is a straight line, so it may be done before or after summing."""
    spectrum = 0.05 + 0.4 / (1.0 + np.exp(-(WAVELENGTHS_NM - 580.0) / 12.0))
    by_spectrum = lab_from_reflectance(without_mirror(spectrum, "included"))
    included = Condition(specular="included")
    by_lab = lab_from_lab(lab_from_reflectance(spectrum), included)
    np.testing.assert_allclose(by_lab, by_spectrum, atol=5e-3)
    assert by_lab[0] < lab_from_reflectance(spectrum)[0]


def test_darker_than_the_mirror_is_refused() -> None:
    """A glossy surface of n = 1.5 reflects 4 percent (Fresnel) before any paint."""
    with pytest.raises(ColourError, match="4 %"):
        lab_from_lab([10.0, 0.0, 0.0], Condition(specular="included"))


@pytest.mark.parametrize(
    ("convert", "values", "said"),
    [
        (lab_from_xyz, [-1, 2, 3], "zero or more"),
        (lab_from_lab, [101, 0, 0], "between 0"),
        (lab_from_lab, [-1, 0, 0], "between 0"),
        (lab_from_lab, [50, 250, 0], "between -200 and 200"),
        (lab_from_lab, [50, np.nan, 0], "must be numbers"),
        (lab_from_lch, [50, -1, 0], "Chroma"),
        (lab_from_yxy, [50, 0.6, 0.5], "Chromaticity"),
        (lab_from_yxy, [50, 0.3, 0.0], "Chromaticity"),
    ],
)
def test_colours_that_cannot_exist_are_refused(
    convert: type[object], values: list[float], said: str
) -> None:
    with pytest.raises(ColourError, match=said):
        convert(values)


def test_lab_that_no_surface_has_is_refused() -> None:
    """Z/Zn is three percent below zero at b* = 60 beside L* = 2."""
    with pytest.raises(ColourError, match="No surface"):
        lab_from_lab([2.0, 0.0, 60.0], Condition("D50", 2))


def test_the_working_condition_is_left_alone() -> None:
    lab = [[47.0, 54.0, 27.0], [9.0, 0.0, -1.0]]
    np.testing.assert_array_equal(lab_from_lab(lab, WORKING), lab)
