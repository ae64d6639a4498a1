"""The sheet: what stands on it."""

import re
from dataclasses import replace

from booth_sheets import (
    DEMO,
    boxes,
    cells_of,
    changed,
    lines_of,
    pages,
    plan,
    read,
    rows,
    section,
    steps_of,
    swatches_of,
    tables_of,
)

from shadecore.job.cautions import DEFERRAL
from shadecore.job.job_file import parse_job
from shadecore.job.plan import plan_job
from shadecore.job.planned import planned
from shadecore.job.safety import Booth
from shadecore.pages.blocks import ByHand, Document, Swatches, as_cell
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.pages.sheet_schedule import CHECKED_STEPS, days_of
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import PhotoDoubt, Question
from shadecore.screens.plan.pictures import chosen_html
from shadecore.telling.counts import planned_words
from shadecore.telling.job_words import voc_in_brief
from shadecore.telling.limit_words import STAGE_KINDS
from shadecore.telling.weather_words import plan_stops
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

SECTIONS = (
    *("Weather", "Schedule", "Put off to keep the windows", "Mix for 1.5 m²"),
    "The film coat by coat, with the difference left",
    *("Strokes on a panel 60 cm high", "Before you spray"),
)
CAUTIONS = (
    *("Cautions", "Safety", "What would save a coat", "Gun"),
    "VOC, ready to spray, and the limit",
    *("Viscosity, ready to spray", "Measured and assumed"),
    *("What each step is for", "Strokes on a panel 60 cm high"),
)


def test_sections() -> None:
    assert tuple(each.title for each in booth_sheet(plan()).sections) == SECTIONS
    assert tuple(each.title for each in cautions_sheet(plan()).sections) == CAUTIONS


def times_of(sheet: Document) -> list[tuple[str, str]]:
    """When each step is, and when the next one may begin."""
    (table,) = tables_of(section(sheet, "Schedule"))
    cells = [as_cell(row[2]) for row in table.rows]
    return [(each.text, each.note) for each in cells]


def test_the_schedule_has_a_row_to_tick_for_each_step() -> None:
    found = steps_of(booth_sheet(plan()))
    for number, (each, told) in enumerate(zip(plan().timeline, found, strict=True), 1):
        assert told.startswith(f"{number}. {each.step.title}")
        assert all(f"P{grit}" in told for grit in each.step.grits)
        assert each.step.check in told
    assert set(boxes(booth_sheet(plan()))) == {False}
    (first, _), (second, _), *_ = times_of(booth_sheet(plan()))
    assert first == "Tue 01 Dec 08:00\N{EN DASH}08:20"
    assert second == "08:20\N{EN DASH}08:30"


def test_a_sprayed_step_says_coats_flash_gun_and_cup_in_its_row() -> None:
    """2.2 bar and 0.60 bar at the cap, 15 cm, 70 %: of the invented line's sheet."""
    sheet = booth_sheet(plan())
    place = next(
        n for n, each in enumerate(plan().timeline) if each.step.key == "base_coat"
    )
    told = steps_of(sheet)[place]
    coats = plan().answer.recommended.coats
    flash = round(plan().climate.factor * plan().timeline[place].step.flash_min)
    assert f"Base coat, {coats} coats, flash {flash} min." in told
    assert "HVLP, tip 1.3 mm, inlet 2.2 bar, cap 0.60 bar, 15 cm, overlap 70 %" in told
    assert "50-60 s in the ISO cup 3 mm" in told
    assert rows(sheet, "Schedule")[place][4] == f"of {coats}"
    # Ten degrees colder a film takes twice as long; common practice.
    cold = steps_of(booth_sheet(changed(panel_c=11.0)))[place]
    base = plan().timeline[place].step.flash_min
    assert f"flash {round(2 * plan().climate.factor * base)} min" in cold


def test_what_was_said_at_an_earlier_step_is_not_said_again() -> None:
    sheet = booth_sheet(changed(flattest=True))
    first = next(t for t in steps_of(sheet) if ". Clear coat, " in t)
    again = next(t for t in steps_of(sheet) if ". Clear coat again, " in t)
    number = first.split(".")[0]
    assert f"Gun as in step {number}." in again
    assert f"Check as in step {number}." in again
    # What is worn is said each time.
    assert "Supplied air till" in again


def test_waits_are_told_in_minutes_and_windows_by_the_clock() -> None:
    sheet = booth_sheet(plan())
    for each, told, (_, later) in zip(
        plan().timeline, steps_of(sheet), times_of(sheet), strict=True
    ):
        wait = (each.next_from - each.end).total_seconds() / 60.0
        assert (f"Then wait {wait:.0f} min." in told) == (0 < wait <= 60)
        assert (f"next from {each.next_from:%H:%M}" in later) == (wait > 60)
        until = "" if each.next_until is None else f"{each.next_until:%H:%M}"
        assert later.endswith(until)
        assert ("by " in later) == bool(until)


def test_the_day_is_named_where_it_changes() -> None:
    (table,) = tables_of(section(booth_sheet(plan()), "Schedule"))
    days = [each.start.date() for each in plan().timeline]
    begun = {n for n, day in enumerate(days) if not n or day != days[n - 1]}
    assert len(begun) > 1
    assert table.begins == begun
    for place, (text, _) in enumerate(times_of(booth_sheet(plan()))):
        named = re.match(r"\w{3} \d\d \w{3} \d\d:\d\d\W\d\d:\d\d", text)
        assert bool(named) == (place in begun)


def test_a_screen_shows_the_schedule_day_by_day() -> None:
    done = tuple((each.step.key, each.end) for each in plan().timeline[:-1])
    days = list(days_of(changed(done=done)))
    (table,) = tables_of(section(booth_sheet(changed(done=done)), "Schedule"))
    assert tuple(row for _, day, _ in days for row in day.rows) == table.rows
    assert [done for _, _, done in days] == [True] * (len(days) - 1) + [False]
    assert days[0][0].startswith("Tue 01 Dec: ")


def test_a_step_that_is_done_is_ticked() -> None:
    done = (("wash", plan().timeline[0].end),)
    sheet = booth_sheet(changed(done=done))
    first, *others = boxes(sheet)
    assert first is True
    assert set(others) == {False}
    times = [row[3] for row in rows(sheet, "Schedule")]
    assert times[0] == done[0][1].strftime("%H:%M")
    # What is still to do leaves room for a pen.
    assert set(times[1:]) == {""}


def test_the_checks_of_a_long_job_stand_on_its_cautions_sheet() -> None:
    file = DEMO.with_name("job-red-car.toml")
    long = planned(parse_job(file.read_text("utf-8"), file.name), demo_sheet())
    assert len(long.timeline) > CHECKED_STEPS
    checks = {each.step.check for each in long.timeline}
    said = " ".join(steps_of(booth_sheet(long)))
    assert [each for each in checks if each in said] == []
    told = lines_of(section(cautions_sheet(long), "Check before going on"))
    assert set(told) == checks
    assert "what to check" in lines_of(section(booth_sheet(long), "Before"))[0]
    titles = [each.title for each in cautions_sheet(plan()).sections]
    assert "Check before going on" not in titles


def test_the_data_sheets_have_the_last_word_and_somebody_signs() -> None:
    last = booth_sheet(plan()).sections[-1]
    assert lines_of(last)[0].startswith(DEFERRAL)
    (asked,) = (each for each in last.blocks if isinstance(each, ByHand))
    assert asked.labels[-2:] == ("Signed", "Date")
    assert len(asked.labels) == 3
    measured = booth_sheet(plan(), Booth(clearance_min=4.0)).sections[-1]
    assert "Booth clears in, min: 4." in lines_of(measured)


def test_a_colour_off_a_photo_keeps_its_doubt() -> None:
    doubt = PhotoDoubt((4.0, 0.0, 0.0, 1.0, 0.0, 1.0))
    found = changed(question=replace(plan().request.question, photo=doubt))
    (topcoat, *_), *_ = swatches_of(booth_sheet(found))
    # 1.96 standard deviations either side: 95 % of a normal distribution.
    assert topcoat.text.startswith("L* 45.0 ± 3.9, a* 60.0 ± 2.0, b* 35.0 ± 2.0")
    assert "± 3.9" in chosen_html(found)
    basis = lines_of(section(cautions_sheet(found), "Measured and assumed"))
    assert any("L* 45.0 ± 3.9" in each for each in basis)


def test_both_colours_of_a_two_tone_are_shown() -> None:
    second = Question("20 0 0")
    found = planned(
        replace(plan().request, kind="two_tone", second=second), demo_sheet()
    )
    (first, other, _), *_ = swatches_of(booth_sheet(found))
    assert first.lab == plan().answer.topcoat.lab
    assert other.text == "L* 20.0, a* 0.0, b* 0.0"


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
    # What the word means stands where there are such cans, and nowhere else.
    assert "Boxed: pour" in " ".join(lines_of(section(booth_sheet(large), "Mix")))
    assert "Boxed: pour" not in " ".join(lines_of(section(booth_sheet(plan()), "Mix")))
    assert boxed


def test_voc_with_its_limit_and_verdict() -> None:
    found = {row[0]: row[1:] for row in rows(cautions_sheet(plan()), "VOC")}
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
    (row,) = (r for r in rows(cautions_sheet(plan()), "VOC") if "together" in r[0])
    assert row[1] == "473 of 600 g/L"
    assert row[2:] == ("", "")
    named = {"california_scm": "clear_coating"}
    products = tuple(
        replace(each, voc_categories=named) if each.kind == "clear_coat" else each
        for each in demo_sheet().products
    )
    sheet = replace(demo_sheet(), products=products)
    apart = cautions_sheet(plan_job(plan().request, sheet, plan().answer))
    assert not any("together" in row[0] for row in rows(apart, "VOC"))


def test_a_panel_colder_than_the_dew_point_lies_below_it() -> None:
    cold = changed(air_c=20.0, panel_c=10.0, humidity=0.7)
    (line, *_) = lines_of(section(booth_sheet(cold), "Weather"))
    assert f"{-cold.weather.margin_k:.1f} K above the panel." in line


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
    sheet, best = booth_sheet(plan()), plan().answer.recommended
    ((topcoat, sealer),) = swatches_of(sheet)
    (drawn,) = section(sheet, "The film").blocks
    assert isinstance(drawn, Swatches)
    strip = drawn.swatches
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


def test_an_invented_line_is_marked() -> None:
    line = booth_sheet(plan()).subtitle
    assert line.endswith("Example line (invented example, do not spray by it).")
    assert line.count("invented") == 1
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
