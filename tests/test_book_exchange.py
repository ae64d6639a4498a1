"""Colours in and out by CGATS and CxF3: tolerant readers, round trips, damage."""

import random
from datetime import UTC, datetime
from pathlib import Path

import colour_cxf
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.book.book import open_book
from shadecore.book.errors import BookError
from shadecore.book.exchange import read_colours, write_colours
from shadecore.book.records import AngleReading, BookColour
from shadecore.book.samples import MOST_BYTES
from shadecore.book.told import Told
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.condition import Condition
from shadecore.colour.kinds import KINDS
from shadecore.colour.topcoat import parse_topcoat, topcoat_from_numbers

AT = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)
SAMPLE_CXF = Path(colour_cxf.__file__).parent / "tests" / "resources" / "sample.cxf"
"""The example that colour-cxf brings (BSD-3-Clause)."""

_D65 = (
    'WEIGHTING_FUNCTION "ILLUMINANT, D65"\nWEIGHTING_FUNCTION "OBSERVER, 10 degree"\n'
)


def cgats(fields: str, *rows: str, head: str = _D65) -> bytes:
    lines = (
        f"CGATS.17\n{head}NUMBER_OF_FIELDS {len(fields.split())}\nBEGIN_DATA_FORMAT",
        fields,
        f"END_DATA_FORMAT\nNUMBER_OF_SETS {len(rows)}\nBEGIN_DATA",
        *rows,
        "END_DATA\n",
    )
    return "\n".join(lines).encode()


def flat(value: float, step: int = 10) -> tuple[str, str]:
    bands = range(380, 731, step)
    return (
        " ".join(f"SPECTRAL_{nm}" for nm in bands),
        " ".join(f"{value}" for _ in bands),
    )


def test_lab_of_many_colours_is_read() -> None:
    content = cgats(
        "SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B",
        'R1 "Invented red" 45 60 35',
        'B2 "Blue ""two""" 30.5 5 -40',
    )
    found = read_colours(content, "colours.txt")
    assert [(each.name, each.code, each.lab) for each in found.colours] == [
        ("Invented red", "R1", (45.0, 60.0, 35.0)),
        ('Blue "two"', "B2", (30.5, 5.0, -40.0)),
    ]
    assert found.problems == ()


def test_another_condition_is_carried_to_the_working_one() -> None:
    rows = ('1 "Red" 45 60 35', '2 "Blue" 30 5 -40')
    fields = "SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B"
    silent = read_colours(cgats(fields, *rows, head=""), "x.txt")
    told = read_colours(
        cgats(fields, *rows, head=""), "x.txt", Told("A", 2, "included")
    )
    for found, condition in (
        (silent, Condition("D50", 2)),
        (told, Condition("A", 2, "included")),
    ):
        for each, values in zip(
            found.colours, ((45, 60, 35), (30, 5, -40)), strict=True
        ):
            assert each.lab == topcoat_from_numbers("lab", values, condition).lab
            assert each.condition == condition
            assert parse_topcoat(each.entered, condition).lab == each.lab
    # ISO 13655 is what a file of prints means; that it was taken is said.
    assert "D50/2°" in silent.problems[0]
    assert told.problems == ()


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace(b"\n", b"\r\n"),
        lambda text: text.replace(b"\n", b"\r"),
        lambda text: text.replace(b" ", b"\t"),
        lambda text: text.replace(b"0.25", b"25.0"),
        lambda text: text.replace(b"0.25", b"0,25"),
        lambda text: text.replace(b"0.25", b".25"),
        lambda text: text.replace(b"0.25", b"2.5E-01"),
        lambda text: text.replace(b"SPECTRAL_", b"SPECTRAL_NM"),
        lambda text: text.replace(b"SPECTRAL_", b"SPECTRAL_NM_"),
        lambda text: text.replace(b"SPECTRAL_", b"nm"),
        lambda text: text.replace(b"SPECTRAL_", b""),
        lambda text: text.replace(b"BEGIN_DATA\n", b"# a note\n\nBEGIN_DATA\n# more\n"),
        lambda text: text.replace(b" 0.25", b"\n0.25", 3),
        lambda text: text.decode().encode("utf-16"),
        lambda text: b"\xef\xbb\xbf" + text,
        lambda text: text.replace(b"Grey", b"Gr\xe4y").replace(b"Gr\xe4y", b"Grey"),
    ],
)
def test_spectra_are_read_in_every_dress(change) -> None:  # noqa: ANN001
    bands, values = flat(0.25)
    content = cgats(f"SAMPLE_ID SAMPLE_NAME {bands}", f"1 Grey {values}")
    (grey,) = read_colours(change(content), "grey.txt").colours
    assert grey.name == "Grey"
    assert grey.reflectance == pytest.approx([0.25] * 31)
    assert grey.lab == pytest.approx(tuple(lab_from_reflectance(np.full(31, 0.25))))


def test_pairs_of_wavelength_and_percent_are_read() -> None:
    bands = range(400, 701, 20)
    fields = "SAMPLE_ID SAMPLE_NAME " + "SPECTRAL_NM SPECTRAL_PCT " * len(bands)
    row = "1 Black " + " ".join(f"{nm} 1.5" for nm in bands)
    (black,) = read_colours(cgats(fields, row), "x.txt").colours
    assert black.reflectance == pytest.approx([0.015] * 31)


@pytest.mark.parametrize("step", [1, 2, 5])
def test_finer_spectra_are_thinned(step: int) -> None:
    bands, values = flat(0.25, step)
    (grey,) = read_colours(cgats(f"SAMPLE_ID {bands}", f"a {values}"), "x").colours
    assert grey.reflectance == pytest.approx([0.25] * 31)


def test_angles_are_one_colour() -> None:
    content = cgats(
        "SAMPLE_ID SAMPLE_NAME ASPECULAR_ANGLE LAB_L LAB_A LAB_B",
        "1 Silver 110 40 0 1",
        "2 Silver 15 90 0 2",
        "3 Silver 45as45 60 0 3",
        "4 Grey 45 50 0 0",
    )
    silver, grey = read_colours(content, "x.txt").colours
    assert [each.aspecular_deg for each in silver.angles] == [15.0, 45.0, 110.0]
    assert silver.lab == (60.0, 0.0, 3.0)
    assert (silver.kind, grey.kind) == ("", "solid")


def test_running_numbers_are_not_codes() -> None:
    content = cgats("SAMPLE_ID LAB_L LAB_A LAB_B", "1 50 0 0", "2 60 0 0")
    found = read_colours(content, "week 9.txt").colours
    assert [(each.name, each.code) for each in found] == [
        ("week 9 1", ""),
        ("week 9 2", ""),
    ]


def test_rows_that_cannot_be_used_are_named_and_the_rest_goes_on() -> None:
    content = cgats(
        "SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B",
        "a Red 45 60 35",
        "b Bad 45 sixty 35",
        "c Beyond 145 0 0",
        "d Short 45",
    )
    found = read_colours(content, "x.txt")
    assert [each.name for each in found.colours] == ["Red"]
    assert len(found.problems) == 3
    assert any("'sixty' is not a number" in each for each in found.problems)


def test_xyz_is_read() -> None:
    # The white of D65/10 degrees at Y = 20 is a grey of L* 51.84 (CIE 15).
    content = cgats("SAMPLE_ID XYZ_X XYZ_Y XYZ_Z", "g 18.9622 20 21.461")
    (grey,) = read_colours(content, "x.txt").colours
    assert grey.lab == pytest.approx((51.837, 0.0, 0.0), abs=2e-3)


def test_the_example_of_another_library_is_read() -> None:
    found = read_colours(SAMPLE_CXF.read_bytes(), "sample.cxf")
    example = colour_cxf.read_cxf_from_file(SAMPLE_CXF)
    objects = example.resources.object_collection.object_value
    assert len(found.colours) == len(objects) == 144
    second = next(each for each in found.colours if each.name == "2")
    # What the file holds of it, under D50/2 degrees.
    lab = topcoat_from_numbers(
        "lab", (47.83558, 63.29078, 36.27213), Condition("D50", 2)
    )
    assert second.lab == pytest.approx(lab.lab)
    # Its spectra end at 680 nm.
    assert "spectrum is not used" in found.problems[0]
    assert len(found.problems) == 21


def test_what_is_written_as_cxf_another_library_reads() -> None:
    spectrum = tuple(np.linspace(0.1, 0.7, 31))
    colour = BookColour(
        'Invented <red> & "blue"',
        tuple(lab_from_reflectance(np.array(spectrum))),
        reflectance=spectrum,
        code="X 1",
        angles=(AngleReading(15.0, (60.0, 50.0, 30.0), spectrum),),
    )
    read = colour_cxf.read_cxf(write_colours((colour,), "cxf", AT))
    (sample,) = read.resources.object_collection.object_value
    assert sample.name == colour.name
    spectra = [
        each
        for each in sample.color_values.choice
        if isinstance(each, colour_cxf.cxf3.ReflectanceSpectrum)
    ]
    assert [tuple(each.value) for each in spectra] == [spectrum, spectrum]
    assert spectra[0].start_wl == 400
    (collection,) = [read.resources.color_specification_collection]
    angles = [
        each.measurement_spec.geometry_choice.choice
        for each in collection.color_specification
    ]
    assert angles[1].brdfangle[0].aspecular == 15.0


def test_what_another_library_writes_as_cxf_is_read() -> None:
    colour = BookColour("Invented red", (45.0, 60.0, 35.0))
    written = write_colours((colour,), "cxf", AT)
    again = colour_cxf.write_cxf(colour_cxf.read_cxf(written))
    (found,) = read_colours(again, "x.cxf").colours
    assert (found.name, found.lab) == (colour.name, colour.lab)


_names = st.text(
    st.characters(
        min_codepoint=32, max_codepoint=0x2FFF, exclude_categories=("C", "Z")
    ),
    min_size=1,
    max_size=30,
)
_codes = st.text("ABCDEFGH0123456789 -/", max_size=10).map(str.strip)
_labs = st.tuples(st.floats(5, 95), st.floats(-10, 10), st.floats(-10, 10))
_shining = st.tuples(st.floats(5, 180), st.floats(-10, 10), st.floats(-10, 10))
_spectra = st.lists(st.floats(0.01, 1.0), min_size=31, max_size=31).map(tuple)


@st.composite
def _colours(draw: st.DrawFn) -> BookColour:
    spectrum = draw(st.one_of(st.just(()), _spectra))
    lab = draw(_labs)
    if spectrum:
        lab = tuple(float(v) for v in lab_from_reflectance(np.array(spectrum)))
    angles = draw(
        st.lists(
            st.tuples(st.integers(-15, 110), _shining),
            max_size=4,
            unique_by=lambda a: a[0],
        )
    )
    return BookColour(
        draw(_names),
        lab,
        reflectance=spectrum,
        kind=draw(st.sampled_from(KINDS)),
        code=draw(_codes),
        car=draw(_codes),
        angles=tuple(AngleReading(float(angle), at) for angle, at in sorted(angles)),
    )


@pytest.mark.parametrize("kind", ["cgats", "cxf"])
@settings(max_examples=60, deadline=None)
@given(colours=st.lists(_colours(), min_size=1, max_size=5, unique_by=lambda c: c.name))
def test_what_is_written_is_read_back(kind: str, colours: list[BookColour]) -> None:
    content = write_colours(tuple(colours), kind, AT)
    found = read_colours(content, "x")
    assert found.problems == ()
    back = {each.name: each for each in found.colours}
    for each in colours:
        read = back[each.name]
        assert (read.code, read.car, read.kind) == (each.code, each.car, each.kind)
        assert read.lab == pytest.approx(each.lab, abs=1e-9)
        assert read.reflectance == pytest.approx(each.reflectance, abs=1e-12)
        assert [a.aspecular_deg for a in read.angles] == [
            a.aspecular_deg for a in each.angles
        ]
        for one, other in zip(read.angles, each.angles, strict=True):
            assert one.lab == pytest.approx(other.lab, abs=1e-9)


_BOMB = b"""<?xml version="1.0"?>
<!DOCTYPE CxF [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;">]>
<CxF xmlns="http://colorexchangeformat.com/CxF3-core">&d;</CxF>"""
_OUTSIDE = (
    b"""<!DOCTYPE CxF [<!ENTITY x SYSTEM "file:///etc/hostname">]><CxF>&x;</CxF>"""
)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (_BOMB, "entities, which are refused"),
        (_OUTSIDE, "entities, which are refused"),
        (b"<a>" * 100_000, "nested deeper"),
        (b"<CxF/>", "holds no colour"),
        (b"<html></html>", "not a CxF3 file"),
        (b"<CxF", "not XML that can be read"),
        (b'<?xml version="1.0" encoding="nonsense"?><CxF/>', "not XML"),
        (b"", "is empty"),
        (b"x" * (MOST_BYTES + 1), "20 MB are the most"),
        (b"\x00\x01\x02\x03" * 10, "neither CGATS text nor CxF3"),
        (b"name,L\nred,40\n", "neither CGATS text nor CxF3"),
        (b"BEGIN_DATA_FORMAT\nLAB_L\n", "breaks off inside its data format"),
        (cgats("LAB_L LAB_A LAB_B", "1 2 3")[:-12], "breaks off inside its data"),
        (b"BEGIN_DATA_FORMATS\nBEGIN_DATA\n", "data come before their format"),
        (cgats("SAMPLE_ID", "1"), "holds no colour"),
        (cgats("LAB_L LAB_A LAB_B", "x" * 200_000), "is longer than"),
        (cgats("LAB_L " * 2000, "1"), "too many fields"),
    ],
)
def test_files_that_cannot_be_used_get_one_sentence(content: bytes, words: str) -> None:
    with pytest.raises(BookError, match=words) as caught:
        read_colours(content, "x.txt")
    assert len(str(caught.value)) <= 300
    assert "\n" not in str(caught.value)


def _damaged(content: bytes, rng: random.Random) -> bytes:
    """A file with some of its bytes lost, doubled or changed, or cut off."""
    changed = bytearray(content)
    for _ in range(rng.randint(1, 8)):
        if not changed:
            break
        at = rng.randrange(len(changed))
        kind = rng.randrange(5)
        if kind == 0:
            changed[at] = rng.randrange(256)
        elif kind == 1:
            del changed[at : at + rng.randint(1, 200)]
        elif kind == 2:
            changed[at:at] = changed[at : at + rng.randint(1, 200)]
        elif kind == 3:
            changed[at:at] = rng.choice(
                (
                    b"<",
                    b">",
                    b"&",
                    b'"',
                    b"\0",
                    b"nan",
                    b"1e999",
                    b"-",
                    b"9" * 400,
                    b"\t",
                )
            )
        else:
            del changed[at:]
    return bytes(changed)


def test_large_hostile_files_are_read_in_reasonable_work() -> None:
    """Each of these took time that grew with the square of its length."""
    said = cgats("LAB_L LAB_A LAB_B", "50 0 0", head='NOTE "words"\n' * 50_000)
    assert len(read_colours(said, "x.txt").colours) == 1
    row = "1 Same 45 50 0 0"
    same = cgats("SAMPLE_ID SAMPLE_NAME ANGLE LAB_L LAB_A LAB_B", *[row] * 5000)
    assert read_colours(same, "x.txt").colours
    tables = cgats("LAB_L LAB_A LAB_B", "50 0 0") * 1100
    with pytest.raises(BookError, match="over 1000 tables"):
        read_colours(tables, "x.txt")


def test_damaged_files_are_refused_or_read_in_part(tmp_path: Path) -> None:
    spectrum = tuple(np.linspace(0.1, 0.7, 31))
    lab = tuple(float(v) for v in lab_from_reflectance(np.array(spectrum)))
    silver = AngleReading(15.0, (90.0, 0.0, 2.0))
    colours = (
        *(
            BookColour(f"Colour {i}", lab, reflectance=spectrum, code=f"C{i}")
            for i in range(3)
        ),
        BookColour("Silver", (60.0, 0.0, 1.0), angles=(silver,)),
    )
    whole = [write_colours(colours, kind, AT) for kind in ("cgats", "cxf")]
    rng = random.Random(7)  # noqa: S311 - nothing secret
    refused = 0
    with open_book(tmp_path / "book.sqlite") as book:
        book.add(BookColour("Colour 1", (1.0, 0.0, 0.0), code="C1"))
        before = book.list(BookColour)
        for count in range(500):
            try:
                found = read_colours(_damaged(whole[count % 2], rng), "x.txt")
            except BookError as error:
                refused += 1
                assert len(str(error)) <= 300  # noqa: PT017 - both ways are right
                assert "\n" not in str(error)  # noqa: PT017
                continue
            assert all(len(each) <= 400 for each in found.problems)
            book.plan_import(found.colours)
        assert book.list(BookColour) == before
    assert 50 < refused < 500
