"""Colours read at several aspecular angles: what is taken, and what is refused."""

import numpy as np
import pytest

from shadecore.colour.angle_table import (
    parse_angle_list,
    readings_from_pairs,
    readings_from_spectra,
    readings_from_text,
)
from shadecore.colour.angles import STANDARD_ANGLES_DEG, AngleReadings, angle_readings
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.condition import Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import ColourError, ShadecoreError, SpectrumError, TableError

SILVER = {
    15.0: (109.0, 0.2, -1.0),
    25.0: (77.0, 0.1, -0.8),
    45.0: (35.0, -0.3, -1.6),
    75.0: (18.0, -0.4, -2.0),
    110.0: (13.5, -0.5, -2.2),
}
"""L* of a silver at five angles: fits to the MERL measurements of 2003."""


def silver(**changed: tuple[float, float, float]) -> AngleReadings:
    given = SILVER | {float(k[1:]): v for k, v in changed.items()}
    return angle_readings(given.items())


def test_readings_come_out_in_order_whatever_the_order_they_came_in() -> None:
    shuffled = [(a, SILVER[a]) for a in (45.0, 110.0, 15.0, 75.0, 25.0)]
    readings = angle_readings(shuffled)
    assert readings.angles == STANDARD_ANGLES_DEG
    assert readings.lab == tuple(SILVER.values())
    assert readings.at(110.0) == SILVER[110.0]
    np.testing.assert_array_equal(readings.places, np.arange(5))


def test_a_face_above_100_is_right() -> None:
    assert silver(a15=(136.0, 0.0, -1.0)).at(15.0)[0] == 136.0


def test_45_alone_is_enough() -> None:
    readings = angle_readings([(45.0, SILVER[45.0])])
    assert readings.angles == (45.0,)
    np.testing.assert_array_equal(readings.places, [2])


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([(15.0, SILVER[15.0])], "45 degrees is missing"),
        ([(45.0, SILVER[45.0]), (45.0, SILVER[45.0])], "45 degrees is given twice"),
        ([(45.0, SILVER[45.0]), (60.0, SILVER[75.0])], "60 degrees is no standard"),
        ([(45.0, SILVER[45.0]), (np.nan, SILVER[75.0])], "no standard"),
        ([(45.0, (np.nan, 0.0, 0.0))], "no number"),
        ([(45.0, (np.inf, 0.0, 0.0))], "no number"),
        ([(45.0, (-1.0, 0.0, 0.0))], "L* at 45 degrees"),
        ([(45.0, (250.0, 0.0, 0.0))], "L* at 45 degrees"),
        ([(45.0, (40.0, 300.0, 0.0))], "a* and b* at 45 degrees"),
        ([(15.0, SILVER[110.0]), (45.0, SILVER[45.0])], "face is darker than the flop"),
        ([(45.0, SILVER[45.0]), (110.0, (0.5,) * 31)], "not both"),
        ([(45.0, (0.5,) * 30)], "31 numbers"),
        ([(45.0, (-0.1,) * 31)], "below 0"),
    ],
)
def test_what_cannot_be_right_is_said_in_one_sentence(given, said) -> None:  # type: ignore[no-untyped-def] # noqa: ANN001
    with pytest.raises(ColourError) as caught:
        angle_readings(given)
    assert said in str(caught.value)
    assert str(caught.value).endswith(".")
    assert "\n" not in str(caught.value)


def test_the_mirror_reflection_is_never_in() -> None:
    with pytest.raises(ColourError, match="mirror reflection"):
        angle_readings(SILVER.items(), Condition(specular="included"))


def test_a_solid_s_angles_may_differ_by_noise() -> None:
    flat = angle_readings(
        [(15.0, (60.0, 0, 0)), (45.0, (60.4, 0, 0)), (110.0, (60.9, 0, 0))]
    )
    assert flat.at(110.0)[0] == 60.9


def test_other_illuminants_as_for_solids_below_100() -> None:
    """The solid conversion is checked against colour-science; L* stays below 100."""
    d50 = Condition(illuminant="D50", observer=2)
    readings = angle_readings([(45.0, (50.0, 20.0, -10.0))], d50)
    expected = lab_from_lab((50.0, 20.0, -10.0), d50)
    np.testing.assert_allclose(readings.at(45.0), expected, atol=1e-9)


def test_a_white_stays_neutral_above_100_under_another_illuminant() -> None:
    readings = angle_readings(
        [(15.0, (120.0, 0.0, 0.0)), (45.0, (50.0, 0.0, 0.0))],
        Condition(illuminant="A", observer=2),
    )
    np.testing.assert_allclose(readings.at(15.0), (120.0, 0.0, 0.0), atol=1e-6)


# Text -----------------------------------------------------------------------------


def test_pairs_of_the_command_line() -> None:
    pairs = [("45", "35 -0.3 -1.6"), ("15", "109 0.2 -1"), ("110", "13.5,-0.5,-2.2")]
    readings = readings_from_pairs(pairs)
    assert readings.angles == (15.0, 45.0, 110.0)
    assert readings.at(110.0) == (13.5, -0.5, -2.2)


@pytest.mark.parametrize(
    "pair", [("face", "109 0 -1"), ("15", "109 0"), ("15", "bright"), ("15", "")]
)
def test_pairs_that_cannot_be_read(pair: tuple[str, str]) -> None:
    with pytest.raises(ColourError):
        readings_from_pairs([("45", "35 0 -1"), pair])


@pytest.mark.parametrize(
    "text",
    [
        "15 109.0 0.2 -1.0\n45 35.0 -0.3 -1.6\n110 13.5 -0.5 -2.2",
        (
            "Angle\tL*\ta*\tb*\n15\N{DEGREE SIGN}\t109.0\t0.2\t-1.0\n"
            "45\N{DEGREE SIGN}\t35.0\t-0.3\t-1.6\n"
            "110\N{DEGREE SIGN}\t13.5\t-0.5\t-2.2\n"
        ),
        (
            "Winkel;L*;a*;b*\nas15;109,0;0,2;-1,0\n"
            "as45;35,0;-0,3;-1,6\nas110;13,5;-0,5;-2,2"
        ),
        "15,109.0,0.2,-1.0\n45,35.0,-0.3,-1.6\n110,13.5,-0.5,-2.2",
        "\t15\t45\t110\nL*\t109\t35\t13.5\na*\t0.2\t-0.3\t-0.5\nb*\t-1\t-1.6\t-2.2",
        (
            "45 35.0 \N{MINUS SIGN}0.3 \N{MINUS SIGN}1.6 extra\n"
            "15 109 0.2 -1\n110 13.5 -0.5 -2.2"
        ),
    ],
)
def test_tables_as_they_are_pasted(text: str) -> None:
    readings = readings_from_text(text)
    assert readings.angles == (15.0, 45.0, 110.0)
    for angle in readings.angles:
        np.testing.assert_allclose(readings.at(angle), SILVER[angle])


def test_text_without_a_table_is_refused() -> None:
    with pytest.raises(ColourError, match="one angle a line"):
        readings_from_text("silver, quite bright")


def test_a_list_keeps_good_rows_and_names_bad_ones() -> None:
    text = (
        "code,L15,a15,b15,L45,a45,b45,L110,a110,b110\n"
        "S1,109,0,-1,35,0,-2,13,0,-2\n"
        "S2,,,,35,0,-2,13,0,-2\n"
        "S3,13,0,-2,35,0,-2,109,0,-2\n"
        "S4,109,x,-1,35,0,-2,13,0,-2\n"
        "S5,109,0,-1,,,,13,0,-2\n"
    )
    found = parse_angle_list(text, "list.csv")
    assert found.codes == ("S1", "S2")
    assert found.readings[1].angles == (45.0, 110.0)
    assert [each.line for each in found.bad] == [4, 5, 6]
    assert "face is darker" in found.bad[0].reason
    assert "45 degrees is missing" in found.bad[2].reason


def test_a_list_of_other_angles_is_refused_row_by_row() -> None:
    with pytest.raises(TableError, match="no standard"):
        parse_angle_list("code,L45,a45,b45,L50,a50,b50\nA,35,0,0,30,0,0\n", "x.csv")


def test_a_list_without_45_is_no_such_table() -> None:
    with pytest.raises(TableError, match="l45"):
        parse_angle_list("code,L15,a15,b15\nA,35,0,0\n", "x.csv")


def spectra_table(scale: float, face: float = 1.8) -> str:
    lines = ["wavelength,45,15"]
    lines += [f"{nm},{0.2 * scale},{face * scale}" for nm in range(400, 701, 10)]
    return "\n".join(lines)


@pytest.mark.parametrize("scale", [1.0, 100.0])
def test_spectra_as_factors_and_in_percent(scale: float) -> None:
    readings = readings_from_spectra(spectra_table(scale), "face.csv")
    assert readings.angles == (15.0, 45.0)
    assert readings.reflectance is not None
    np.testing.assert_allclose(readings.reflectance[0], 1.8)
    np.testing.assert_allclose(readings.lab[0], lab_from_reflectance(np.full(31, 1.8)))
    assert readings.lab[0][0] > 100.0


def test_spectra_with_a_gap_are_refused() -> None:
    table = spectra_table(1.0).replace("500,", "505,")
    with pytest.raises(SpectrumError):
        readings_from_spectra(table, "face.csv")


def test_spectra_without_angles_are_refused() -> None:
    with pytest.raises(ShadecoreError, match="column for each angle"):
        readings_from_spectra("wavelength,face\n400,0.1\n410,0.1\n", "face.csv")
