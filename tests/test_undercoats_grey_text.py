"""Undercoats typed in a line."""

import pytest

from shadecore.errors import ShelfError
from shadecore.undercoats.grey_text import read_greys

# L* of Munsell greys from luminance, ASTM D1535 and CIE 15: N 8 has Y 57.6 (of a
# perfect diffuser), N 5 has Y 19.3; L* = 116 (Y/100)^(1/3) - 16.
N8, N5 = 116 * 0.5762 ** (1 / 3) - 16, 116 * 0.1927 ** (1 / 3) - 16


@pytest.mark.parametrize(
    ("text", "name", "lightness"),
    [
        ("Our light N 8", "Our light", N8),
        ("Our light 8", "Our light", N8),
        ("Mid: N5", "Mid", N5),
        ("Snow L* 91.5", "Snow", 91.5),
        ("Snow=91,5", "Snow", 91.5),
        ("N 5", "Grey N 5", N5),
        ("Our mid, N 5", "Our mid", N5),
        ("Tin 2 60", "Tin 2", 60.0),
    ],
)
def test_a_grey_is_read_by_lightness_or_munsell(
    text: str, name: str, lightness: float
) -> None:
    (grey,) = read_greys(text)
    assert grey.name == name
    assert grey.lightness == pytest.approx(lightness, abs=0.6)
    assert grey.lab[1:] == (0.0, 0.0)


def test_several_are_read_in_their_order_and_one_may_have_a_hue() -> None:
    shelf = read_greys("White 90, Beige 70 2 8; Black N 2.5")
    assert [each.name for each in shelf] == ["White", "Beige", "Black"]
    assert shelf[1].lab == pytest.approx((70.0, 2.0, 8.0))


@pytest.mark.parametrize("text", ["", " , ", "White", "White N 12", "White 140"])
def test_what_is_no_undercoat_is_told_in_a_sentence(text: str) -> None:
    with pytest.raises(ShelfError) as caught:
        read_greys(text)
    assert len(str(caught.value)) < 300
