"""Tables as people save them: encodings, delimiters, comments and line numbers."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import TableError
from shadecore.formats.table import BadRow, Row, decode, read_rows, read_text

TABLE = "name,L\nGrün ½,61.5\n"


def rows(text: str, needed: tuple[str, ...] = ("name", "l")) -> list[Row]:
    return list(read_rows(text, "the file", needed))


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1", "cp1252"]
)
def test_common_encodings_are_told_apart(encoding: str) -> None:
    text = decode(TABLE.encode(encoding), "the file")
    assert rows(text)[0].cells == {"name": "Grün ½", "l": "61.5"}


@pytest.mark.parametrize("mark", [b"\xff\xfe", b"\xfe\xff"])
def test_either_order_of_bytes_in_utf_16(mark: bytes) -> None:
    order = "utf-16-le" if mark == b"\xff\xfe" else "utf-16-be"
    assert decode(mark + TABLE.encode(order), "the file") == TABLE


@given(st.binary(max_size=200))
@settings(derandomize=True, deadline=None)
def test_any_bytes_are_text_or_refused_in_a_sentence(content: bytes) -> None:
    marked = content.startswith((b"\xff\xfe", b"\xfe\xff"))
    if b"\0" in content and not marked:
        with pytest.raises(TableError, match=r"the file is not a text file.*CSV"):
            decode(content, "the file")
    else:
        assert len(decode(content, "the file")) <= len(content)


def test_a_binary_file_is_not_a_table() -> None:
    with pytest.raises(TableError, match=r"shelf\.xls is not a text file"):
        decode(b"PK\x03\x04\x00\x00" + bytes(range(256)), "shelf.xls")


def test_files_that_cannot_be_read_are_named(tmp_path: Path) -> None:
    for path in (tmp_path / "missing.csv", tmp_path):
        with pytest.raises(TableError) as caught:
            read_text(path)
        assert str(path) in str(caught.value)
        assert "cannot be read" in str(caught.value)


def test_a_file_is_read_as_its_bytes_are(tmp_path: Path) -> None:
    path = tmp_path / "shelf.csv"
    path.write_bytes(TABLE.encode("utf-16"))
    assert read_text(path) == TABLE


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_delimiters_and_line_endings(delimiter: str, ending: str) -> None:
    text = ending.join(["name,L", "White,90", "Dark,40"]).replace(",", delimiter)
    assert [each.cells for each in rows(text)] == [
        {"name": "White", "l": "90"},
        {"name": "Dark", "l": "40"},
    ]


def test_headings_in_any_case_with_blanks_about_them() -> None:
    for heading in ("NAME,L", " Name , l ", "name  ,  L"):
        assert rows(f"{heading}\nWhite,90\n")[0].number("l") == 90.0


def test_lines_are_counted_with_comments_and_blank_ones() -> None:
    text = "# mine\n\nname,L\n\n# greys\nWhite,90\n   \n  # dark ones\nDark,40\n"
    assert [each.line for each in rows(text)] == [6, 9]


def test_quoted_cells_hold_the_delimiter() -> None:
    cells = rows('name,L\n"White, ""old"" tin",90\n')[0].cells
    assert cells == {"name": 'White, "old" tin', "l": "90"}


def test_more_and_fewer_cells_than_headings() -> None:
    longer, shorter = rows("name,L,price\nWhite,90,1,2,3\nDark,40\n")
    assert longer.cells == {"name": "White", "l": "90", "price": "1"}
    assert shorter.number("l") == 40.0
    with pytest.raises(TableError, match="'price' is empty"):
        shorter.number("price")


@pytest.mark.parametrize("text", ["", "\n \n", "# only a remark\n"])
def test_an_empty_table_names_its_columns(text: str) -> None:
    with pytest.raises(TableError, match=r"the file is empty; it needs .*name, L"):
        rows(text)


def test_a_missing_column_is_named_with_the_line_of_the_heading() -> None:
    with pytest.raises(TableError, match=r"no column L.*line 2.*name, L"):
        rows("# greys\nname,lightness\nWhite,90\n")


@pytest.mark.parametrize(
    ("cell", "value"),
    [
        ("61.5", 61.5),
        ("61,5", 61.5),
        (" 61.5 ", 61.5),
        ("-3.25", -3.25),
        ("\N{MINUS SIGN}3,25", -3.25),
        ("+4", 4.0),
        ("1e1", 10.0),
    ],
)
def test_numbers_as_people_write_them(cell: str, value: float) -> None:
    assert Row(2, {"l": cell}).number("l") == value
    assert Row(2, {"l": cell}).number_or("l", 7.0) == value


def test_cells_that_hold_no_number() -> None:
    with pytest.raises(TableError, match=r"'l' holds 'dark', which is not a number"):
        Row(2, {"l": "dark"}).number("l")
    for empty in ({"l": "  "}, {}):
        with pytest.raises(TableError, match="'l' is empty"):
            Row(2, empty).number("l")
        assert Row(2, empty).number_or("l", 7.0) == 7.0
    with pytest.raises(TableError, match="not a number"):
        Row(2, {"l": "1.234,5"}).number_or("l", 7.0)


def test_a_bad_row_says_where_and_why() -> None:
    assert str(BadRow(12, "no name.")) == "line 12: no name."
