"""Tables as people save them: encodings, delimiters, comments and line numbers."""

import tracemalloc
from collections.abc import Callable
from itertools import chain, repeat
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import CardError, TableError
from shadecore.formats.bad_rows import BadRow, BadRows, at_row
from shadecore.formats.table import (
    Row,
    decode,
    read_rows,
    read_text,
)
from shadecore.formats.text_file import open_text

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
        assert path.name in str(caught.value)
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


# Files of any size


def megabytes(work: Callable[[], object]) -> float:
    """Most memory that some work holds at a time."""
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("filling", ["\n", " , \n", "# remark\n", "x,y\n"])
def test_memory_stays_flat_for_a_large_file(tmp_path: Path, filling: str) -> None:
    path = tmp_path / "large.csv"
    with path.open("w") as file:
        file.writelines(chain(["name,L\n"], repeat(filling, 40_000), ["Dark,40\n"]))
    last: list[Row] = []

    def read() -> None:
        for row in read_rows(open_text(path), "large.csv", ("name", "l")):
            last[:] = [row]

    # A block of the file's bytes, and nothing of the rows that were read before: each
    # takes 300 bytes.
    assert megabytes(read) < 3.0
    assert last[0] == Row(40_002, {"name": "Dark", "l": "40"})


def test_rows_come_as_they_are_read() -> None:
    """The end of a table is not looked at before its rows are used."""
    rows_of_it = read_rows("name,L\nWhite,90\nDark,40\n" + "x" * 200_000, "x", ())
    assert next(rows_of_it).text("name") == "White"
    assert next(rows_of_it).text("name") == "Dark"
    with pytest.raises(TableError, match="line 4 has more than 100,000 characters"):
        next(rows_of_it)


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1", "cp1252"]
)
def test_encodings_of_a_file_read_in_blocks(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "shelf.csv"
    text = "name,L\n" + "Wei\N{LATIN SMALL LETTER SHARP S},90\n" * 2000
    path.write_bytes(text.encode(encoding))
    found = read_rows(open_text(path), "x", ("name", "l"))
    assert {row.text("name") for row in found} == {"Weiß"}


@given(st.binary(max_size=300))
@settings(derandomize=True, deadline=None)
def test_a_file_is_read_in_blocks_as_it_is_read_whole(content: bytes) -> None:
    def told(read: Callable[[], list[Row]]) -> object:
        try:
            return read()
        except TableError as error:
            return str(error)

    import tempfile  # noqa: PLC0415 - a fixture would be one folder for all examples

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x"
        path.write_bytes(b"name,L\n" + content)
        whole = told(lambda: list(read_rows(read_text(path), "x", ("name",))))
        assert told(lambda: list(read_rows(open_text(path), "x", ("name",)))) == whole


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name,L\n" + "x" * 100_001, "line 2 has more than 100,000 characters"),
        ('name,L\nWhite,90\n"Dark,40\n' + "x\n" * 2000, "line 3: a quote is opened"),
        ('name,L\n"' + "x" * 99_000 + "\n" + "x" * 99_000, "line 2: a quote is opened"),
        (",".join(f"c{n}" for n in range(1001)), "has 1,001 columns (line 1)"),
        ("name,L,l\n", "two columns called 'l'; rename one"),
    ],
)
def test_what_is_no_table_is_refused_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(TableError) as caught:
        rows(text)
    assert said in str(caught.value)
    assert len(str(caught.value)) <= 300


def test_a_table_without_end_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shadecore.formats.table_lines.MOST_LINES", 500)
    assert len(rows("name,L\n" + "a,1\n" * 499)) == 499
    for filling in ("a,1\n", "\n", "# a\n"):
        with pytest.raises(TableError, match="more than 500 lines; split it"):
            rows("name,L\n" + filling * 500)


def test_a_cell_that_is_too_long_costs_only_its_row() -> None:
    long, short = rows(f"name,L\n{'x' * 50_000},{'9' * 5000}\nDark,40\n")
    with pytest.raises(TableError, match="50,000 characters, more than 1,000; shorten"):
        long.text("name")
    with pytest.raises(TableError, match="'l' holds 5,000 characters"):
        long.number("l")
    with pytest.raises(TableError) as caught:
        Row(1, {"l": "9" * 900}).number("l")
    assert f"'{'9' * 40}...', which is not a number" in str(caught.value)
    assert short.number("l") == 40.0


def test_bad_rows_are_named_up_to_twenty_and_counted_from_there() -> None:
    bad = BadRows()
    for line in range(2, 22):
        bad.add(line, "no.")
    assert bad.found() == tuple(BadRow(line, "no.") for line in range(2, 22))
    for line in range(30, 10_000):
        bad.add(line, "no.")
    assert len(bad.found()) == 21
    assert str(bad.found()[-1]) == (
        "line 30: 9,970 more rows from here on cannot be used, the last on line "
        "9,999; mend those above first."
    )


def test_a_row_and_a_table_without_use_are_named_in_one_short_sentence() -> None:
    name, row = "x" * 500 + ".csv", Row(7, {})
    with pytest.raises(CardError) as caught, at_row(row, name, CardError):
        raise TableError("no." + "y" * 500)
    assert len(str(caught.value)) <= 300
    assert "x.csv, line 7: no.y" in str(caught.value)
    bad = BadRows()
    assert bad.none_used("a.csv", "colour") == (
        "a.csv holds no colour that can be used."
    )
    bad.add(3, "no." + "y" * 500)
    assert len(bad.none_used(name, "colour")) <= 300


def test_a_line_in_a_quoted_cell_is_no_comment() -> None:
    first, second = rows('name,L\n"a\n# b\n\nsep= c",90\n# remark\nDark,40\n')
    assert first.cells["name"] == "a\n# b\n\nsep= c"
    assert (first.line, second.line) == (2, 7)


def test_the_delimiter_is_not_looked_for_in_quotes() -> None:
    (only,) = rows('"name","L","a;b;c;d"\nWhite,90,x\n')
    assert only.cells == {"name": "White", "l": "90", "a;b;c;d": "x"}
