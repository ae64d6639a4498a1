"""A job's sealer at what the shop pays for it, worked out by hand."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from book_commands import Captured, book, run
from plan_page import job_of, plan_page, said

from shadecore.book.book import open_book
from shadecore.book.records import BookShelf
from shadecore.book.working import shop_question
from shadecore.job.estimate import ShopRates
from shadecore.job.job_file import write_job
from shadecore.job.material import Material
from shadecore.job.plan import Plan, timeline_from
from shadecore.job.planned import planned
from shadecore.job.request import MIX, JobRequest
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.text_layout import document_text
from shadecore.products.materials import Portion
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.link import to_link
from shadecore.question.question import Question
from shadecore.telling.window_words import broken_words
from shadecore.undercoats.prices import can_price, unit_ml
from shadecore.undercoats.shelf import Shelf, Undercoat, undercoat
from shadecore.undercoats.shelf_table import demo_shelf

START = datetime(2026, 3, 2, 8)  # noqa: DTZ001 - the shop's own time


def shelf(price: float | None, unit: str) -> Shelf:
    """The five greys at a shop's own price."""
    return tuple(replace(each, price=price, unit=unit) for each in demo_shelf())


def grey(name: str, lightness: float) -> Undercoat:
    return undercoat(name, (lightness, 0.0, 0.0))


def plan(own: Shelf, **asked: object) -> Plan:
    question = Question("45 60 35", shelf=own)
    request = JobRequest(START, area_m2=2.0, question=question, **asked)  # type: ignore[arg-type]
    return planned(request, demo_sheet())


def sealer(found: Plan, use: str = "") -> Material:
    return next(
        each
        for each in found.materials
        if (each.product.kind, each.use) == ("sealer", use)
    )


def paint(found: Plan) -> Portion:
    return sealer(found).portions[0]


def words(found: Plan) -> str:
    pages = (estimate_page(found, ShopRates(60.0)), booth_sheet(found))
    pages += (cautions_sheet(found),)
    return " ".join(" ".join(map(document_text, pages)).split())


def test_without_a_price_of_the_shops_own_the_sheet_counts() -> None:
    """The sheet has 45 a litre in cans of 1 and 3.5 L."""
    for own in (demo_shelf(), shelf(None, ""), shelf(30.0, "tin"), shelf(0.0, "L")):
        found = plan(own)
        assert paint(found).component.price_per_l == 45.0
        assert paint(found).cans == ((1.0, 1),)
        assert sealer(found).own_prices == ()
        assert "shop's own shelf" not in words(found)


def test_an_own_can_is_called_by_its_name_and_is_what_is_poured() -> None:
    """The sheet's four parts of sealer, one of hardener and one of reducer."""
    own = (grey("My white", 92.0), grey("My dark", 35.0))
    found = plan(own)
    name = found.picked.undercoat
    assert sealer(found).product.name == paint(found).component.name == name
    told = words(found)
    assert name in told
    assert "intable sealer" not in told.replace("tinted to", "")
    poured = 4 / 6 * 1000.0 * sealer(found).ready_l
    assert f"{name} 4 {poured:.0f} ml " in told
    air = told.split("Breathe through: ")[1].split("Vapour")[0]
    assert name in air
    # A sealer that lay too long is called so, too.
    (sealed,) = (each for each in found.timeline if each.step.key == "sealer")
    done = [each for each in found.timeline if each.end <= sealed.end]
    late = replace(
        found.request,
        done=tuple((each.step.key, each.end) for each in done),
        start=START,
    )
    later = timeline_from(planned(late, demo_sheet()), sealed.end + timedelta(hours=30))
    assert name in " ".join(broken_words(each) for each in later if each.broken)
    mixed = plan(own, sealer=MIX) if found.answer.mix is not None else None
    if mixed is not None:
        assert sealer(mixed).product.name.startswith("Mix of My ")


def test_a_price_by_the_litre_buys_the_cans_of_the_sheet() -> None:
    found, usual = plan(shelf(20.0, "L")), plan(demo_shelf())
    assert paint(found).cans == paint(usual).cans == ((1.0, 1),)
    assert paint(found).cost == pytest.approx(20.0)
    # Hardener and reducer are the sheet's, as is the rest of the job.
    assert sealer(found).portions[1:] == sealer(usual).portions[1:]
    assert usual.cost - found.cost == pytest.approx(45.0 - 20.0)
    told = words(found)
    name = found.picked.undercoat
    assert f"own shelf, its prices taken for USD: {name} at 20.00 for L." in told


def test_a_price_of_a_can_buys_such_cans() -> None:
    found = plan(shelf(9.0, "0.25 L"))
    volume = paint(found).volume_l
    count = -(-volume // 0.25)
    assert paint(found).cans == ((0.25, count),)
    assert paint(found).cost == pytest.approx(9.0 * count)
    assert "at 9.00 for 0.25 L" in words(found)


def test_each_can_of_a_mix_has_its_own_price() -> None:
    greys = demo_shelf()
    own = (replace(greys[0], price=10.0), *(replace(g, price=40.0) for g in greys[1:]))
    found = plan(own, sealer=MIX)
    parts = dict(found.picked.choice.undercoat.parts)  # type: ignore[union-attr]
    assert len(parts) == 2
    by_name = {each.component.name: each for each in sealer(found).portions}
    for name in parts:
        wanted = 10.0 if name == greys[0].name else 40.0
        assert by_name[name].component.price_per_l == wanted
        size, count = by_name[name].cans[0]
        assert by_name[name].cost == pytest.approx(wanted * size * count)
    assert {each.name for each in sealer(found).own_prices} == set(parts)
    # Only one of the two has a price: the other is the sheet's.
    half = plan((own[0], *greys[1:]), sealer=MIX)
    prices = {
        each.component.name: each.component.price_per_l
        for each in sealer(half).portions
        if each.component.name in parts
    }
    assert sorted(prices.values()) == [10.0, 45.0]


def test_both_colours_of_a_two_tone_take_the_shops_prices() -> None:
    found = plan(shelf(20.0, "L"), kind="two_tone", second=Question("8 0 0"))
    for each in found.materials:
        if each.product.kind == "sealer":
            assert each.portions[0].component.price_per_l == 20.0


@pytest.mark.parametrize(
    ("unit", "litres", "can"),
    [
        ("L", 1.0, False),
        ("0.9 L", 0.9, True),
        ("3,5l", 3.5, True),
        (" 500  ML ", 0.5, True),
        # NIST Handbook 44: a US gallon is 231 cubic inches of 16.387064 ml.
        ("1 gal", 3.785411784, True),
        ("qt", 3.785411784 / 4.0, False),
    ],
)
def test_units_that_are_volumes(unit: str, litres: float, *, can: bool) -> None:
    volume, is_can = unit_ml(unit)
    assert volume == pytest.approx(1000.0 * litres)
    assert is_can is can
    price = can_price(undercoat("grey", (50, 0, 0), price=9.0, unit=unit))
    assert price is not None
    assert price.per_l == pytest.approx(9.0 / litres)
    assert price.can_l == (pytest.approx(litres) if can else None)


@pytest.mark.parametrize("unit", ["", "tin", "0 L", "9e9 L", "1e-9 ml", "L 2", "-1 L"])
def test_units_that_are_none(unit: str) -> None:
    assert unit_ml(unit) == (None, False)


def test_the_shelf_in_use_prices_the_page_and_the_customers_estimate(
    capsys: Captured, tmp_path: Path
) -> None:
    table = tmp_path / "Own.csv"
    rows = [f"{each.name},{each.lightness:.1f},20,L" for each in demo_shelf()]
    table.write_text("\n".join(("name,L,price,unit", *rows)), "utf-8")
    book(capsys, "import", "shelves", str(table), "--yes")
    with open_book() as opened:
        kept, settings = opened.show(BookShelf, "Own"), opened.settings()
        opened.change(settings, replace(settings.thing, shelf=kept.uid))
        question = shop_question(opened)
    app = plan_page("sheet")
    for name, value in to_link(question).items():
        app.query_params[name] = str(value)
    assert "Of the shop's own shelf" in said(app.run())
    job = tmp_path / "job.toml"
    job.write_text(write_job(job_of(app)), "utf-8")
    told = run(capsys, "plan", str(job), "--estimate", "--hour-rate", "60")
    assert "White N 9 at 20.00 for L" in " ".join(told.split())
