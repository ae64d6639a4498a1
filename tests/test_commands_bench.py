"""The bench on the command line and on paper."""

import io
import json
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest
from command_line import DEMO, Captured, flat, refused, run
from pypdf import PdfReader

import shadecore
from shadecore.coats.settings import Settings
from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import Document, Strokes, Text, said
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.sheet_gun import strokes_section
from shadecore.pages.sheet_safety import safety_section, step_section
from shadecore.pages.text_layout import WIDTH, block_text, document_text
from shadecore.products.bench import BenchAsk


def told(capsys: Captured, *words: str) -> str:
    """What a command prints, which fits a terminal."""
    out = run(capsys, *words)
    assert all(len(line) <= WIDTH for line in out.splitlines())
    return out


@cache
def plan() -> Plan:
    return shadecore.plan(DEMO)


# mix


def test_a_mix_for_the_cup_in_hand(capsys: Captured) -> None:
    """600 ml filled to 80 % are 480 ml; 1:1 of 1050 and 818 g/L weigh 252 and 196.3."""
    out = flat(told(capsys, "mix", "base_coat", "--cup", "600", "ml"))
    assert "480 ml ready to spray, 448.3 g" in out
    assert "Base coat 1 56.2 % 240 ml 240 ml 252.0 g 252.0 g" in out
    assert "Base reducer 1 43.8 % 240 ml 480 ml 196.3 g 448.3 g" in out
    assert "no pot life runs" in out
    assert "invented example, do not spray by it" in out


def test_the_pot_life_runs_from_mixed_now(capsys: Captured) -> None:
    """120 min at 21 C; 10 K warmer halve them, by the sheet's rule of thumb."""
    words = ("mix", "clear coat", "--mass", "180 g", "--mixed")
    assert "use it until 16:05" in flat(told(capsys, *words, "14:05"))
    assert "use it until 15:05" in flat(told(capsys, *words, "14:05", "--air", "31"))
    assert "use it until" in flat(told(capsys, *words, "now"))
    asked = BenchAsk(mass_g=180.0)
    record = json.loads(told(capsys, *words, "14:05", "--json"))
    assert record["ready_g"] == pytest.approx(180.0)
    assert record["use_until"].endswith("T16:05")
    pours = shadecore.mix("clear_coat", asked).pours
    assert [each["ml"] for each in record["pours"]] == [
        round(each.volume_ml, 1) for each in pours
    ]
    noon = datetime(2026, 3, 2, 12)  # noqa: DTZ001 - the shop's own time
    sheet = shadecore.open_products()
    until = shadecore.mix_until(sheet, sheet.of_kind("clear_coat"), noon, 21.0)
    assert until == noon.replace(hour=14)


def test_boxes_own_sealers_and_half_full_cans(capsys: Captured) -> None:
    out = flat(told(capsys, "mix", "base_coat", "--volume", "3", "L"))
    assert "Box the cans of Base coat first" in out
    own = ("--of", "3 White N 9", "--of", "1 Dark grey N 4")
    out = flat(told(capsys, "mix", "sealer", "--volume", "600 ml", *own))
    assert "White N 9 3 " in out
    assert " 300 ml 300 ml " in out
    assert " 100 ml 400 ml " in out
    out = flat(told(capsys, "mix", "base_coat", "--held", "0.5 L"))
    assert "Added in the can that has 500 ml in it: 1000 ml ready" in out


def test_one_coat_more_in_small_cups(capsys: Captured) -> None:
    words = ("mix", "sealer", "--coats", "1", "--area", "2.5", "--cup", "180 ml")
    out = flat(told(capsys, *words))
    assert "1 coat on 2.5 m²" in out
    assert "Mix 3 pots of " in out
    assert " 3 to a coat. " in out
    assert "A pot fills the cup of 180 ml to " in out
    assert "fl oz" in told(capsys, *words, "--units", "us")


def test_a_coat_of_base_is_as_much_as_in_the_plan(capsys: Captured) -> None:
    area, film = 2.5, Settings().film
    words = ("mix", "base_coat", "--coats", "1", "--area", f"{area:g}", "--json")
    poured = json.loads(told(capsys, *words))["ready_ml"]
    assert poured == pytest.approx(area * film.sprayed_ml_per_m2(1) + 50.0, abs=0.5)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("paint", "--cup", "600 ml"), "There is no product 'paint'; take one of"),
        (("polish", "--cup", "600 ml"), "is not mixed"),
        (("sealer",), "How much to mix is said in one way"),
        (("sealer", "--cup", "180 g"), "A cup is a volume, not '180 g'"),
        (("sealer", "--mass", "180 ml"), "for a volume take --volume"),
        (("sealer", "--volume", "300 ml", "--mixed", "25:99"), "cannot be read"),
        (("sealer", "--volume", "300 ml", "--of", "White"), "has no parts"),
    ],
)
def test_mixes_that_cannot_be(
    capsys: Captured, words: tuple[str, ...], told: str
) -> None:
    assert told in refused(capsys, "mix", *words)


def test_one_coat_more_of_a_job() -> None:
    """Clear: 28 um on 1.5 m2 at 77/150 solids, 50 ml lost in the gun."""
    found = shadecore.one_coat_more(plan(), "clear_coat")
    film = plan().answer.settings.film
    solids = (2 * 0.48 + 0.58) / 3
    wanted = 28.0 * plan().area_m2 / solids / film.transfer_efficiency + 50.0
    assert found.ready_ml == pytest.approx(wanted)
    two = shadecore.one_coat_more(plan(), "clear_coat", cup_ml=100.0)
    assert two.fills * two.ready_ml == pytest.approx(wanted)
    base = next(each for each in plan().materials if each.product.kind == "base_coat")
    coat = shadecore.one_coat_more(plan(), base.product.key).ready_ml - 50.0
    lost = 1000.0 * plan().request.cup_loss_l
    assert coat * base.coats == pytest.approx(1000.0 * base.ready_l - lost)
    with pytest.raises(shadecore.JobError, match="The job does not mix 'polish'"):
        shadecore.one_coat_more(plan(), "polish")


# cups


def test_cups_by_their_standards(capsys: Captured) -> None:
    """1.37 x 40 - 200 / 40 = 49.8 mm2/s; 49.8 / 3.85 + 4.49 = 17.4 s is too few."""
    out = flat(told(capsys, "cups", "40", "--from", "iso4"))
    assert "40 s in the ISO cup 4 mm (ISO 2431) are about 49.8 mm²/s" in out
    assert "Ford cup No. 4 too thin for it 20-100 s ASTM D1200" in out
    # 49.8 / 1.44 + 18 = 52.6 s.
    assert "Ford cup No. 2 53 s 40-100 s ASTM D1200" in out
    assert "rough" not in out
    record = json.loads(
        told(capsys, "cups", "40", "--from", "iso4", "--to", "ford2", "--json")
    )
    assert [each["seconds"] for each in record["cups"]] == [52.6]


def test_where_the_range_of_a_cup_ends(capsys: Captured) -> None:
    out = flat(told(capsys, "cups", "18", "--from", "iso4", "--to", "ford4"))
    assert "shorter than the ISO cup 4 mm measures (ISO 2431: from 30 to 100 s)" in out
    assert "The ISO cup 3 mm would measure it, in about 41 s" in out
    assert "finer hole" in refused(capsys, "cups", "10", "--from", "ford2")
    assert "There is no cup 'din4'" in refused(capsys, "cups", "20", "--from", "din4")


# midcoats without a panel


def test_midcoats_need_a_panel_or_the_car(capsys: Captured) -> None:
    assert "Give a let-down panel; or" in refused(capsys, "midcoats")
    told = refused(capsys, "midcoats", "panel.csv", "--ground", "92 0 2")
    assert "not both" in told


# The sheet


def words_of(page: Document) -> str:
    return flat(document_text(page))


def test_limits_that_are_broken_stand_first() -> None:
    sheet = booth_sheet(plan())
    (line,) = sheet.broken
    assert line.startswith("VOC over the limit")
    assert "Solvent base coat 664 OVER 420 g/L" in line
    # Base and clear together keep the US rule, so neither is told for it.
    assert "US, national" not in line
    assert document_text(sheet).startswith("VOC over the limit")
    html = document_html(replace(sheet, most_pages=None))
    assert html.index('class="broken"') < html.index("<h1>")


def test_each_step_says_what_is_worn_where_it_stands() -> None:
    sheet = booth_sheet(plan())
    schedule = next(each for each in sheet.sections if each.title == "Schedule")
    (table,) = schedule.blocks
    worn = {
        each.step.key: said(row[1])
        for each, row in zip(plan().timeline, table.rows, strict=True)  # type: ignore[union-attr]
    }
    assert " Supplied air till " in worn["surfacer"]
    # The booth's clearance time is not measured, so that the sealer's air counts.
    assert " Supplied air till " in worn["base_coat"]
    assert " Particle mask. " in worn["block_sand"]
    assert "mask" not in worn["wash"]


def test_the_bench_says_it_step_by_step() -> None:
    clear = next(each for each in plan().timeline if each.step.key == "clear_coat")
    blocks = step_section(plan(), clear).blocks
    told = " ".join(each.text for each in blocks if isinstance(each, Text))
    assert "Supplied air till " in told
    assert "measured clearance time" in told
    assert "lid loose until hard" in told
    assert "safety data sheets" in told
    wash = next(each for each in plan().timeline if each.step.key == "wash")
    assert step_section(plan(), wash).blocks == ()


def test_the_booth_is_asked_for_what_it_does_not_say() -> None:
    asked = words_of(Document(sections=(safety_section(plan()),)))
    assert "air changes and purge time are not known" in asked
    assert "Booth, m³ ___" in asked
    booth = Booth(100.0, 6000.0, 12.0)
    told = words_of(Document(sections=(safety_section(plan(), booth),)))
    # 60 changes an hour; ln 100 of them at one a minute.
    assert "60 air changes an hour" in told
    assert "1 % in 4.6 min" in told
    assert "Measured clearance time 12 min" in told
    assert "___" not in told
    assert "Supplied air: High-build surfacer, Tintable sealer" in told
    assert "of solvent in it, from cans of" in told


def test_strokes_are_drawn_and_told() -> None:
    """60 cm by half of a 25 cm fan: 4.8, so 5 steps and 6 strokes; by 30 %: 9."""
    (section,) = strokes_section(plan())
    half, dense = section.blocks
    assert isinstance(half, Strokes)
    assert isinstance(dense, Strokes)
    assert (len(half.places_cm), len(dense.places_cm)) == (6, 9)
    assert "Seal with White N 9: 6 strokes, each over 50 %" in flat(block_text(half))
    assert block_html(half).count("<line") == 6


# The estimate

RATES = ShopRates(60.0, 15.0, 20.0, 10.0)


def test_the_estimate_adds_up() -> None:
    """Sums worked out here from the steps and the cans."""
    page = words_of(estimate_page(plan(), RATES))
    minutes = sum(
        each.step.work_min + max(each.step.coats - 1, 0) * each.step.flash_min
        for each in plan().timeline
    )
    total = 1.1 * (minutes + 1.15 * plan().cost + 20.0)
    assert f"In total {total:,.2f}" in page
    assert f"Work, {minutes // 60:.0f} h {minutes % 60:.0f} min" in page
    assert "in USD" in page
    assert "An estimate, not a bill" in page
    # What each step took is written in by hand.
    assert "What it took in the end" not in page


def test_what_it_took_stands_beside_it() -> None:
    page = words_of(estimate_page(plan(), RATES, 13.0, 330.0))
    assert "It took 13 h" in page
    assert f"{plan().cost:.2f} 330.00" in page


def test_the_estimate_as_a_file(capsys: Captured, tmp_path: Path) -> None:
    out = tmp_path / "estimate.pdf"
    words = ("plan", DEMO, "--out", str(out))
    told(capsys, *words, "--estimate", "--hour-rate", "60")
    (page,) = PdfReader(io.BytesIO(out.read_bytes())).pages
    assert "Estimate: Left door and front wing" in page.extract_text()
    assert "give it as --hour-rate" in refused(capsys, *words, "--estimate")
    assert "add --estimate" in refused(capsys, *words, "--extras", "5")
    hours = ("--estimate", "--hour-rate", "60", "--took-materials", "5")
    assert "--took-hours" in refused(capsys, *words, *hours)
    assert "The booth's volume must be" in refused(capsys, *words, "--booth-m3", "0")
