"""``handout`` and ``wallchart`` on the command line."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from shadecore.cli import main
from shadecore.undercoats.shelf_table import demo_shelf

RED = ["48", "62", "40"]


def _text(path: Path) -> str:
    return " ".join(
        " ".join(each.extract_text().split()) for each in PdfReader(path).pages
    )


def test_a_handout_is_written_as_named(tmp_path: Path) -> None:
    pdf, page = tmp_path / "red.pdf", tmp_path / "red.html"
    assert main(["handout", *RED, "--out", str(pdf)]) == 0
    assert main(["handout", *RED, "--out", str(page)]) == 0
    for each in demo_shelf():
        assert each.name in _text(pdf)
        assert each.name in page.read_text("utf-8")


def test_options_reach_the_handout(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,L\nsnow,92\nsoot,22\nodd,x\n", "utf-8")
    out = tmp_path / "red.pdf"
    words = ["--undercoats", str(shelf), "--tolerance", "1", "--film", "12"]
    assert main(["handout", *RED, "--out", str(out), *words, "--units", "us"]) == 1
    text = _text(out)
    assert "snow" in text
    assert "0.47 mil" in text
    assert "difference of 1 (CIEDE2000)" in text
    assert demo_shelf()[0].name not in text


@pytest.mark.parametrize("command", [["handout", *RED], ["wallchart", "p.csv"]])
def test_another_kind_of_file_is_refused(
    command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*command, "--out", "page.docx"]) == 2
    assert "neither .pdf nor .html" in capsys.readouterr().err


def test_a_bad_row_is_named_and_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    palette = tmp_path / "palette.csv"
    palette.write_text("code,L,a,b\nR1,48,62,40\nR2,oops,0,0\nR3,66,0,-1\n", "utf-8")
    out = tmp_path / "chart.pdf"
    assert main(["wallchart", str(palette), "--out", str(out)]) == 1
    assert "line 3" in capsys.readouterr().err
    text = _text(out)
    assert "R1" in text
    assert "R3" in text
    assert "R2" not in text


def test_a_palette_without_a_colour_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    palette = tmp_path / "palette.csv"
    palette.write_text("code,L,a,b\nR2,oops,0,0\n", "utf-8")
    out = tmp_path / "chart.html"
    assert main(["wallchart", str(palette), "--out", str(out)]) == 2
    assert "no colour that can be used" in capsys.readouterr().err
    assert not out.exists()


def test_a_wall_chart_on_a3_is_the_one_on_a4_made_larger(tmp_path: Path) -> None:
    """ISO 216: A3 measures 297 by 420 mm; letters grow with the sheet."""
    palette = tmp_path / "palette.csv"
    palette.write_text("code,L,a,b\nTile red,48,62,40\nSea blue,32,0,-34\n", "utf-8")
    sizes, heights = [], []
    for paper in ("a4", "a3"):
        out = tmp_path / f"{paper}.pdf"
        words = ["wallchart", str(palette), "--out", str(out), "--paper", paper]
        assert main(words) == 0
        assert "Tile red" in _text(out)
        page = PdfReader(out).pages[0]
        sizes.append([float(each) * 25.4 / 72 for each in page.mediabox[2:]])
        found: list[float] = []
        page.extract_text(visitor_text=lambda *part, into=found: into.append(part[-1]))
        heights.append(max(found))
    assert sizes[1] == pytest.approx([297, 420], abs=0.5)
    assert heights[1] == pytest.approx(2**0.5 * heights[0], rel=0.02)
