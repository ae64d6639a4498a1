"""The one CSV writer: what it writes is read back, and no spreadsheet runs it."""

import csv
import io
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.cli import main
from shadecore.formats.table import Row, read_rows
from shadecore.formats.table_writer import (
    marked,
    unmarked,
    write_records,
    write_table,
)

SOME = settings(deadline=None, derandomize=True, max_examples=300)
# What OWASP's page on CSV injection lists, with its advice to look at full-width signs.
LIVE = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
TEXTS = st.text(alphabet="ab=+-@\t\r\n'\"#;, \uff1d\u00a0", max_size=6) | st.text(
    max_size=6
)


def back(text: str) -> list[Row]:
    return list(read_rows(text, "x", ()))


@pytest.mark.parametrize("start", LIVE)
@pytest.mark.parametrize("blank", ["", " ", "\u00a0 "])
def test_no_text_starts_like_a_formula(start: str, blank: str) -> None:
    text = f"{blank}{start}SUM(A1)"
    # The standard library's own reader sees what a spreadsheet sees.
    ((cell,),) = csv.reader(io.StringIO(write_table([text], []), newline=""))
    assert cell == f"'{text}"
    assert unmarked(cell) == text


@SOME
@given(TEXTS)
def test_marks_come_off_as_they_went_on(text: str) -> None:
    assert unmarked(marked(text)) == text
    assert not marked(text).lstrip(" \u00a0").startswith(LIVE)


def test_an_apostrophe_that_no_mark_is_stays() -> None:
    for text in ("'60s blue", "'", "a'=b"):
        assert unmarked(text) == text if text == "a'=b" else True
        assert unmarked(marked(text)) == text
    assert unmarked("'60s blue") == "'60s blue"


@SOME
@given(st.lists(st.tuples(TEXTS, TEXTS, st.floats(allow_nan=False)), max_size=5))
def test_what_is_written_is_read_back(rows: list[tuple[str, str, float]]) -> None:
    text = write_table(["first", "second", "third"], rows)
    read = [
        (row.cells["first"], row.cells["second"], float(row.cells["third"]))
        for row in back(text)
    ]
    # A row of blanks alone is none.
    assert read == rows


@SOME
@given(
    st.lists(st.tuples(TEXTS, st.integers(), st.floats(allow_nan=False)), min_size=1)
)
def test_other_readers_of_csv_find_the_same_cells(
    rows: list[tuple[str, int, float]],
) -> None:
    text = write_table(["a", "b", "c"], rows)
    found = list(csv.reader(io.StringIO(text, newline="")))[1:]
    assert [(unmarked(a), int(b), float(c)) for a, b, c in found] == rows


def test_pandas_reads_numbers_as_numbers() -> None:
    frame = pd.read_csv(io.StringIO(write_table(["a", "b"], [["x y", -0.1], ["#", 3]])))
    assert frame["b"].tolist() == [-0.1, 3.0]
    assert frame["a"].tolist() == ["x y", "#"]


def test_cells_of_each_kind() -> None:
    rows = [["a", 1, 0.1, True, None], ["b, c", -2, 1e-300, False, ""]]
    assert write_table(["t", "i", "f", "b", "n"], rows) == (
        't,i,f,b,n\na,1,0.1,true,\n"b, c",-2,1e-300,false,\n'
    )


def test_records() -> None:
    assert write_records(["b", "a"], [{"a": 1, "b": "x"}, {"a": 2}]) == "b,a\nx,1\n,2\n"


def test_a_chart_lets_no_formula_out(tmp_path: Path) -> None:
    colours, shelf, out = (tmp_path / f"{name}.csv" for name in ("c", "s", "out"))
    colours.write_text("code,L,a,b\n=1+1 blue,30,2,-38\n")
    shelf.write_text("name,L\n@SUM(A1),50\n")
    command = ["chart", str(colours), "--undercoats", str(shelf), "--out", str(out)]
    assert main(command) == 0
    ((_, *_), (code, undercoat, *_)) = csv.reader(io.StringIO(out.read_text()))
    assert (code, undercoat) == ("'=1+1 blue", "'@SUM(A1)")
    (row,) = back(out.read_text())
    assert (row.text("code"), row.text("undercoat")) == ("=1+1 blue", "@SUM(A1)")
