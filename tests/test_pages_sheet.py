"""The sheet: what stands on it."""

import re
from dataclasses import replace

from booth_sheets import (
    boxes,
    cells_of,
    changed,
    in_units,
    lines_of,
    pages,
    plan,
    read,
    rows,
    section,
    swatches_of,
)

from shadecore.job.plan import plan_job
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.counts import planned_words
from shadecore.telling.job_words import voc_in_brief
from shadecore.telling.limit_words import STAGE_KINDS
from shadecore.telling.weather_words import plan_stops
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

SECTIONS = (
    *("Weather", "Schedule", "What each step is for"),
    *("Mix for 1.5 m²", "VOC, ready to spray, and the limit", "Gun"),
    *("Viscosity, ready to spray", "Strokes on a panel 60 cm high"),
    *("Safety", "Cautions", "Measured and assumed"),
)


def test_sections() -> None:
    assert tuple(each.title for each in booth_sheet(plan()).sections) == SECTIONS


def test_the_schedule_has_a_row_to_tick_for_each_step() -> None:
    found = rows(booth_sheet(plan()), "Schedule")
    titles = [re.sub(r" \(P.*|, \d+ coats?$", "", row[1]) for row in found]
    assert titles == [
        f"{number}. {each.step.title}" for number, each in enumerate(plan().timeline, 1)
    ]
    grits = {row[1].partition(" (")[2] for row in found}
    assert grits == {"", "P80, P180)", "P320, P400)", "P400, P600)", "P2000)"}
    assert set(boxes(booth_sheet(plan()))) == {False}
    first, second = found[0], found[1]
    assert first[2] == "Tue 01 Dec 08:00\N{EN DASH}08:20"
    assert second[2] == "08:20\N{EN DASH}08:30"


def test_the_day_is_named_where_it_changes() -> None:
    days = {
        row[1]: row[2]
        for row, before, each in zip(
            rows(booth_sheet(plan()), "Schedule")[1:],
            plan().timeline,
            plan().timeline[1:],
            strict=False,
        )
        if each.start.date() != before.start.date()
    }
    assert days
    assert all(
        re.fullmatch(r"\w{3} \d\d \w{3} \d\d:\d\d\W\d\d:\d\d", day)
        for day in days.values()
    )


def test_a_step_that_is_done_is_ticked() -> None:
    done = (("wash", plan().timeline[0].end),)
    sheet = booth_sheet(changed(done=done))
    first, *others = boxes(sheet)
    assert first is True
    assert set(others) == {False}
    times = [row[4] for row in rows(sheet, "Schedule")]
    assert times[0] == done[0][1].strftime("%H:%M")
    # What is still to do leaves room for a pen.
    assert set(times[1:]) == {""}


def test_a_missed_window_is_told_under_the_schedule() -> None:
    """A week off after the etch primer leaves its window behind."""
    night = plan().request.breaks[0]
    etched = next(each for each in plan().timeline if each.step.key == "etch_primer")
    week = replace(night, start=etched.end, end=etched.end.replace(day=9))
    before = [each for each in plan().timeline if each.end <= etched.end]
    done = tuple((each.step.key, each.end) for each in before)
    found = changed(breaks=(week,), done=done)
    late = [each for each in found.timeline if each.broken]
    assert late
    lines = lines_of(section(booth_sheet(found), "Schedule"))
    assert lines == [broken_words(each) for each in late]
    assert lines_of(section(booth_sheet(plan()), "Schedule")) == []


def test_the_mix_by_product_and_component() -> None:
    found = rows(booth_sheet(plan()), "Mix")
    assert len(found) == sum(len(each.portions) for each in plan().materials)
    by_name = {row[1]: row for row in found}
    for each in plan().materials:
        place = next(
            n for n, row in enumerate(found) if row[0].startswith(each.product.name)
        )
        assert f", {each.coats} coat" in found[place][0]
        assert found[place + 1][0].startswith(f"{1000 * each.ready_l:.0f} ml")
        grams = 0.0
        for part in each.portions:
            row = by_name[part.component.name]
            assert row[2] == f"{part.component.parts:g}"
            assert row[3] == f"{1000 * part.volume_l:.0f} ml"
            grams += part.volume_l * part.component.density_g_per_l
            assert row[4] == f"{grams:.1f} g"
            assert row[6] == f"{part.cost:.2f}"
    assert f"{plan().cost:.2f} USD" in lines_of(section(booth_sheet(plan()), "Mix"))[0]


def test_cans_that_are_to_be_boxed_are_marked() -> None:
    large = changed(area_m2=40.0)
    boxed = {p.component.name for m in large.materials for p in m.portions if p.boxed}
    marked = {row[1] for row in rows(booth_sheet(large), "Mix") if "boxed" in row[5]}
    assert marked == boxed
    assert boxed


def test_gun_settings_of_what_is_sprayed() -> None:
    found = rows(booth_sheet(plan()), "Gun")
    sprayed = [each.step for each in plan().timeline if each.step.gun is not None]
    assert [row[0] for row in found] == [step.title for step in sprayed]
    factor = plan().climate.factor
    flashes = [f"{factor * each.flash_min:.0f} min" for each in sprayed]
    assert [row[8] for row in found] == flashes
    cold = rows(booth_sheet(changed(panel_c=11.0)), "Gun")
    # Ten degrees colder a film takes twice as long; common practice.
    base = next(n for n, each in enumerate(sprayed) if each.product == "base_coat")
    assert int(cold[base][8].split()[0]) == round(2 * factor * sprayed[base].flash_min)
    assert found[0][1:5] == ("HVLP", "1.3 mm", "2.0 bar", "0.60 bar")
    assert found[0][5:8] == ("18 cm", "50 %", "1")


def test_voc_with_its_limit_and_verdict() -> None:
    found = {row[0]: row[1:] for row in rows(booth_sheet(plan()), "VOC")}
    names = {each.product.name for each in plan().materials if each.voc}
    assert set(found) == {*names, "Base and clear together"}
    for each in plan().materials:
        for held, cell in zip(each.voc, found[each.product.name], strict=True):
            if held.rule == "us_national" and each.product.kind in STAGE_KINDS:
                # Judged as one, in a row of their own.
                assert cell == f"{held.voc_g_per_l:.0f} g/L, see together"
                continue
            assert cell == voc_in_brief(held, UNITS["metric"])
            numbers = [float(each) for each in re.findall(r"\d+", cell)]
            assert numbers == [round(held.voc_g_per_l), held.limit_g_per_l]
            assert ("OVER" in cell) == (not held.within)
    cells = [cell for row in found.values() for cell in row]
    assert any("OVER" in cell for cell in cells)
    assert any(" of " in cell for cell in cells)


def test_base_and_clear_are_judged_together_where_the_rule_does() -> None:
    """(base + 2 clear) / 3, 40 CFR 59.104(a)(2): (599 + 2 x 410) / 3 g/L here."""
    (row,) = (r for r in rows(booth_sheet(plan()), "VOC") if "together" in r[0])
    assert row[1] == "473 of 600 g/L"
    assert row[2:] == ("", "")
    named = {"california_scm": "clear_coating"}
    products = tuple(
        replace(each, voc_categories=named) if each.kind == "clear_coat" else each
        for each in demo_sheet().products
    )
    sheet = replace(demo_sheet(), products=products)
    apart = booth_sheet(plan_job(plan().request, sheet, plan().answer))
    assert not any("together" in row[0] for row in rows(apart, "VOC"))


def test_a_panel_colder_than_the_dew_point_lies_below_it() -> None:
    cold = changed(air_c=20.0, panel_c=10.0, humidity=0.7)
    (line, *_) = lines_of(section(booth_sheet(cold), "Weather"))
    assert line.endswith(f"{-cold.weather.margin_k:.1f} K above the panel.")


def test_a_stop_stands_first_and_on_each_step_that_is_sprayed() -> None:
    wet = changed(panel_c=12.0, humidity=0.6)
    sheet = booth_sheet(wet)
    for stop in plan_stops(wet):
        assert stop in sheet.stop
    (first, *_) = pages(document_pdf(sheet))
    assert first.startswith("DO NOT SPRAY.")
    page = read(document_html(sheet))
    assert page.text.startswith(f"{sheet.title} DO NOT SPRAY.")
    assert {("class", "stop"), ("role", "alert")} <= set(page.attributes)
    for timed, row in zip(wet.timeline, rows(sheet, "Schedule"), strict=True):
        assert ("DO NOT SPRAY" in row[1]) == bool(timed.step.coats)
        assert (row[0] == "STOP") == bool(timed.step.coats)
    assert [each is None for each in boxes(sheet)] == [
        bool(each.step.coats) for each in wet.timeline
    ]
    assert "DO NOT SPRAY" in section(sheet, "Schedule").title
    assert "DO NOT SPRAY" not in document_html(booth_sheet(plan()))


def test_what_is_sprayed_already_is_not_stopped() -> None:
    done = tuple((each.step.key, each.end) for each in plan().timeline[:-1])
    sheet = booth_sheet(changed(panel_c=12.0, humidity=0.6, done=done))
    assert not sheet.stop
    assert not any("SPRAY" in cell for cell in cells_of(section(sheet, "Schedule")))


def test_swatches_can_be_read_without_their_colour() -> None:
    """In black and white L* and N beside a swatch say what it was."""
    sheet, best = booth_sheet(plan()), plan().answer.recommended
    (topcoat, sealer), strip = swatches_of(sheet)
    assert topcoat.text == "L* 45.0, a* 60.0, b* 35.0"
    assert "L* 90.2, N 9.0" in sealer.text
    assert best.undercoat.name in sealer.text
    held = plan().coats_held
    assert planned_words(best.count, best.coats, held) in sealer.text
    assert [each.text for each in strip] == [
        f"{left:.1f} left" for left in best.difference[:6]
    ]
    hiding = [each.title for each in strip if "hides" in each.title]
    assert hiding == [f"coat {best.coats}, hides"]


def test_us_units_show_the_film_in_mil() -> None:
    assert "0.39 mil" in lines_of(section(in_units("us"), "Mix"))[0]
    assert "10 µm" in lines_of(section(in_units("metric"), "Mix"))[0]


def test_us_units_of_the_booth() -> None:
    """20 °C are 68 °F, 1.5 m2 16.1 ft2, 2 bar 29 psi, 18 cm 7 in, by hand."""
    sheet = in_units("us")
    assert lines_of(section(sheet, "Weather"))[0].startswith("Air 68 °F, panel 70 °F")
    assert section(sheet, "Mix").title == "Mix for 16.1 ft²"
    # 0.6 bar are 8.7 psi.
    assert rows(sheet, "Gun")[0][2:6] == ("1.3 mm", "29 psi", "8.7 psi", "7 in")
    base = next(m for m in plan().materials if m.product.kind == "base_coat")
    row = next(r for r in rows(sheet, "Mix") if r[1] == "Base reducer")
    assert row[0].startswith(f"{1000 * base.ready_l / 29.5735:.1f} fl oz")
    # 550 g/L, the US limit of a primer sealer, are 4.59 lb/gal.
    voc = next(r for r in rows(sheet, "VOC") if r[0] == "Tintable sealer")
    assert voc[1].endswith("4.59 lb/gal")


def test_no_can_of_a_us_sheet_is_told_in_litres() -> None:
    cells = [row[5] for row in rows(in_units("us"), "Mix") if row[5]]
    assert cells
    assert not any(cell.endswith(" L") for cell in cells)


def test_no_metric_unit_is_left_on_a_us_sheet() -> None:
    request = replace(plan().request.question, units="us")
    for weather in ({}, {"panel_c": 11.0}, {"air_c": 5.0, "humidity": 0.9}):
        sheet = booth_sheet(changed(question=request, **weather))
        said = " ".join(
            [line for each in sheet.sections for line in lines_of(each)]
            + [cell for each in sheet.sections for cell in cells_of(each)]
        )
        # Grits, tips in mm and the condition of the colour have no other unit.
        assert not re.search(r"°C|\d ?(ml|L|cm|bar|m²|g/L|µm|K)\b", said)


def test_the_margin_in_fahrenheit_is_a_difference() -> None:
    margin = plan().weather.margin_k * 1.8
    line = lines_of(section(in_units("us"), "Weather"))[0]
    assert line.endswith(f"{margin:.1f} °F below the panel.")


def test_an_invented_line_is_marked() -> None:
    assert "do not spray by it" in booth_sheet(plan()).subtitle
    own = plan_job(plan().request, replace(demo_sheet(), invented=False), plan().answer)
    assert "do not spray by it" not in booth_sheet(own).subtitle


def test_sheet_and_calendar_name_the_same_steps() -> None:
    calendar = to_icalendar(plan().timeline, "x", plan().request.start)
    assert calendar.count("BEGIN:VEVENT") == len(rows(booth_sheet(plan()), "Schedule"))


def test_scratches_stand_under_the_schedule() -> None:
    products = replace(demo_sheet(), grits={"block_sand": (320, 600)})
    sheet = booth_sheet(plan_job(plan().request, products, plan().answer))
    (line,) = lines_of(section(sheet, "Schedule"))
    assert line.startswith("From P320 to P600 the old scratch still shows")
