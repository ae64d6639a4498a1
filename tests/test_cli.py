"""The command line as a user meets it: answers, refusals, help."""

import json
import math
import os
import subprocess
import sys
from pathlib import Path
from typing import IO, Any

import numpy as np
import pytest
from command_line import Captured, data, refused, run

import shadecore
from shadecore.cli import main
from shadecore.commands.status import READER_GONE


def picked(capsys: Captured, *words: str) -> Any:  # noqa: ANN401 - JSON
    return data(capsys, "pick", *words)


@pytest.mark.parametrize(
    ("words", "lab"),
    [
        (["45", "-40", "20"], (45.0, -40.0, 20.0)),
        (["45 -40 20"], (45.0, -40.0, 20.0)),
        (["45,-40,20"], (45.0, -40.0, 20.0)),
        (["45;-40,5;20,5"], (45.0, -40.5, 20.5)),
        (["--", "45", "-40", "20"], (45.0, -40.0, 20.0)),
        (["L*", "45", "a*", "-40", "b*", "20"], (45.0, -40.0, 20.0)),
        (["L=45", "a=-40", "b=20"], (45.0, -40.0, 20.0)),
        (["lab", "45", "-40", "20"], (45.0, -40.0, 20.0)),
        # C* = 50 at 90 degrees is b* alone.
        (["lch", "45", "50", "90"], (45.0, 0.0, 50.0)),
        (["srgb", "255", "255", "255"], (100.0, 0.0, 0.0)),
        (["rgb", "0", "0", "0"], (0.0, 0.0, 0.0)),
        (["#ffffff"], (100.0, 0.0, 0.0)),
        (["hex", "#000"], (0.0, 0.0, 0.0)),
        # X, Y, Z of white and of 18.4187 percent of it, which is L* 50.
        (["xyz", "94.811", "100", "107.305"], (100.0, 0.0, 0.0)),
        (["XYZ", "17.4629", "18.4187", "19.7642"], (50.0, 0.0, 0.0)),
        (["Yxy", "18.4187", "0.31381", "0.33098"], (50.0, 0.0, 0.0)),
    ],
)
def test_every_notation(
    capsys: Captured, words: list[str], lab: tuple[float, float, float]
) -> None:
    words = ["--json", *words] if words[0] == "--" else [*words, "--json"]
    answer = json.loads(run(capsys, "pick", *words))
    assert answer["topcoat"]["lab_d65_10"] == pytest.approx(lab, abs=0.05)


def test_munsell_notations(capsys: Captured) -> None:
    """Munsell value is a tenth of L* within a point or so."""
    red = picked(capsys, "5R", "4/14")["topcoat"]["lab_d65_10"]
    assert red[0] == pytest.approx(41.0, abs=1.0)
    assert red[1] > 50.0
    grey = picked(capsys, "N", "5")["topcoat"]["lab_d65_10"]
    assert grey == pytest.approx([51.0, 0.0, 0.0], abs=0.5)


def test_a_spectrum_from_a_file(capsys: Captured, tmp_path: Path) -> None:
    """A flat 18.4187 percent is the grey of L* 50."""
    path = tmp_path / "grey.csv"
    lines = [f"{nm},18.4187" for nm in range(400, 701, 10)]
    path.write_text("\n".join(["nm,percent", *lines]), "utf-8")
    found = picked(capsys, "--spectrum", str(path))["topcoat"]
    assert found["lab_d65_10"] == pytest.approx([50.0, 0.0, 0.0], abs=0.01)
    assert "spectrum" in found["entered"]


def test_the_answer_of_the_command_is_that_of_the_library(capsys: Captured) -> None:
    answer = shadecore.pick("72 30 80")
    found = picked(capsys, "72", "30", "80")
    assert found["recommended"] == answer.recommended.undercoat.name
    assert [each["coats"] for each in found["undercoats"]] == [
        each.coats for each in answer.outlooks
    ]
    text = run(capsys, "pick", "72", "30", "80")
    assert answer.recommended.undercoat.name in text
    assert answer.closest.undercoat.name in text


def test_lines_fit_a_terminal(capsys: Captured) -> None:
    rng = np.random.default_rng(5)
    for lightness, a, b in rng.uniform((2, -50, -50), (98, 60, 80), (20, 3)):
        text = run(capsys, "pick", f"{lightness:.2f}", f"{a:.2f}", f"{b:.2f}")
        assert max(map(len, text.splitlines())) <= 79


def test_us_units(capsys: Captured) -> None:
    text = " ".join(run(capsys, "pick", "45", "60", "35", "--units", "us").split())
    assert "mil" in text
    assert "fl oz/ft²" in text


def test_json_holds_finite_numbers_where_nothing_hides(capsys: Captured) -> None:
    found = picked(capsys, "45 60 35", "--cap", "1", "--film", "1")
    assert all(each["coats"] is None for each in found["undercoats"])
    for each in found["undercoats"]:
        assert all(map(math.isfinite, each["de00_left_after_coat"]))


def test_tolerances_by_name_and_by_number(capsys: Captured) -> None:
    found = {
        text: picked(capsys, "45 60 35", "--tolerance", text)["settings"]
        for text in ("beside-old-panel", "whole-car", "1", "2,0", "Whole car")
    }
    assert found["beside-old-panel"] == found["1"]
    assert found["whole-car"] == found["2,0"] == found["Whole car"]
    assert found["1"]["tolerance_de00"] == 1.0
    assert found["whole-car"]["tolerance_de00"] == 2.0


@pytest.mark.parametrize(
    ("words", "film_um"),
    [
        ([], 10.0),
        (["--film", "12.5"], 12.5),
        # wet film x passes x solids x share of paint in the mix
        (["--mix", "1:1"], 38.0 * 2.0 * 0.26 / 2.0),
        (["--mix", "2:1"], 38.0 * 2.0 * 0.26 * 2.0 / 3.0),
        (["--mix", "1:0", "--solids", "20"], 38.0 * 2.0 * 0.20),
        (["--wet", "30"], 30.0 * 2.0 * 0.13),
        (["--overlap", "75"], 38.0 * 4.0 * 0.13),
        (["--overlap", "0", "--wet", "50", "--mix", "4:1"], 50.0 * 0.26 * 0.8),
    ],
)
def test_the_film_of_a_coat(capsys: Captured, words: list[str], film_um: float) -> None:
    found = picked(capsys, "45 60 35", *words)["settings"]["dry_film_um_per_coat"]
    assert found == pytest.approx(film_um, abs=1e-4)


def test_amounts_follow_solids_and_transfer(capsys: Captured) -> None:
    """10 um of film from 30 percent solids, half of it lost, is 66.7 ml a coat."""
    found = picked(
        capsys,
        *("45 60 35", "--film", "10", "--mix", "1:0"),
        *("--solids", "30", "--transfer", "50"),
    )
    best = found["undercoats"][0]
    assert best["paint_ml_per_m2"] == pytest.approx(
        best["coats"] * 10.0 / 0.30 / 0.50, abs=0.06
    )


def test_a_mix_joins_the_undercoats_unless_it_may_not(
    capsys: Captured, tmp_path: Path
) -> None:
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,L\nWhite,90\nBlack,25\n", "utf-8")
    words = ("50 -40 10", "--undercoats", str(shelf))
    plain = picked(capsys, *words, "--no-mixing")["undercoats"]
    mixed = picked(capsys, *words)["undercoats"]
    assert len(plain) == 2
    assert mixed[:2] == plain
    assert [bool(each["parts"]) for each in mixed] == [False, False, True]
    assert mixed[2]["coats"] < min(each["coats"] for each in plain)
    strong = picked(capsys, *words, "--strength", "3")["undercoats"]
    assert strong != mixed


def test_how_the_colour_was_measured_matters(capsys: Captured) -> None:
    there = picked(capsys, "45 60 35")["topcoat"]
    other = picked(capsys, "45 60 35", "--illuminant", "A", "--observer", "2")[
        "topcoat"
    ]
    sphere = picked(capsys, "45 60 35", "--specular", "included")["topcoat"]
    assert there["lab_d65_10"] != other["lab_d65_10"]
    assert sphere["lab_d65_10"][0] < 45.0
    assert "A/2" in other["entered"]


def test_an_own_shelf(capsys: Captured, tmp_path: Path) -> None:
    path = tmp_path / "shelf.csv"
    path.write_text("name;L\nPale;85,5\nDeep;30\n", "utf-8")
    found = picked(capsys, "45 60 35", "--no-mixing", "--undercoats", str(path))
    assert {each["name"] for each in found["undercoats"]} == {"Pale", "Deep"}
    assert found["recommended"] == "Pale"
    assert found["closest_in_lightness"] == "Deep"


def test_a_bad_row_of_the_shelf_is_told_and_the_rest_used(
    capsys: Captured, tmp_path: Path
) -> None:
    path = tmp_path / "shelf.csv"
    path.write_text("# ours\nname,L\nPale,85\nBroken,dark\nDeep,30\n", "utf-8")
    assert main(["pick", "45 60 35", "--undercoats", str(path)]) == 1
    said = capsys.readouterr()
    assert "Pale" in said.out
    assert "shelf.csv, line 4: " in said.err
    assert "'dark'" in said.err
    assert said.err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["45", "60", "35", "--film", "10", "--wet", "30"], "not both"),
        (["45", "60", "35", "--film", "10", "--overlap", "50"], "not both"),
        (["45", "60", "35", "--spectrum", "red.csv"], "--spectrum"),
        ([], "Give the colour"),
        (["red"], "'red'"),
        (["45", "60"], "three"),
        (["45", "60", "35", "20"], "three"),
        (["145", "60", "35"], "between 0 (black) and 100"),
        (["45", "600", "35"], "a* and b*"),
        (["nan", "0", "0"], "must be numbers"),
        (["srgb", "300", "0", "0"], "sRGB"),
        (["#12345"], "#12345"),
        (["5R", "4/99"], "5R 4/99"),
        (["5", "0", "0", "--specular", "included"], "specular"),
        (["45", "60", "35", "--tolerance", "tight"], "'tight'"),
        (["45", "60", "35", "--tolerance", "0"], "between 0.1 and 20"),
        (["45", "60", "35", "--tolerance", "nan"], "between 0.1 and 20"),
        (["45", "60", "35", "--cap", "0"], "between 1 and 50"),
        (["45", "60", "35", "--cap", "51"], "between 1 and 50"),
        (["45", "60", "35", "--film", "0"], "between 0.5 and 200"),
        (["45", "60", "35", "--film", "nan"], "between 0.5 and 200"),
        (["45", "60", "35", "--mix", "2/1"], "'2/1'"),
        (["45", "60", "35", "--mix", "0:1"], "paint above 0"),
        (["45", "60", "35", "--mix", "1:2:3"], "'1:2:3'"),
        (["45", "60", "35", "--overlap", "100"], "overlap"),
        (["45", "60", "35", "--wet", "-3"], "wet film"),
        (["45", "60", "35", "--solids", "0"], "volume solids"),
        (["45", "60", "35", "--solids", "101"], "volume solids"),
        (["45", "60", "35", "--transfer", "0"], "transfer efficiency"),
        (["45", "60", "35", "--undercoats", "missing.csv"], "missing.csv"),
        (["--spectrum", "missing.csv"], "missing.csv"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(
    capsys: Captured, words: list[str], part: str
) -> None:
    assert part in refused(capsys, "pick", *words)


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["guess"],
        ["pick", "45 60 35", "--units", "imperial"],
        ["pick", "45 60 35", "--cap", "2.5"],
        ["pick", "45 60 35", "--illuminant", "D55"],
        ["chart"],
    ],
)
def test_words_that_do_not_exist_show_the_usage(
    capsys: Captured, words: list[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        main(words)
    assert left.value.code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("usage: shadecore")


@pytest.mark.parametrize("words", [["--help"], ["pick", "--help"], ["chart", "-h"]])
def test_help(capsys: Captured, words: list[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(words)
    assert left.value.code == 0
    said = capsys.readouterr()
    assert "usage: shadecore" in said.out
    assert max(map(len, said.out.splitlines())) <= 80
    assert said.err == ""


def test_help_tells_every_option_and_its_default(capsys: Captured) -> None:
    with pytest.raises(SystemExit):
        main(["pick", "--help"])
    told = " ".join(capsys.readouterr().out.split())
    for word in ("whole-car (2)", "beside-old-panel (1)", "10 unless given", "5R 4/14"):
        assert word in told


def python(
    *words: str, stdout: int | IO[bytes] = subprocess.PIPE
) -> subprocess.CompletedProcess[bytes]:
    """Run the package as a program, buffered as it is for a user."""
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    environment.pop("PYTHONUNBUFFERED", None)
    return subprocess.run(
        [sys.executable, "-m", "shadecore", *words],
        stdout=stdout,
        stderr=subprocess.PIPE,
        check=False,
        env=environment,
    )


def test_as_a_module() -> None:
    done = python("pick", "45", "-40", "20")
    assert done.returncode == 0
    assert done.stdout.decode("utf-8").startswith("Topcoat")
    assert done.stderr == b""
    refusal = python("pick", "145", "0", "0")
    assert refusal.returncode == 2
    assert refusal.stdout == b""
    assert refusal.stderr.startswith(b"shadecore: ")


def test_a_reader_that_has_had_enough_has_a_status_of_its_own(tmp_path: Path) -> None:
    """As ``shadecore chart ... | head -1`` does it, with more than a buffer holds."""
    path = tmp_path / "colours.csv"
    rows = [f"c{i},{20 + i % 60},0,0" for i in range(3000)]
    path.write_text("\n".join(["code,L,a,b", *rows]), "utf-8")
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as closed:
        done = python("chart", str(path), stdout=closed)
    assert done.returncode == READER_GONE
    assert done.stderr == b""
