"""What is said of how colours of a file were measured, and readings near the mirror."""

from datetime import UTC, datetime

import numpy as np
import pytest
from test_book_exchange import cgats, flat

from shadecore.book.errors import BookError
from shadecore.book.exchange import read_colours, write_colours
from shadecore.book.records import AngleReading, BookColour
from shadecore.book.told import Told
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import topcoat_from_numbers

AT = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)
LAB = ("SAMPLE_NAME LAB_L LAB_A LAB_B", "Red 45 60 35")
D50 = 'WEIGHTING_FUNCTION "ILLUMINANT, D50"\n'
RED = BookColour("Red", (45.0, 60.0, 35.0))
CXF = write_colours((RED,), "cxf", AT)


def test_what_is_given_fills_in_only_what_the_file_does_not_say() -> None:
    """The file says the illuminant; observer and geometry come from whoever asks."""
    told = Told("D50", 10, "included")
    (red,) = read_colours(cgats(*LAB, head=D50), "x.txt", told).colours
    condition = Condition("D50", 10, "included")
    assert red.condition == condition
    assert red.lab == topcoat_from_numbers("lab", (45, 60, 35), condition).lab


@pytest.mark.parametrize(
    ("content", "given", "said"),
    [
        (cgats(*LAB), Told(illuminant="D50"), "the illuminant D65, not D50"),
        (cgats(*LAB), Told(observer=2), "the observer 10, not 2"),
        (CXF, Told(illuminant="A"), "the illuminant D65, not A"),
        (CXF, Told(observer=2), "the observer 10, not 2"),
    ],
)
def test_what_the_file_says_otherwise_is_refused_in_a_sentence(
    content: bytes, given: Told, said: str
) -> None:
    with pytest.raises(BookError, match=said) as caught:
        read_colours(content, "colours.file", given)
    assert len(str(caught.value)) <= 300


def test_a_spectrum_has_no_illuminant_but_a_geometry() -> None:
    bands, values = flat(0.25)
    content = cgats(f"SAMPLE_NAME {bands}", f"Grey {values}")
    plain = read_colours(content, "x.txt").colours
    assert read_colours(content, "x.txt", Told("A", 2)).colours == plain
    (sphere,) = read_colours(content, "x.txt", Told(specular="included")).colours
    assert sphere.lab[0] < plain[0].lab[0]


def test_a_spectrum_in_cxf_has_no_illuminant_either() -> None:
    spectrum = tuple(np.linspace(0.1, 0.7, 31))
    lab = tuple(map(float, lab_from_reflectance(np.array(spectrum))))
    colour = BookColour("Orange", lab, reflectance=spectrum)
    content = write_colours((colour,), "cxf", AT)
    (found,) = read_colours(content, "x.cxf", Told("A", 2)).colours
    assert found.lab == pytest.approx(lab)


def _cxf_of_xyz() -> bytes:
    """A CxF3 file with X, Y, Z in the place of L*, a*, b*."""
    angles = (AngleReading(15.0, (1.0, 2.0, 3.0)), AngleReading(45.0, (4.0, 5.0, 6.0)))
    colour = BookColour("Silver", (4.0, 5.0, 6.0), angles=angles, kind="metallic")
    text = write_colours((colour,), "cxf", AT).decode()
    for lab, xyz in (
        ((1.0, 2.0, 3.0), (114.0, 120.0, 129.0)),
        ((4.0, 5.0, 6.0), (38.0, 40.0, 43.0)),
    ):
        for name, new, old, value in zip("LAB", "XYZ", lab, xyz, strict=True):
            text = text.replace(
                f"<cc:{name}>{old}</cc:{name}>", f"<cc:{new}>{value}</cc:{new}>"
            )
    return text.replace("ColorCIELab", "ColorCIEXYZ").encode()


@pytest.mark.parametrize(
    "content",
    [
        cgats(
            "SAMPLE_NAME COLOUR_KIND ASPECULAR_ANGLE XYZ_X XYZ_Y XYZ_Z",
            "Silver metallic 15 114 120 129",
            "Silver metallic 45 38 40 43",
        ),
        _cxf_of_xyz(),
    ],
)
def test_xyz_near_the_mirror_is_brighter_than_white(content: bytes) -> None:
    """L* = 116 (Y/100)^(1/3) - 16 above the linear part (CIE 15:2004, 8.2.1.1)."""
    (silver,) = read_colours(content, "silver").colours
    assert silver.kind == "metallic"
    bright, middle = (each.lab[0] for each in silver.angles)
    assert bright == pytest.approx(116.0 * 1.2 ** (1 / 3) - 16.0, abs=1e-6)
    assert middle == pytest.approx(116.0 * 0.4 ** (1 / 3) - 16.0, abs=1e-6)
    assert silver.lab == silver.angles[1].lab


def test_xyz_of_one_angle_is_no_brighter_than_white() -> None:
    content = cgats("SAMPLE_NAME XYZ_X XYZ_Y XYZ_Z", "Red 114 120 129")
    with pytest.raises(BookError, match="Y must not be above 100"):
        read_colours(content, "x.txt")
