"""The commands beside pick, chart and plan: what they say is what the library says."""

import re
from pathlib import Path

import pytest
from command_line import BLACK, RED, WHITE, Captured, flat, refused, run

from shadecore.card.card_table import parse_card
from shadecore.card.fit import fit_card
from shadecore.card.hiding_power import hiding_power
from shadecore.cli import main
from shadecore.coats.cost import Rates, costs
from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import parse_topcoat
from shadecore.film.build import CoatFilm, coat_film
from shadecore.film.gun import mix_film, wet_pass_from_gun
from shadecore.pages.text_layout import WIDTH
from shadecore.telling.hiding_words import hiding_power_words
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.units import UNITS

CARD = (
    "area,coats,L,a,b\nblack,2,38.4,48.1,27.0\nwhite,2,47.6,62.4,37.6\nfull,,45,60,35\n"
)


@pytest.fixture
def card(tmp_path: Path) -> str:
    path = tmp_path / "card.csv"
    path.write_text(CARD, "utf-8")
    return str(path)


def test_patches_name_areas_and_sealer(capsys: Captured) -> None:
    text = run(capsys, "sand-throughs", *RED, "--area", WHITE, "--area", BLACK)
    best = pick(parse_topcoat(" ".join(RED)), demo_shelf()).recommended
    assert f"{WHITE} / {BLACK}" in text
    assert f"Sealed with {best.undercoat.name} first" in flat(text)
    assert f"hides in {best.coats} coats: seal first." in flat(text)


def test_alike_areas_need_no_sealer(capsys: Captured, tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,L\nsnow,92\nmilk,91.5\n", "utf-8")
    words = ("--area", "snow", "--area", "milk", "--undercoats", str(shelf))
    text = flat(run(capsys, "sand-throughs", *RED, *words))
    assert "alike from 1 coat on" in text
    assert "sealing saves no colour here" in text


def test_an_area_that_is_not_on_the_shelf(capsys: Captured) -> None:
    said = refused(capsys, "sand-throughs", *RED, "--area", WHITE, "--area", "Pink")
    assert "'Pink' is not on the shelf; it has" in said
    assert BLACK in said


@pytest.mark.parametrize("areas", [(), (WHITE,)])
def test_one_area_is_no_comparison(capsys: Captured, areas: tuple[str, ...]) -> None:
    words = [word for area in areas for word in ("--area", area)]
    assert "at least two areas" in refused(capsys, "sand-throughs", *RED, *words)


def test_the_same_area_twice(capsys: Captured) -> None:
    said = refused(capsys, "sand-throughs", *RED, "--area", WHITE, "--area", WHITE)
    assert f"'{WHITE}'" in said


def test_grounds_of_the_shops_own_colours(capsys: Captured, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("code,L,a,b\nBrick,44,55,34\nNavy,20,5,-30\n", "utf-8")
    text = run(capsys, "grounds", *RED, "--colours", str(own))
    lines = text.splitlines()
    assert lines[0].split()[:3] == ["Under", "the", "colour"]
    assert any(line.startswith("Brick, over ") for line in lines)
    assert any("base coat" in line and WHITE in line for line in lines)
    totals = [
        int(found[1]) for line in lines if (found := re.search(r"(\d+) +\d+ ml", line))
    ]
    assert len(totals) > 2
    assert totals == sorted(totals)
    assert "data sheet" in flat(text)


def test_a_bad_row_of_the_shops_colours_costs_only_itself(
    capsys: Captured, tmp_path: Path
) -> None:
    own = tmp_path / "own.csv"
    own.write_text("code,L,a,b\nBrick,44,55,34\nOdd,x,0,0\n", "utf-8")
    assert main(("grounds", *RED, "--colours", str(own))) == 1
    said = capsys.readouterr()
    assert "Brick" in said.out
    assert f"{own}, line 3" in said.err


def test_mixes(capsys: Captured) -> None:
    text = run(capsys, "reductions", *RED)
    assert [line.split()[0] for line in text.splitlines()[1:3]] == ["1:1", "2:1"]
    assert max(map(len, text.splitlines())) <= WIDTH


def test_other_mixes(capsys: Captured) -> None:
    words = ("--against", "4:1", "--against", "1:0", "--minutes-per-coat", "7")
    words += ("--wet", "38")
    text = run(capsys, "reductions", *RED, *words)
    first, second = text.splitlines()[1:3]
    thick = mix_film((4.0, 1.0), 38.0, 0.5, 0.26, 0.65)
    assert first.startswith("4:1 ")
    assert second.startswith("1:0 ")
    assert f"{thick.film.dry_film_um:.0f} µm" in first
    assert f"{100 * thick.run_share:.0f} %" in first
    answer = pick(parse_topcoat(" ".join(RED)), demo_shelf(), Settings(film=thick.film))
    coats = answer.recommended.coats
    assert coats is not None
    assert f" {coats} (" in first
    assert f"{7 * coats} min" in first


@pytest.mark.parametrize("mix", ["2", "2:1:1", "a:b", "0:1", "1:-1", ":", "1:nan"])
def test_what_is_no_mix(capsys: Captured, mix: str) -> None:
    assert "1:1 or 2:1" in refused(capsys, "reductions", *RED, "--against", mix)


def test_cost(capsys: Captured) -> None:
    words = ("--area-m2", "4", "--topcoat-price-per-l", "80", "--hourly-rate", "60")
    text = run(capsys, "cost", *RED, *words)
    rates = Rates(area_m2=4.0, topcoat_price_per_l=80.0, hourly_rate=60.0)
    answer = pick(parse_topcoat(" ".join(RED)), demo_shelf())
    found = costs(answer, rates)
    names = tuple(each.outlook.undercoat.name for each in found)
    lines = [line for line in text.splitlines() if line.startswith(names)]
    for line, each in zip(lines, found, strict=True):
        assert line.startswith(each.outlook.undercoat.name)
        assert f" {each.money:.2f} " in line
        assert line.endswith(f"{each.more_than_best:+.2f}")
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize("price", ["-1", "nan", "inf"])
def test_a_price_that_cannot_be(capsys: Captured, price: str) -> None:
    said = refused(capsys, "cost", *RED, f"--hourly-rate={price}")
    assert "hourly rate must be zero or more" in said


def test_pick_with_a_card(capsys: Captured, card: str) -> None:
    text = run(capsys, "pick", *RED, "--card", card)
    topcoat = parse_topcoat(" ".join(RED))
    film = CoatFilm()
    fit = fit_card(topcoat, parse_card(CARD, card), film.dry_film_um)
    answer = pick(topcoat, demo_shelf(), paints=fit.paints)
    power = hiding_power(fit.paints, film.volume_solids)
    assert f"Sealer {answer.recommended.undercoat.name}" in flat(text)
    assert "fitted to the test card" in flat(text)
    assert hiding_power_words(power, UNITS["metric"]) in flat(text)
    assert max(map(len, text.splitlines())) <= WIDTH
    assert flat(text) != flat(run(capsys, "pick", *RED))


def test_a_card_in_us_units(capsys: Captured, card: str) -> None:
    text = flat(run(capsys, "pick", *RED, "--card", card, "--units", "us"))
    assert "ft²/gal" in text
    assert "m²/L" not in text


@pytest.mark.parametrize("command", ["cost", "grounds", "reductions", "sand-throughs"])
def test_every_command_takes_the_card(
    capsys: Captured, command: str, card: str
) -> None:
    areas = ("--area", WHITE, "--area", BLACK) if command == "sand-throughs" else ()
    words = (command, *RED, *areas)
    assert run(capsys, *words) != run(capsys, *words, "--card", card)


def test_a_wrong_card_is_named_by_its_line(capsys: Captured, tmp_path: Path) -> None:
    path = tmp_path / "card.csv"
    path.write_text("area,coats,L\nblack,2,30\ngrey,2,40\n", "utf-8")
    said = refused(capsys, "pick", *RED, "--card", str(path))
    assert "card.csv, line 3" in said
    said = refused(capsys, "pick", *RED, "--card", f"{path}.none")
    assert "cannot be read" in said


def test_the_gun_gives_the_wet_film(capsys: Captured) -> None:
    """200 ml/min on 25 cm at 40 cm/s are 33.3 ml/m2, of which 65 percent stay."""
    by_gun = run(capsys, "pick", *RED, "--gun", "200,25,40")
    wet = 200.0 / 60.0 / (0.25 * 0.40) * 0.65
    assert wet_pass_from_gun(200.0, 25.0, 40.0, 0.65) == pytest.approx(wet)
    assert by_gun == run(capsys, "pick", *RED, "--wet", repr(wet))
    film = coat_film(wet, 0.5, 0.26, (1.0, 1.0), 0.65).dry_film_um
    assert f"{film:.0f} µm dry film a coat" in flat(by_gun)


def test_the_gun_with_transfer_mix_and_overlap(capsys: Captured) -> None:
    words = ("--transfer", "50", "--mix", "2:1", "--overlap", "75", "--solids", "30")
    by_gun = run(capsys, "pick", *RED, "--gun", "300,30,50", *words)
    wet = wet_pass_from_gun(300.0, 30.0, 50.0, 0.5)
    assert by_gun == run(capsys, "pick", *RED, "--wet", repr(wet), *words)
    film = coat_film(wet, 0.75, 0.3, (2.0, 1.0), 0.5)
    answer = pick(parse_topcoat(" ".join(RED)), demo_shelf(), Settings(film=film))
    coats = answer.recommended.coats
    assert f"{answer.recommended.undercoat.name} (L* " in by_gun
    assert f"): {coats} coats" in flat(by_gun)


def test_mixes_by_the_gun(capsys: Captured) -> None:
    wet = repr(wet_pass_from_gun(350.0, 25.0, 40.0, 0.65))
    by_gun = run(capsys, "reductions", *RED, "--gun", "350,25,40")
    assert by_gun == run(capsys, "reductions", *RED, "--wet", wet)
    assert by_gun != run(capsys, "reductions", *RED)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--gun", "200,25"), "'200,25' is not fluid delivery, fan width and speed"),
        (("--gun", "200,25,40,1"), "write it like 200,25,40"),
        (("--gun", "a,b,c"), "'a,b,c'"),
        (("--gun", "0,25,40"), "fluid delivery must be above 0"),
        (("--gun", "200,nan,40"), "fan width must be above 0"),
        (("--gun=200,25,-40",), "gun speed must be above 0"),
        (("--gun", "200,25,40", "--wet", "30"), "either --wet or --gun"),
        (("--gun", "200,25,40", "--film", "10"), "either --film or"),
        (("--gun", "200,25,40", "--transfer", "0"), "transfer"),
    ],
)
def test_a_gun_that_cannot_be(
    capsys: Captured, words: tuple[str, ...], said: str
) -> None:
    assert said in refused(capsys, "pick", *RED, *words)
