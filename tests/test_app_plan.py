"""The plan's page without a browser: what is set up changes what is planned."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest
from plan_page import (
    DEMO,
    PRODUCTS,
    SECONDS,
    html,
    job_of,
    number,
    opened,
    plan_page,
    press,
    reloaded,
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
from shadecore.question.question import Question
from shadecore.screens.say import plain


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


def test_the_link_says_the_colour() -> None:
    app = plan_page()
    app.query_params["colour"] = "26 0 0"
    app.run()
    assert job_of(app).question.colour == "26 0 0"
    assert "Seal with Near-black N 2.5" in sheet(app)


def test_the_pick_of_the_session_goes_before_the_link() -> None:
    app = plan_page()
    app.query_params["colour"] = "88 0 1"
    app.session_state["question"] = Question(colour="26 0 0")
    app.run()
    assert "Seal with Near-black N 2.5" in sheet(app)


def test_a_job_file_fills_the_page(app: AppTest) -> None:
    upload(app, "job_file", DEMO.name, DEMO.read_bytes())
    assert not app.error
    assert app.text_input[0].value == "Left door and front wing (invented)"
    assert app.multiselect[0].value == ["front_door", "front_fender"]
    opened(app, "hours", "weather")
    off = {each.label for each in app.toggle if not each.value}
    assert off == {
        "Sanded level and polished",
        "A break every day, such as lunch",
        "Another weather on each day",
    }
    shown = sheet(app)
    for title in ("Fill and shape", "Etch primer on bare metal", "Tue 01 Dec 08:00"):
        assert title in shown
    assert "Mix for 1.5 m²" in titles(app)


def test_a_job_file_keeps_what_the_page_does_not_ask(app: AppTest) -> None:
    start = datetime.fromisoformat("2026-12-01T08:00")
    job = JobRequest(
        start,
        "Two",
        Question(colour="26 0 0", units="us"),
        panels=(("front_door", 2),),
        cup_loss_l=0.2,
        breaks=(Break(start + timedelta(hours=4), start + timedelta(hours=5)),),
        done=(("wash", start + timedelta(minutes=30)),),
    )
    upload(app, "job_file", "two.toml", write_job(job).encode())
    assert not app.error
    assert replace(job_of(app), uid="") == job
    assert "Mix for 19.4 ft²" in titles(app)
    assert 'aria-label="done"' in sheet(app)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"version = 2\n", "j.toml, line 1: version is not 1"),
        (b"version = 1\n", "start is missing"),
        (b"name = ", "cannot be read as TOML"),
        (b"%PDF-1.7\0\0", "j.toml is not a text file"),
        (b"start = 2026-12-01T08:00:00\nhue = 1\n", "hue is not known"),
    ],
)
def test_a_wrong_job_file_is_explained_and_the_plan_stays(
    app: AppTest, content: bytes, said: str
) -> None:
    before = job_of(app)
    upload(app, "job_file", "j.toml", content)
    assert any(said in each.value for each in app.error)
    assert job_of(app) == before
    assert "Seal with White N 9" in sheet(app)


def test_a_panel_in_a_file_that_cannot_be_planned(app: AppTest) -> None:
    text = DEMO.read_text("utf-8").replace("45 60 35", "no colour at all")
    upload(app, "job_file", "j.toml", text.encode())
    assert not app.exception
    assert any("not a colour" in each.value for each in app.error)
    assert not app.get("download_button")


def test_own_products_take_the_place_of_the_example(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("Solvent base coat", "Our own base")
    upload(app, "product_file", "own.toml", text.encode())
    assert not app.error
    assert "Our own base" in sheet(app)
    assert "Solvent base coat" not in sheet(app)


def test_own_products_survive_a_reload_and_can_be_laid_aside(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("Solvent base coat", "Our own base")
    upload(app, "product_file", "own.toml", text.encode())
    assert any("a reload keeps it" in each.value for each in app.caption)
    again = reloaded(app)
    assert not again.error
    assert "Our own base" in sheet(again)
    press(app, "Plan from the invented line again")
    assert "Solvent base coat" in sheet(app)
    assert "products" not in app.query_params
    assert "Our own base" not in sheet(reloaded(app))


def test_products_too_long_for_the_link_are_said_to_be(app: AppTest) -> None:
    grades = "".join(
        f"[[product.sealer.reducers]]\nname = 'Grade {n**9 % 999_983} "
        f"{n**7 % 999_961} {n**5 % 999_959}'\n"
        f"from_c = {10 + n / 100:.2f}\nto_c = 38\n"
        for n in range(990)
    )
    text = f"{PRODUCTS.read_text('utf-8')}\n{grades}"
    upload(app, "product_file", "own.toml", text.encode())
    assert not app.error
    assert any("upload it again" in each.value for each in app.caption)
    assert "products" not in app.query_params


def test_products_that_a_link_spoils_are_told() -> None:
    app = plan_page()
    app.query_params["products"] = "eNpLzs8FAAL"
    app.run()
    (said,) = [each.value for each in app.error]
    assert said.startswith("The product sheet in the link is cut off or changed")
    assert "Solvent base coat" in sheet(app)


def _pick_page() -> None:
    from shadecore.screens.pick import page as pick_page  # noqa: PLC0415 - as above

    pick_page.page()


def test_the_picks_page_keeps_the_job_in_its_link(app: AppTest) -> None:
    """A reload of that page, and the way back from it, find the job again."""
    app.text_input[0].set_value("Left wing").run()
    pick = AppTest.from_function(_pick_page, default_timeout=SECONDS)
    for name, value in app.query_params.items():
        pick.query_params[name] = value
    pick.run()
    assert not pick.exception
    assert pick.query_params["job"] == app.query_params["job"]
    back = plan_page()
    back.session_state["page_parameters"] = pick.session_state["page_parameters"]
    back.session_state["question"] = pick.session_state["question"]
    back.run()
    assert job_of(back) == job_of(app)


def test_a_wrong_product_sheet_is_explained(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8")
    line = text[: text.index("halving_k")].count("\n") + 1
    wrong = text.replace("halving_k = 10", "halving_k = 'ten'")
    upload(app, "product_file", "own.toml", wrong.encode())
    assert any(
        f"own.toml, line {line}" in each.value and plain("halving_k") in each.value
        for each in app.error
    )
    assert any("invented line is used meanwhile" in each.value for each in app.error)
    assert "Solvent base coat" in sheet(app)


def test_toggles_add_their_steps(app: AppTest) -> None:
    for label, title in (
        ("Bare metal", "Etch primer on bare metal"),
        ("Filler", "Fill and shape"),
        ("Sanded level and polished", "Clear coat again"),
    ):
        assert title not in sheet(app)
        toggle(app, label)
        assert title in sheet(app)


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


def test_a_panel_nobody_knows_is_named_and_can_be_taken_out(app: AppTest) -> None:
    text = DEMO.read_text("utf-8").replace("front_door", "left_wing")
    upload(app, "job_file", "j.toml", text.encode())
    assert any(plain("no panel 'left_wing'") in each.value for each in app.error)
    app.multiselect[0].set_value(["front_fender"]).run()
    assert not app.error


def test_a_reload_keeps_a_job_that_was_not_saved(app: AppTest) -> None:
    app.text_input[0].set_value("Left wing").run()
    app.multiselect[0].set_value(["hood", "front_door"]).run()
    number(app, "Front door: how many", 2)
    number(app, "Humidity", 65.0)
    toggle(app, "Bare metal")
    press(turn(app, "bench"), "Done: Wash")
    again = reloaded(app, "bench")
    assert not again.error
    assert job_of(again) == job_of(app)
    assert "Wipe with cleaner" in [each.value for each in again.subheader]


def test_a_link_with_half_a_job_is_told_and_a_new_one_begins() -> None:
    app = plan_page()
    app.query_params["colour"] = "26 0 0"
    app.query_params["job"] = "eNpLzs8FAAL"
    app.run()
    (said,) = [each.value for each in app.error]
    assert said.startswith("The job in the link is cut off or changed")
    assert "Seal with Near-black N 2.5" in sheet(app)


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
    assert any(
        each.value.startswith("## DO NOT SPRAY") and "dew point" in each.value
        for each in app.error
    )
    (schedule,) = [each for each in titles(app) if "Schedule" in each]
    assert "DO NOT SPRAY" in schedule
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


def test_a_scratch_that_will_show_is_said_before_the_job(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("[400, 600]", "[320, 600]")
    upload(app, "product_file", "own.toml", text.encode())
    assert any(
        each.value.startswith("From P320 to P600 the old scratch still shows")
        for each in app.warning
    )
    assert "Block sand the surfacer (P320, P600)" in sheet(app)


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
    assert job_of(app).name == "Job"


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
