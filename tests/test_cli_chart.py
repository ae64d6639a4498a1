"""``chart`` on the command line: a list of colours in, a row to each out."""

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from command_line import Captured, data, refused, run

import shadecore
from shadecore.cli import main

HEADER = (
    "code,undercoat,coats,coats_low,coats_high,closest_in_lightness,closest_coats,"
    "hiding,flags,chance_of_hiding_poorly,last_angle"
)
COLOURS = "code,L,a,b\nRed,45,60,35\nGrün,45,-42,22\nGrey,58,0,2\n"
SHELF_SIZE = len(shadecore.demo_shelf())


def table(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.fixture
def colours(tmp_path: Path) -> str:
    path = tmp_path / "colours.csv"
    path.write_text(COLOURS, "utf-8")
    return str(path)


def test_a_chart(capsys: Captured, colours: str) -> None:
    text = run(capsys, "chart", colours)
    assert text.splitlines()[0] == HEADER
    found = table(text)
    assert [row["code"] for row in found] == ["Red", "Grün", "Grey"]
    single = data(capsys, "pick", "45 60 35")
    assert found[0]["undercoat"] == single["recommended"]
    assert found[0]["closest_in_lightness"] == single["closest_in_lightness"]
    assert found[0]["coats"] == str(single["undercoats"][0]["coats"])
    assert found[0]["hiding"] == single["hiding"]["rating"]
    assert found[0]["flags"].split(";") == [
        flag["code"] for flag in single["flags"] or [{"code": ""}]
    ]


def test_a_chart_of_every_undercoat(capsys: Captured, colours: str) -> None:
    text = run(capsys, "chart", colours, "--every-undercoat")
    assert text.splitlines()[0] == HEADER
    assert len(table(text)) == 3 * SHELF_SIZE


def test_counts_beyond_the_cap_are_empty(capsys: Captured, colours: str) -> None:
    found = table(run(capsys, "chart", colours, "--cap", "1", "--film", "1"))
    assert found[0]["coats"] == found[0]["coats_high"] == ""
    assert "not-within-cap" in found[0]["flags"].split(";")


def test_a_chart_goes_into_a_file_whole(
    capsys: Captured, colours: str, tmp_path: Path
) -> None:
    out = tmp_path / "chart.csv"
    out.write_text("an older chart", "utf-8")
    assert run(capsys, "chart", colours, "--out", str(out)) == ""
    assert out.read_text("utf-8") == run(capsys, "chart", colours)
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        "chart.csv",
        "colours.csv",
    ]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "latin-1"])
def test_a_chart_of_a_list_in_any_encoding(
    capsys: Captured, tmp_path: Path, encoding: str
) -> None:
    path = tmp_path / "colours.csv"
    path.write_bytes(COLOURS.replace("\n", "\r\n").encode(encoding))
    assert "Grün," in run(capsys, "chart", str(path))


def test_bad_rows_are_told_and_the_rest_written(
    capsys: Captured, tmp_path: Path
) -> None:
    path, out = tmp_path / "colours.csv", tmp_path / "chart.csv"
    path.write_text(
        "# list\ncode,L,a,b\nRed,45,60,35\n\nOdd,pink,0,0\nToo,120,0,0\nGrey,58,0,2\n"
    )
    assert main(["chart", str(path), "--out", str(out)]) == 1
    said = capsys.readouterr()
    first, second = said.err.splitlines()
    assert "colours.csv, line 5: " in first
    assert "'pink'" in first
    assert "colours.csv, line 6: " in second
    assert "L* must lie" in second
    written = table(out.read_text("utf-8"))
    assert [row["code"] for row in written] == ["Red", "Grey"]


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (b"", "is empty"),
        (b"code,L,a\nRed,45,60\n", "no column b"),
        (b"PK\x03\x04\x00\x00", "not a text file"),
        (b"code,L,a,b\nRed,450,60,35\n", "line 2"),
    ],
)
def test_an_unusable_list_leaves_an_older_chart_alone(
    capsys: Captured, tmp_path: Path, content: bytes, part: str
) -> None:
    path, out = tmp_path / "colours.csv", tmp_path / "chart.csv"
    path.write_bytes(content)
    out.write_text("an older chart", "utf-8")
    assert part in refused(capsys, "chart", str(path), "--out", str(out))
    assert out.read_text("utf-8") == "an older chart"
    assert len(list(tmp_path.iterdir())) == 2


def test_a_missing_list_is_named(capsys: Captured, tmp_path: Path) -> None:
    path = tmp_path / "missing.csv"
    assert path.name in refused(capsys, "chart", str(path))


def test_a_place_that_cannot_be_written_leaves_nothing(
    capsys: Captured, colours: str, tmp_path: Path
) -> None:
    out = tmp_path / "missing" / "chart.csv"
    said = refused(capsys, "chart", colours, "--out", str(out))
    assert str(out) in said
    assert "cannot be written" in said
    folder = tmp_path / "folder"
    folder.mkdir()
    assert "cannot be written" in refused(
        capsys, "chart", colours, "--out", str(folder)
    )
    names = sorted(each.name for each in tmp_path.iterdir())
    assert names == ["colours.csv", "folder"]


def test_twenty_thousand_colours(capsys: Captured, tmp_path: Path) -> None:
    """A hundred colours over and over: the rows are what is many here."""
    rng = np.random.default_rng(2)
    few = np.column_stack([rng.uniform(10, 90, 100), rng.normal(0, 15, (100, 2))])
    lab = np.tile(few, (200, 1))
    path, out = tmp_path / "colours.csv", tmp_path / "chart.csv"
    rows = [f"c{i},{x:.2f},{a:.2f},{b:.2f}" for i, (x, a, b) in enumerate(lab)]
    path.write_text("\n".join(["code,L,a,b", *rows]), "utf-8")
    assert run(capsys, "chart", str(path), "--out", str(out)) == ""
    written = table(out.read_text("utf-8"))
    assert len(written) == 20_000
    assert (written[0]["code"], written[-1]["code"]) == ("c0", "c19999")
    first, last = ({**row, "code": ""} for row in (written[0], written[-100]))
    assert first == last
