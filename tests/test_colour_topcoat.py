"""The one box a painter types a colour into."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import (
    parse_topcoat,
    spectrum_line,
    topcoat_from_numbers,
    topcoat_from_spectrum,
)
from shadecore.errors import ColourError, ShadecoreError, SpectrumError

RED = (47.5, 54.2, 27.1)


@pytest.mark.parametrize(
    "text",
    [
        "47.5 54.2 27.1",
        "  47.5   54.2\t27.1 ",
        "47.5,54.2,27.1",
        "47.5, 54.2, 27.1",
        "47.5;54.2;27.1",
        "47.5 ; 54.2 ; 27.1",
        "(47.5, 54.2, 27.1)",
        "47,5 54,2 27,1",
        "47,5; 54,2; 27,1",
        "47,5;54,2;27,1",
        "47,5, 54,2, 27,1",
        "+47.5 +54.2 +27.1",
        "4.75e1 54.2 27.1",
        "lab 47.5 54.2 27.1",
        "Lab: 47.5 54.2 27.1",
        "LAB 47.5,54.2,27.1",
        "lab 47,5 54,2 27,1",
        "L* 47.5 a* 54.2 b* 27.1",
        "L*=47.5, a*=54.2, b*=27.1",
        "L: 47.5; a: 54.2; b: 27.1",
        "l47.5 a54.2 b27.1",
        "L*47.5\na*54.2\nb*27.1",
    ],
)
def test_ways_of_writing_lab(text: str) -> None:
    assert parse_topcoat(text).lab == pytest.approx(RED)


@pytest.mark.parametrize(
    "text",
    ["30 2 -38", "30 2 \N{MINUS SIGN}38", "L* 30 a* 2 b* \N{MINUS SIGN}38", "30,2,-38"],
)
def test_minus_signs(text: str) -> None:
    assert parse_topcoat(text).lab == (30.0, 2.0, -38.0)


@pytest.mark.parametrize(
    "text", ["#b22234", "B22234", "#B22234", "hex b22234", "Hex: #b22234", " #b22234\n"]
)
def test_ways_of_writing_a_hex_code(text: str) -> None:
    """178, 34, 52 in decimal."""
    expected = parse_topcoat("srgb 178 34 52").lab
    assert parse_topcoat(text).lab == pytest.approx(expected)


def test_a_short_hex_code_doubles_its_digits() -> None:
    assert parse_topcoat("#b23").lab == parse_topcoat("#bb2233").lab


@pytest.mark.parametrize(
    "text", ["rgb 178 34 52", "sRGB: 178, 34, 52", "RGB 178;34;52"]
)
def test_ways_of_writing_srgb(text: str) -> None:
    assert parse_topcoat(text).lab == parse_topcoat("#b22234").lab


@pytest.mark.parametrize(
    "text", ["5R 4/14", "5r 4/14", "munsell 5R 4/14", "Munsell: 5R4/14", "5 R 4 / 14"]
)
def test_ways_of_writing_munsell(text: str) -> None:
    expected = parse_topcoat("5R 4/14").lab
    assert parse_topcoat(text).lab == expected
    # L* of V = 4 is 40.74 under illuminant C (ASTM D1535, computed independently).
    assert expected[0] == pytest.approx(40.74, abs=0.2)


@pytest.mark.parametrize("text", ["N 5", "N5", "n5/", "N 5/", "N 5.0", "munsell N 5"])
def test_ways_of_writing_a_munsell_grey(text: str) -> None:
    """L* 51.004 at V = 5 (ASTM D1535, computed independently)."""
    assert parse_topcoat(text).lab == pytest.approx((51.004, 0, 0), abs=0.05)


@pytest.mark.parametrize(
    "text",
    [
        "xyz 19.41 28.41 11.5766",
        "XYZ: 19,41 28,41 11,5766",
        "Yxy 28.41 0.326789 0.478307",
        "lch 60.2574 49.7185 133.1593",
    ],
)
def test_other_notations_of_one_colour(text: str) -> None:
    """Luo, Cui, Rigg (2001) as a textbook prints it; Lab from Sharma et al. (2005)."""
    lab = parse_topcoat(text).lab
    assert lab == pytest.approx((60.2574, -34.0099, 36.2677), abs=2e-3)


def test_the_condition_counts_for_numbers_only() -> None:
    lamp = Condition("A", 2)
    assert parse_topcoat("50 20 10", lamp).lab != parse_topcoat("50 20 10").lab
    for brings_its_own in ("#b22234", "srgb 178 34 52", "5R 4/14"):
        with_lamp = parse_topcoat(brings_its_own, lamp)
        assert with_lamp.lab == parse_topcoat(brings_its_own).lab
        assert "A/2" not in with_lamp.entered
    assert "A/2" in parse_topcoat("50 20 10", lamp).entered


def spectrum_text(values: np.ndarray) -> str:
    return " ".join(["spectrum", *(f"{value:.4f}" for value in values)])


RISING = 0.05 + 0.5 / (1.0 + np.exp(-np.linspace(-6.0, 4.0, 31)))


def test_a_spectrum_in_one_line() -> None:
    for text in (spectrum_text(RISING), spectrum_text(RISING).replace(" ", ", ")[:-1]):
        line = text.replace("spectrum,", "spectrum:")
        topcoat = parse_topcoat(line)
        np.testing.assert_allclose(topcoat.reflectance or (), RISING, atol=6e-4)
    expected = lab_from_reflectance(RISING)
    np.testing.assert_allclose(
        parse_topcoat(spectrum_text(RISING)).lab, expected, atol=0.02
    )


def test_a_spectrum_line_survives_the_round_trip() -> None:
    topcoat = parse_topcoat(spectrum_text(RISING))
    again = parse_topcoat(spectrum_line(topcoat))
    np.testing.assert_allclose(
        again.reflectance or (), topcoat.reflectance or (), rtol=1e-3
    )


def test_a_spectrum_of_a_file_keeps_its_reflectance() -> None:
    text = "\n".join(f"{400 + 10 * i},{value:.6f}" for i, value in enumerate(RISING))
    topcoat = topcoat_from_spectrum(text)
    np.testing.assert_allclose(topcoat.reflectance or (), RISING, atol=1e-6)
    assert parse_topcoat("47 54 27").reflectance is None


ONE_SENTENCE = re.compile(r"[A-Za-z'](?!.*\. [A-Z]).*[^.]\.", re.DOTALL)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("", ColourError),
        ("   ", ColourError),
        ("red", ColourError),
        ("47 54", ColourError),
        ("47 54 27 3", ColourError),
        ("47 54 x", ColourError),
        ("lab", ColourError),
        ("lab 47 54", ColourError),
        ("nan 1 2", ColourError),
        ("1 inf 2", ColourError),
        ("101 0 0", ColourError),
        ("-1 0 0", ColourError),
        ("54 470 27", ColourError),
        ("#12", ColourError),
        ("#12345g", ColourError),
        ("#1234567", ColourError),
        ("hex", ColourError),
        ("hex xyz", ColourError),
        ("srgb 256 0 0", ColourError),
        ("srgb -1 0 0", ColourError),
        ("srgb nan 0 0", ColourError),
        ("lch 47 -3 2", ColourError),
        ("xyz -1 2 3", ColourError),
        ("Yxy 16 0.6 0.5", ColourError),
        ("5Q 4/14", ColourError),
        ("5R 4/200", ColourError),
        ("N ..", ColourError),
        ("munsell", ColourError),
        ("cmyk 0 90 80 20", ColourError),
        ("spectrum", SpectrumError),
        ("spectrum 0.1 0.2 0.3", SpectrumError),
        ("spectrum " + "0.5 " * 30 + "-0.1", SpectrumError),
        ("spectrum " + "0.5 " * 30 + "1.5", SpectrumError),
        ("spectrum " + "0.5 " * 30 + "nan", SpectrumError),
    ],
)
def test_bad_text_is_answered_in_one_sentence(
    text: str, kind: type[ShadecoreError]
) -> None:
    with pytest.raises(kind) as caught:
        parse_topcoat(text)
    said = str(caught.value)
    assert ONE_SENTENCE.fullmatch(said), said
    assert len(said) < 300
    assert "Traceback" not in said


def test_what_was_typed_is_named_in_the_error() -> None:
    with pytest.raises(ColourError, match="'tomato red'"):
        parse_topcoat("  tomato red ")


def test_unknown_notations_are_refused() -> None:
    with pytest.raises(ColourError, match="'hsv'"):
        topcoat_from_numbers("hsv", [1, 2, 3])
    with pytest.raises(ColourError, match="three numbers, not 2"):
        topcoat_from_numbers("lab", [1, 2])


@settings(deadline=None, derandomize=True, max_examples=200)
@given(
    st.text(
        alphabet=st.sampled_from("0123456789.,;:#+- \t()/*labLABrgbhexyzN5YR"),
        max_size=25,
    )
)
def test_any_text_is_a_colour_or_a_clear_error(text: str) -> None:
    try:
        topcoat = parse_topcoat(text)
    except ShadecoreError as error:
        said = str(error)
        finite = True
    else:
        said = f"{topcoat.entered}."
        finite = bool(np.all(np.isfinite(topcoat.lab)))
    assert finite
    assert len(said) > 10
    assert said.endswith(".")


@settings(deadline=None, derandomize=True, max_examples=100)
@given(
    # Light enough for a surface to have any of these a* and b*.
    st.decimals(60, 100, places=2),
    st.decimals(-60, 60, places=2),
    st.decimals(-60, 60, places=2),
    st.sampled_from([" ", "; ", ";", "\t", "  "]),
    st.booleans(),
)
def test_decimal_points_and_commas_say_the_same(
    lightness: float,
    red: float,
    yellow: float,
    separator: str,
    comma: bool,  # noqa: FBT001
) -> None:
    text = separator.join(f"{value:.2f}" for value in (lightness, red, yellow))
    written = text.replace(".", ",") if comma else text
    expected = (float(lightness), float(red), float(yellow))
    assert parse_topcoat(written).lab == pytest.approx(expected)
