"""``photo`` on the command line: what it says, and what it refuses."""

import json
from pathlib import Path

import pytest
from photo_scenes import encoded, scene, share, stored

from shadecore.cli import main

RED = (45.0, 55.0, 30.0)
FOUND = ("--reference", "found")
SWATCH, CARD = (60, 60, 290, 240), (330, 60, 510, 240)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("photo")
    red, blue = (encoded(scene(lab)) for lab in (RED, (35.0, 0.0, -35.0)))
    for name, levels in (
        ("chart.png", red),
        ("card.png", red[:300]),
        ("blue.png", blue),
    ):
        (folder / name).write_bytes(stored(levels))
    (folder / "words.jpg").write_text("no picture", "utf-8")
    return {path.name: str(path) for path in folder.iterdir()}


def percents(box: tuple[int, int, int, int], height: int) -> str:
    left, top, right, bottom = share(box)
    scale = 700 / height
    shares = (left, top * scale, right, bottom * scale)
    return ",".join(f"{100 * each:.2f}" for each in shares)


def test_a_photo_gives_colour_and_pick(
    files: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["photo", files["card.png"], *FOUND]) == 0
    out = capsys.readouterr().out
    assert "±" in out
    assert "Sealer" in out
    assert "read off a photo" in out
    assert "Guessed on card.png: swatch at" in " ".join(out.split())
    assert all(len(line) <= 79 for line in out.splitlines())


def test_a_chart_gives_the_colour_closely(
    files: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["photo", files["chart.png"], "--against", "chart", "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    found = record["photo"]
    assert found["lab"] == pytest.approx(RED, abs=1.5)
    assert len(found["covariance"]) == 3
    assert set(found["doubt"]) == {"noise", "reference", "light", "camera"}
    assert all(half > 0.0 for half in found["interval_95"])
    assert record["recommended"]
    assert found["settled"] == (max(found["choices"].values()) >= 0.8)
    assert found["left_out"] is None


def test_a_colour_off_a_photo_is_kept_with_its_doubt(
    files: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    shot = ["photo", files["chart.png"], "--against", "chart", "--json"]
    assert main([*shot, "--keep", "Off a photo"]) == 0
    first = json.loads(capsys.readouterr().out)
    assert main(["pick", "kept:Off a photo", "--json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert again["basis"] == "photo"
    assert again["undercoats"] == first["undercoats"]


def test_places_may_be_given(
    files: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["photo", files["card.png"], "--json", "--light", "daylight"]
    words += ["--swatch", percents(SWATCH, 300), "--reference", percents(CARD, 300)]
    assert main(words) == 0
    given = json.loads(capsys.readouterr().out)["photo"]["lab"]
    words = ["photo", files["card.png"], "--json", "--light", "daylight"]
    assert main([*words, *FOUND]) == 0
    found = json.loads(capsys.readouterr().out)["photo"]["lab"]
    assert given == pytest.approx(found, abs=1.0)


def test_the_odd_photo_is_named(
    files: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    good, odd = files["chart.png"], files["blue.png"]
    assert main(["photo", good, odd, good, good, "--against", "chart"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "shows another colour than the other photos" in out
    assert Path(odd).name in out.replace(" ", "")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["words.jpg"], "is not a picture this tool reads"),
        (["nowhere.jpg"], "cannot be read"),
        (["card.png", "--against", "chart"], "No 24-patch chart was found"),
        (["card.png"], "Is it the grey card that lies at"),
        (["card.png", "--against", "white paper"], "Is it the matt white paper"),
        (["card.png", "--against", "moon"], "is not something to measure against"),
        (["card.png", "--against", "5"], "must lie between 20 and 100"),
        (["card.png", "--swatch", "1,2,3"], "An area has four sides"),
        (["card.png", "--swatch", "nan,0,50,50"], "An area has four sides"),
        (["card.png", "--swatch", "10,20,390,80"], "from 0 to 100 percent"),
        (["chart.png", "--against", "chart", "--reference", "1,2,3"], "four corners"),
        (["card.png", "--swatch", "a,b,c,d"], "is not a place"),
        (["card.png", "--swatch", "40,20,50,60", *FOUND], "card overlap"),
    ],
)
def test_what_cannot_be_measured_is_said(
    files: dict[str, str],
    words: list[str],
    said: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    name, *rest = words
    assert main(["photo", files.get(name, name), *rest]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
