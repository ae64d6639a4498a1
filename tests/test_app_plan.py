"""The plan's page without a browser: what is set up changes what is planned."""

from datetime import date, datetime, time, timedelta

import pytest
from plan_page import (
    html,
    job_of,
    number,
    opened,
    plan_page,
    press,
    said,
    sheet,
    titles,
    toggle,
    turn,
    upload,
)
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.shop_records import BookJob
from shadecore.job.breaks import Break
from shadecore.job.job_file import write_job
from shadecore.job.kinds import RE_CLEAR
from shadecore.job.request import JobRequest


@pytest.fixture
def app() -> AppTest:
    return plan_page().run()


def test_it_starts_tomorrow_when_the_shop_opens(app: AppTest) -> None:
    start = job_of(app).start
    assert start.time() == time(8)
    assert start.date() - date.today() in {timedelta(0), timedelta(1)}  # noqa: DTZ011 - the page's clock
    assert job_of(app).breaks[0] == Break(
        datetime.combine(start.date(), time(18)),
        datetime.combine(start.date() + timedelta(days=1), time(8)),
    )


def test_toggles_add_their_steps(app: AppTest) -> None:
    for label, title in (
        ("Bare metal", "Etch primer on bare metal"),
        ("Filler", "Fill and shape"),
        ("Sanded level and polished", "Clear coat again"),
    ):
        assert title not in sheet(app)
        toggle(app, label)
        assert title in sheet(app)


def test_left_and_right_may_be_of_something_else(app: AppTest) -> None:
    app.multiselect[0].set_value(["front_door"]).run()
    opened(app, "area")
    number(app, "Front door: how many", 2)
    toggle(app, "Left and right are not alike")
    left = next(e for e in app.multiselect if e.label.startswith("Left front door"))
    left.set_value(["aluminium"]).run()
    assert dict(job_of(app).details.substrates) == {"left_front_door": ("aluminium",)}
    assert "Etch primer on bare metal: Left front door" in sheet(app)


def test_panels_and_other_area_add_up(app: AppTest) -> None:
    app.multiselect[0].set_value(["roof", "hood"]).run()
    assert "Mix for 3.1 m²" in titles(app)
    number(app, "Other area", 2.0)
    assert "Mix for 5.1 m²" in titles(app)


def test_several_panels_of_one_kind(app: AppTest) -> None:
    """Two front doors of 0.9 m2."""
    app.multiselect[0].set_value(["front_door"]).run()
    number(app, "Front door: how many", 2)
    assert job_of(app).panels == (("front_door", 2),)
    assert "Mix for 1.8 m²" in titles(app)


def test_us_units_are_asked_and_the_job_stays_metric(app: AppTest) -> None:
    """68 degrees F are 20 degrees C, 100 square feet 9.290304 m2, exactly."""
    next(e for e in opened(app, "file").radio if e.label == "Units").set_value(
        "us"
    ).run()
    opened(app, "area", "weather")
    labels = [each.label for each in app.number_input]
    assert {"Air (°F)", "Panel (°F)", "Other area (ft²)"} <= set(labels)
    before = job_of(app)
    assert (before.air_c, before.panel_c, before.area_m2) == (21.0, 21.0, 0.0)
    number(app, "Air", 68.0)
    number(app, "Other area", 100.0)
    assert job_of(app).air_c == pytest.approx(20.0)
    assert job_of(app).area_m2 == pytest.approx(9.290304)
    assert job_of(app).panel_c == 21.0
    assert job_of(app).question.units == "us"
    assert app.session_state["question"].units == "us"


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_ends_of_the_form_can_be_planned(app: AppTest, units: str) -> None:
    next(e for e in opened(app, "file").radio if e.label == "Units").set_value(
        units
    ).run()
    opened(app, "area", "weather")
    for label in ("Air", "Panel", "Other area"):
        for end in ("min", "max"):
            field = next(e for e in app.number_input if e.label.startswith(label))
            number(app, label, getattr(field, end))
            assert not app.exception


def test_nothing_to_paint_is_explained(app: AppTest) -> None:
    app.multiselect[0].set_value([]).run()
    assert not app.exception
    assert any("nothing to paint" in each.value for each in app.error)
    number(app, "Other area", 1.0)
    assert not app.error


def test_a_wet_panel_stops_the_job(app: AppTest) -> None:
    assert not app.error
    number(app, "Panel", 12.0)
    number(app, "Humidity", 80.0)
    (stop,) = [each.value for each in app.error if "DO NOT SPRAY" in each.value]
    heading, *reasons = stop.split("\n")
    assert heading == "## DO NOT SPRAY"
    assert "dew point" in reasons[0]
    # A list to Markdown, and not lines that it runs together.
    assert all(each.startswith("- ") for each in reasons)
    assert "DO NOT SPRAY: Clear coat" in sheet(app)


def test_a_cold_panel_dries_slower(app: AppTest) -> None:
    before = sheet(app)
    number(app, "Panel", 15.0)
    assert sheet(app) != before
    assert not app.error


def test_curing_by_air(app: AppTest) -> None:
    before = sheet(app)
    opened(app, "weather")
    ways = next(e for e in app.get("button_group") if e.label.startswith("Clear"))
    ways.set_value("air").run()
    assert job_of(app).cure == "air"
    assert sheet(app) != before


def test_another_day_moves_the_nights(app: AppTest) -> None:
    day = job_of(app).start.date() + timedelta(days=40)
    app.date_input[0].set_value(day).run()
    job = job_of(app)
    assert job.start == datetime.combine(day, time(8))
    assert job.breaks[0].start == datetime.combine(day, time(18))
    assert day.strftime("%a %d %b 08:00") in sheet(app)


def _clock(app: AppTest, label: str, value: time) -> AppTest:
    opened(app, "hours")
    field = next(each for each in app.time_input if each.label == label)
    return field.set_value(value).run()


def test_other_hours_lay_the_nights_anew(app: AppTest) -> None:
    start = job_of(app).start
    _clock(app, "Closes", time(16, 30))
    _clock(app, "Opens", time(7))
    nights = job_of(app).breaks
    assert {(each.start.time(), each.end.time()) for each in nights} == {
        (time(16, 30), time(7))
    }
    assert [each.start.date() for each in nights] == [
        start.date() + timedelta(days=day) for day in range(15)
    ]
    number(app, "Humidity", 65.0)
    assert job_of(app).breaks == nights


def test_a_daily_break_lies_in_the_plan(app: AppTest) -> None:
    toggle(app, "A break every day, such as lunch")
    day = job_of(app).start.date()
    lunch = [each for each in job_of(app).breaks if each.start.time() == time(12)]
    assert len(lunch) == 15
    assert lunch[0] == Break(
        datetime.combine(day, time(12)), datetime.combine(day, time(12, 30))
    )
    before = sheet(app)
    _clock(app, "Break to", time(14))
    assert sheet(app) != before
    toggle(app, "A break every day, such as lunch", on=False)
    assert {each.start.time() for each in job_of(app).breaks} == {time(18)}


def test_hours_that_cannot_be_are_told_and_the_breaks_stay(app: AppTest) -> None:
    before = job_of(app).breaks
    _clock(app, "Closes", time(6))
    (said,) = [each.value for each in app.error]
    assert said.startswith("The shop closes at 06:00")
    assert job_of(app).breaks == before
    _clock(app, "Closes", time(17))
    assert not app.error


def test_breaks_of_a_file_stay_until_other_hours_are_set(app: AppTest) -> None:
    start = datetime.fromisoformat("2026-12-01T08:00")
    breaks = (
        Break(start + timedelta(hours=2), start + timedelta(hours=3)),
        Break(start + timedelta(hours=9, minutes=7), start + timedelta(hours=23)),
    )
    job = JobRequest(start, area_m2=1.0, breaks=breaks)
    upload(app, "job_file", "own.toml", write_job(job).encode())
    assert job_of(app).breaks == breaks
    opened(app, "hours")
    assert any("2 breaks of its own" in each.value for each in app.caption)
    number(app, "Humidity", 65.0)
    assert job_of(app).breaks == breaks
    _clock(app, "Opens", time(9))
    assert job_of(app).breaks[0] == Break(
        datetime.fromisoformat("2026-12-01T17:07"),
        datetime.fromisoformat("2026-12-02T09:00"),
    )
    assert len(job_of(app).breaks) == 15
    assert not any("of its own" in each.value for each in app.caption)


def test_what_stays_in_the_cup_is_mixed_too(app: AppTest) -> None:
    before = sheet(app)
    number(app, "Left in cup", 250.0)
    assert job_of(app).cup_loss_l == pytest.approx(0.25)
    assert sheet(app) != before
    next(e for e in opened(app, "file").radio if e.label == "Units").set_value(
        "us"
    ).run()
    assert job_of(app).cup_loss_l == pytest.approx(0.25)
    # A US fluid ounce is 29.5735295625 ml, exactly.
    number(app, "Left in cup", 2.0)
    assert job_of(app).cup_loss_l == pytest.approx(0.059147059125)


def test_a_job_that_is_renamed_or_put_far_off_is_another_one(app: AppTest) -> None:
    first = job_of(app).uid
    day = job_of(app).start.date()
    app.date_input[0].set_value(day + timedelta(days=1)).run()
    assert job_of(app).uid == first
    app.date_input[0].set_value(day + timedelta(days=60)).run()
    moved = job_of(app).uid
    assert moved != first
    app.text_input[0].set_value("Right wing").run()
    assert job_of(app).uid not in {first, moved}
    renamed = job_of(app).uid
    number(app, "Humidity", 65.0)
    assert job_of(app).uid == renamed


def test_a_name_with_markup_stays_a_name(app: AppTest) -> None:
    name = "<b>bold</b> & *stars*"
    app.text_input[0].set_value(name).run()
    assert job_of(app).name == name
    assert "<b>bold" not in sheet(app)
    app.text_input[0].set_value("").run()
    assert job_of(app).name == job_of(app).question.colour


def test_what_was_typed_before_turning_away_is_kept(app: AppTest) -> None:
    """A click on another view ends the typing: both come in one run."""
    app.text_input[0].set_value("Typed last")
    app.session_state["plan_view"] = "bench"
    app.run()
    assert app.subheader[0].value == "Wash with soap and water"
    assert job_of(app).name == "Typed last"
    assert not any(each.label == "Job" for each in app.text_input)


def test_a_step_is_moved_dropped_and_added(app: AppTest) -> None:
    """The choice stays on the step that was moved."""
    opened(app, "steps")
    press(app, "Later")
    press(app, "Later")
    assert job_of(app).details.changes[-1].after == "sand_for_surfacer"
    press(app, "Drop")
    assert job_of(app).details.changes[-1].drop
    assert "Wash with soap" not in sheet(app)
    press(opened(app, "steps"), "As usual")
    assert job_of(app).details.changes == ()
    press(app, "Add where it usually comes")
    assert "Test the old paint" in sheet(app)


def test_another_sealer_says_what_it_costs(app: AppTest) -> None:
    opened(app, "sealer")
    field = next(each for each in app.selectbox if each.label == "Sealer")
    field.set_value("Near-black N 2.5").run()
    assert job_of(app).sealer == "Near-black N 2.5"
    assert "recommended is White N 9" in said(app)
    assert 'aria-label="Spray it over: Near-black N 2.5 ' in html(app)
    assert "Seal with Near-black N 2.5" in sheet(app)


def test_a_job_without_colour_shows_no_sealer(app: AppTest) -> None:
    assert "Spray it over" in html(app)
    next(each for each in app.selectbox if each.label == "Kind").set_value(RE_CLEAR)
    app.run()
    assert not app.error
    assert "Spray it over" not in html(app)
    turn(app, "sheet")
    assert "Spray it over" not in html(app)


def test_whose_car_it_is_stands_in_the_book_only(app: AppTest) -> None:
    opened(app, "car")
    for label, value in (("Plate", "AB 123"), ("Customer", "Invented Person")):
        field = next(each for each in app.text_input if each.label == label)
        field.set_value(value)
    press(app, "Keep")
    with open_book() as book:
        (kept,) = book.list(BookJob)
    assert (kept.thing.plate, kept.thing.customer) == ("AB 123", "Invented Person")
    link = "".join(f"{name}{value}" for name, value in app.query_params.items())
    assert "AB 123" not in link
    assert "Invented" not in kept.thing.text


def test_a_break_that_is_off_is_not_asked_about(app: AppTest) -> None:
    opened(app, "hours")
    times = [each.label for each in app.time_input]
    assert "Opens" in times
    assert "Break from" not in times
    toggle = next(each for each in app.toggle if each.label.startswith("A break"))
    toggle.set_value(True).run()
    assert {"Break from", "Break to"} <= {each.label for each in app.time_input}
    assert not app.exception
