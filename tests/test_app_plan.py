"""The plan's page without a browser: what is asked changes what is planned."""

import os
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import FileUploader

from shadecore.job.breaks import Break
from shadecore.job.job_file import write_job
from shadecore.job.request import JobRequest
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.screens.say import plain

DEMO = Path(__file__).resolve().parents[1] / "data" / "demo-job.toml"
PRODUCTS = DEMO.with_name("product-line.toml")
SECONDS = 60
FILES = ["Sheet (PDF)", "Sheet (HTML)", "Calendar", "Job file"]


def _plan_page() -> None:
    # Runs as a script of its own, which knows only what it imports itself.
    from shadecore.screens.plan import page as plan_page  # noqa: PLC0415

    plan_page.page()


def _open() -> AppTest:
    # AppTest cannot change to a page that is a function, so the page runs alone.
    return AppTest.from_function(_plan_page, default_timeout=SECONDS)


def _reloaded(app: AppTest) -> AppTest:
    again = _open()
    for name, value in app.query_params.items():
        again.query_params[name] = value
    return again.run()


@pytest.fixture
def app() -> AppTest:
    return _open().run()


def _upload(app: AppTest, key: str, name: str, content: bytes) -> AppTest:
    field: FileUploader = next(
        each for each in app.get("file_uploader") if each.key == key
    )
    return field.upload(name, content, "application/toml").run()


def _html(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(str(part.proto.body) for part in app.get("html"))


def _said(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(each.value for each in app.markdown)


def _job(app: AppTest) -> JobRequest:
    job = app.session_state["job_request"]
    assert isinstance(job, JobRequest)
    return job


def _button(app: AppTest, label: str) -> AppTest:
    return (
        next(each for each in app.button if each.label.startswith(label)).click().run()
    )


def _number(app: AppTest, label: str, value: float) -> AppTest:
    field = next(each for each in app.number_input if each.label.startswith(label))
    return field.set_value(value).run()


def _picked_coats(app: AppTest) -> int | None:
    """The engine's count for the colour that the page plans."""
    return answer(_job(app).question).recommended.coats


def _toggle(app: AppTest, label: str) -> AppTest:
    field = next(each for each in app.toggle if each.label == label)
    return field.set_value(True).run()


def test_the_page_plans_an_example(app: AppTest) -> None:
    assert not app.error
    assert "Seal with White N 9" in _html(app)
    titles = [each.value for each in app.subheader]
    assert titles[:2] == ["Weather", "Schedule"]
    assert titles[-1] == "Cautions"
    assert "isocyanates" in _said(app)
    assert any("supplied air" in each.value for each in app.info)
    assert [each.label for each in app.get("download_button")] == FILES


def test_it_starts_tomorrow_when_the_shop_opens(app: AppTest) -> None:
    start = _job(app).start
    assert start.time() == time(8)
    assert start.date() - date.today() in {timedelta(0), timedelta(1)}  # noqa: DTZ011 - the page's clock
    assert _job(app).breaks[0] == Break(
        datetime.combine(start.date(), time(18)),
        datetime.combine(start.date() + timedelta(days=1), time(8)),
    )


def test_the_link_says_the_colour() -> None:
    app = _open()
    app.query_params["colour"] = "26 0 0"
    app.run()
    assert _job(app).question.colour == "26 0 0"
    assert "Seal with Near-black N 2.5" in _html(app)


def test_the_pick_of_the_session_goes_before_the_link() -> None:
    app = _open()
    app.query_params["colour"] = "88 0 1"
    app.session_state["question"] = Question(colour="26 0 0")
    app.run()
    assert "Seal with Near-black N 2.5" in _html(app)


def test_a_job_file_fills_the_page(app: AppTest) -> None:
    _upload(app, "job_file", DEMO.name, DEMO.read_bytes())
    assert not app.error
    assert app.text_input[0].value == "Left door and front wing (invented)"
    assert app.multiselect[0].value == ["front_door", "front_fender"]
    off = {each.label for each in app.toggle if not each.value}
    assert off == {
        "Sanded level and polished",
        "A break every day, such as lunch",
    }
    html = _html(app)
    for title in ("Fill and shape", "Etch primer on bare metal", "Tue 01 Dec 08:00"):
        assert title in html
    assert "Mix for 1.5 m²" in [each.value for each in app.subheader]


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
    _upload(app, "job_file", "two.toml", write_job(job).encode())
    assert not app.error
    assert _job(app) == job
    assert "Mix for 19.4 ft²" in [each.value for each in app.subheader]
    assert 'aria-label="done"' in _html(app)


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
    before = _job(app)
    _upload(app, "job_file", "j.toml", content)
    assert any(said in each.value for each in app.error)
    assert _job(app) == before
    assert "Seal with White N 9" in _html(app)


def test_a_panel_in_a_file_that_cannot_be_planned(app: AppTest) -> None:
    text = DEMO.read_text("utf-8").replace("45 60 35", "no colour at all")
    _upload(app, "job_file", "j.toml", text.encode())
    assert not app.exception
    assert any("not a colour" in each.value for each in app.error)
    assert not app.get("download_button")


def test_own_products_take_the_place_of_the_example(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("Solvent base coat", "Our own base")
    _upload(app, "product_file", "own.toml", text.encode())
    assert not app.error
    assert "Our own base" in _html(app)
    assert "Solvent base coat" not in _html(app)


def test_own_products_survive_a_reload_and_can_be_laid_aside(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("Solvent base coat", "Our own base")
    _upload(app, "product_file", "own.toml", text.encode())
    assert any("a reload keeps it" in each.value for each in app.caption)
    again = _reloaded(app)
    assert not again.error
    assert "Our own base" in _html(again)
    _button(app, "Plan from the invented line again")
    assert "Solvent base coat" in _html(app)
    assert "products" not in app.query_params
    assert "Our own base" not in _html(_reloaded(app))


def test_products_too_long_for_the_link_are_said_to_be(app: AppTest) -> None:
    grades = "".join(
        f"[[product.sealer.reducers]]\nname = 'Grade {n**9 % 999_983} "
        f"{n**7 % 999_961} {n**5 % 999_959}'\n"
        f"from_c = {10 + n / 100:.2f}\nto_c = 38\n"
        for n in range(990)
    )
    text = f"{PRODUCTS.read_text('utf-8')}\n{grades}"
    _upload(app, "product_file", "own.toml", text.encode())
    assert not app.error
    assert any("upload it again" in each.value for each in app.caption)
    assert "products" not in app.query_params


def test_products_that_a_link_spoils_are_told() -> None:
    app = _open()
    app.query_params["products"] = "eNpLzs8FAAL"
    app.run()
    (said,) = [each.value for each in app.error]
    assert said.startswith("The product sheet in the link is cut off or changed")
    assert "Solvent base coat" in _html(app)


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
    back = _open()
    back.session_state["page_parameters"] = pick.session_state["page_parameters"]
    back.session_state["question"] = pick.session_state["question"]
    back.run()
    assert _job(back) == _job(app)


def test_a_wrong_product_sheet_is_explained(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8")
    line = text[: text.index("halving_k")].count("\n") + 1
    wrong = text.replace("halving_k = 10", "halving_k = 'ten'")
    _upload(app, "product_file", "own.toml", wrong.encode())
    assert any(
        f"own.toml, line {line}" in each.value and plain("halving_k") in each.value
        for each in app.error
    )
    assert any("invented line is used meanwhile" in each.value for each in app.error)
    assert "Solvent base coat" in _html(app)


def test_toggles_add_their_steps(app: AppTest) -> None:
    for label, title in (
        ("Bare metal", "Etch primer on bare metal"),
        ("Filler", "Fill and shape"),
        ("Sanded level and polished", "Clear coat again"),
    ):
        assert title not in _html(app)
        _toggle(app, label)
        assert title in _html(app)


def test_panels_and_other_area_add_up(app: AppTest) -> None:
    app.multiselect[0].set_value(["roof", "hood"]).run()
    assert "Mix for 3.1 m²" in [each.value for each in app.subheader]
    _number(app, "Other area", 2.0)
    assert "Mix for 5.1 m²" in [each.value for each in app.subheader]


def test_several_panels_of_one_kind(app: AppTest) -> None:
    """Two front doors of 0.9 m2."""
    app.multiselect[0].set_value(["front_door"]).run()
    _number(app, "Front door: how many", 2)
    assert _job(app).panels == (("front_door", 2),)
    assert "Mix for 1.8 m²" in [each.value for each in app.subheader]


def test_a_panel_nobody_knows_is_named_and_can_be_taken_out(app: AppTest) -> None:
    text = DEMO.read_text("utf-8").replace("front_door", "left_wing")
    _upload(app, "job_file", "j.toml", text.encode())
    assert any(plain("no panel 'left_wing'") in each.value for each in app.error)
    app.multiselect[0].set_value(["front_fender"]).run()
    assert not app.error


def test_a_reload_keeps_a_job_that_was_not_saved(app: AppTest) -> None:
    app.text_input[0].set_value("Left wing").run()
    app.multiselect[0].set_value(["hood", "front_door"]).run()
    _number(app, "Front door: how many", 2)
    _number(app, "Humidity", 65.0)
    _toggle(app, "Bare metal")
    _button(app, "Done now")
    again = _reloaded(app)
    assert not again.error
    assert _job(again) == _job(app)
    assert again.metric[0].label == "Wipe with cleaner"


def test_a_link_with_half_a_job_is_told_and_a_new_one_begins() -> None:
    app = _open()
    app.query_params["colour"] = "26 0 0"
    app.query_params["job"] = "eNpLzs8FAAL"
    app.run()
    (said,) = [each.value for each in app.error]
    assert said.startswith("The job in the link is cut off or changed")
    assert "Seal with Near-black N 2.5" in _html(app)


def test_us_units_are_asked_and_the_job_stays_metric(app: AppTest) -> None:
    """68 degrees F are 20 degrees C, 100 square feet 9.290304 m2, exactly."""
    next(each for each in app.radio if each.label == "Units").set_value("us").run()
    labels = [each.label for each in app.number_input]
    assert {"Air (°F)", "Panel (°F)", "Other area (ft²)"} <= set(labels)
    before = _job(app)
    assert (before.air_c, before.panel_c, before.area_m2) == (21.0, 21.0, 0.0)
    _number(app, "Air", 68.0)
    _number(app, "Other area", 100.0)
    assert _job(app).air_c == pytest.approx(20.0)
    assert _job(app).area_m2 == pytest.approx(9.290304)
    assert _job(app).panel_c == 21.0
    assert _job(app).question.units == "us"
    assert app.session_state["question"].units == "us"


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_ends_of_the_form_can_be_planned(app: AppTest, units: str) -> None:
    next(each for each in app.radio if each.label == "Units").set_value(units).run()
    for label in ("Air", "Panel", "Other area"):
        for end in ("min", "max"):
            field = next(e for e in app.number_input if e.label.startswith(label))
            _number(app, label, getattr(field, end))
            assert not app.exception


def test_the_page_shows_the_colour_that_it_plans(app: AppTest) -> None:
    html = _html(app)
    assert 'aria-label="Topcoat: L* 45.0, a* 60.0, b* 35.0"' in html
    assert 'aria-label="Spray it over: White N 9 (L* 90.2, N 9.0)"' in html
    coats = _picked_coats(app)
    assert f'aria-label="coat {coats}, hides"' in html
    assert "A screen is not a paint chip" in html
    assert "invented example, do not spray by it" in html


def test_the_next_step_says_how_it_is_done(app: AppTest) -> None:
    assert "Takes off salt and dirt" in _said(app)
    done = "".join(
        f"{key} = 2026-11-02T08:{n:02d}:00\n"
        for n, key in enumerate(
            ("wash", "solvent_wipe", "sand_for_surfacer", "solvent_wipe_2")
        )
    )
    job = f"start = 2026-11-02T08:00:00\n[panels]\nhood = 1\n[done]\n{done}"
    _upload(app, "job_file", "old.toml", f"{job}[pick]\nunits = 'us'\n".encode())
    assert app.metric[0].label == "Surfacer"
    assert "3 coats, 3 min flash between." in _said(app)
    assert "tip 1.8 mm, inlet 29 psi, distance 7 in, overlap 50 %" in _said(app)


def test_what_is_done_too_early_is_said_at_once(app: AppTest) -> None:
    """Nothing is dry in the seconds between two presses."""
    for _ in range(6):
        _button(app, "Done now")
    (said,) = [each.value for each in app.warning]
    assert "before High-build surfacer was ready" in said


def test_a_window_that_closed_meanwhile_says_what_it_costs(app: AppTest) -> None:
    """A sealer of a week ago must be scuffed before the base coat."""
    text = DEMO.read_text("utf-8").replace("2026-12-", "2020-12-")
    keys = [
        *("wash", "solvent_wipe", "filler", "sand_for_surfacer", "solvent_wipe_2"),
        *("etch_primer", "surfacer", "block_sand", "solvent_wipe_3", "sealer"),
    ]
    done = "".join(f"{key} = 2020-12-02T12:{n:02d}:00\n" for n, key in enumerate(keys))
    _upload(app, "job_file", "old.toml", f"{text}\n[done]\n{done}".encode())
    assert app.metric[0].label == "Base coat"
    (late,) = [each.value for each in app.error]
    assert late.startswith("Window closed ")
    assert "first scuff it dull" in late


def test_nothing_to_paint_is_explained(app: AppTest) -> None:
    app.multiselect[0].set_value([]).run()
    assert not app.exception
    assert any("nothing to paint" in each.value for each in app.error)
    _number(app, "Other area", 1.0)
    assert not app.error


def test_a_wet_panel_stops_the_job(app: AppTest) -> None:
    assert not app.error
    _number(app, "Panel", 12.0)
    _number(app, "Humidity", 80.0)
    assert any(
        each.value.startswith("## DO NOT SPRAY") and "dew point" in each.value
        for each in app.error
    )
    (schedule,) = [each.value for each in app.subheader if "Schedule" in each.value]
    assert "DO NOT SPRAY" in schedule
    assert "DO NOT SPRAY: Clear coat" in _html(app)


def test_a_cold_panel_dries_slower(app: AppTest) -> None:
    before = _html(app)
    _number(app, "Panel", 15.0)
    assert _html(app) != before
    assert not app.error


def test_curing_by_air(app: AppTest) -> None:
    before = _html(app)
    app.radio[0].set_value("air").run()
    assert _job(app).cure == "air"
    assert _html(app) != before


def test_another_day_moves_the_nights(app: AppTest) -> None:
    day = _job(app).start.date() + timedelta(days=40)
    app.date_input[0].set_value(day).run()
    job = _job(app)
    assert job.start == datetime.combine(day, time(8))
    assert job.breaks[0].start == datetime.combine(day, time(18))
    assert day.strftime("%a %d %b 08:00") in _html(app)


def _clock(app: AppTest, label: str, value: time) -> AppTest:
    field = next(each for each in app.time_input if each.label == label)
    return field.set_value(value).run()


def test_other_hours_lay_the_nights_anew(app: AppTest) -> None:
    start = _job(app).start
    _clock(app, "Closes", time(16, 30))
    _clock(app, "Opens", time(7))
    nights = _job(app).breaks
    assert {(each.start.time(), each.end.time()) for each in nights} == {
        (time(16, 30), time(7))
    }
    assert [each.start.date() for each in nights] == [
        start.date() + timedelta(days=day) for day in range(15)
    ]
    _number(app, "Humidity", 65.0)
    assert _job(app).breaks == nights


def test_a_daily_break_lies_in_the_plan(app: AppTest) -> None:
    _toggle(app, "A break every day, such as lunch")
    day = _job(app).start.date()
    lunch = [each for each in _job(app).breaks if each.start.time() == time(12)]
    assert len(lunch) == 15
    assert lunch[0] == Break(
        datetime.combine(day, time(12)), datetime.combine(day, time(12, 30))
    )
    before = _html(app)
    _clock(app, "Break to", time(14))
    assert _html(app) != before
    app.toggle(key="plan_pause_0").set_value(False).run()
    assert {each.start.time() for each in _job(app).breaks} == {time(18)}


def test_hours_that_cannot_be_are_told_and_the_breaks_stay(app: AppTest) -> None:
    before = _job(app).breaks
    _clock(app, "Closes", time(6))
    (said,) = [each.value for each in app.error]
    assert said.startswith("The shop closes at 06:00")
    assert _job(app).breaks == before
    _clock(app, "Closes", time(17))
    assert not app.error


def test_breaks_of_a_file_stay_until_other_hours_are_set(app: AppTest) -> None:
    start = datetime.fromisoformat("2026-12-01T08:00")
    breaks = (
        Break(start + timedelta(hours=2), start + timedelta(hours=3)),
        Break(start + timedelta(hours=9, minutes=7), start + timedelta(hours=23)),
    )
    job = JobRequest(start, area_m2=1.0, breaks=breaks)
    _upload(app, "job_file", "own.toml", write_job(job).encode())
    assert _job(app).breaks == breaks
    assert any("2 breaks of its own" in each.value for each in app.caption)
    _number(app, "Humidity", 65.0)
    assert _job(app).breaks == breaks
    _clock(app, "Opens", time(9))
    assert _job(app).breaks[0] == Break(
        datetime.fromisoformat("2026-12-01T17:07"),
        datetime.fromisoformat("2026-12-02T09:00"),
    )
    assert len(_job(app).breaks) == 15
    assert not any("of its own" in each.value for each in app.caption)


def test_what_stays_in_the_cup_is_mixed_too(app: AppTest) -> None:
    before = _html(app)
    _number(app, "Left in cup", 250.0)
    assert _job(app).cup_loss_l == pytest.approx(0.25)
    assert _html(app) != before
    next(each for each in app.radio if each.label == "Units").set_value("us").run()
    assert _job(app).cup_loss_l == pytest.approx(0.25)
    # A US fluid ounce is 29.5735295625 ml, exactly.
    _number(app, "Left in cup", 2.0)
    assert _job(app).cup_loss_l == pytest.approx(0.059147059125)


def _to_surfacer(app: AppTest) -> None:
    for _ in range(4):
        _button(app, "Done now")


def test_coats_of_a_step_are_timed(app: AppTest) -> None:
    """The surfacer has three coats and 3 min flash at the sheet's 21 degrees C."""
    assert not any("Coat sprayed" in each.label for each in app.button)
    _to_surfacer(app)
    assert 'role="timer"' not in _html(app)
    _button(app, "Coat sprayed: 1 of 3")
    assert "Coat 1 of 3 sprayed" in _html(app)
    assert "until coat 2; flash 3:00 at this panel" in _html(app)
    assert (app.metric[0].label, app.metric[0].value) == ("Surfacer", "under way")
    # Above the picture, so that nobody scrolls for it with a gun in the hand.
    assert _html(app).index('role="timer"') < _html(app).index("sc-hero")
    _number(app, "Panel", 31.0)
    assert "flash 1:30 at this panel" in _html(app)
    _button(app, "Coat sprayed: 2 of 3")
    assert any("Coat 2 came 1:" in each.value for each in app.warning)
    _button(app, "Take the last coat back")
    assert not any("Coat 2 came" in each.value for each in app.warning)
    _button(app, "Coat sprayed: 2 of 3")
    _button(app, "Coat sprayed: 3 of 3")
    assert _job(app).done[-1][0] == "surfacer"
    assert _job(app).sprayed == ()
    assert 'role="timer"' not in _html(app)


def test_a_coat_may_follow_when_its_flash_is_over(app: AppTest) -> None:
    _to_surfacer(app)
    _button(app, "Coat sprayed: 1 of 3")
    long_ago = _job(app).sprayed[0] - timedelta(minutes=4)
    job = replace(_job(app), sprayed=(long_ago,))
    _upload(app, "job_file", "coats.toml", write_job(job).encode())
    assert "<b>Coat 2</b>may be sprayed since 1:0" in _html(app)


def test_a_reload_between_two_coats_keeps_the_timer(app: AppTest) -> None:
    _to_surfacer(app)
    _button(app, "Coat sprayed: 1 of 3")
    again = _reloaded(app)
    assert _job(again).sprayed == _job(app).sprayed
    assert "Coat 1 of 3 sprayed" in _html(again)


def test_limits_say_where_they_stand_and_how_well_they_are_known(app: AppTest) -> None:
    """California's base coat: 3.5 lb/gal against 5.0; common practice, no source."""
    limits = next(each for each in app.expander if each.label == "The limits in full")
    said = [each.value for each in limits.markdown]
    assert "whose own text was not read" in said[0]
    assert any(
        each.startswith("Solvent base coat: ")
        and "(5.00 lb/gal) is above the 420 g/L" in each
        and each.endswith("check your local rule.")
        for each in said
    )


def test_a_scratch_that_will_show_is_said_before_the_job(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("[400, 600]", "[320, 600]")
    _upload(app, "product_file", "own.toml", text.encode())
    assert any(
        each.value.startswith("From P320 to P600 the old scratch still shows")
        for each in app.warning
    )
    assert "Block sand the surfacer (P320, P600)" in _html(app)


def test_a_job_that_is_renamed_or_put_far_off_is_another_one(app: AppTest) -> None:
    first = _job(app).uid
    day = _job(app).start.date()
    app.date_input[0].set_value(day + timedelta(days=1)).run()
    assert _job(app).uid == first
    app.date_input[0].set_value(day + timedelta(days=60)).run()
    moved = _job(app).uid
    assert moved != first
    app.text_input[0].set_value("Right wing").run()
    assert _job(app).uid not in {first, moved}
    renamed = _job(app).uid
    _number(app, "Humidity", 65.0)
    assert _job(app).uid == renamed


def test_done_now_and_back(app: AppTest) -> None:
    assert 'aria-label="done"' not in _html(app)
    assert [each.label for each in app.button] == ["Done now: Wash with soap and water"]
    _button(app, "Done now")
    assert _job(app).done[0][0] == "wash"
    assert _html(app).count('aria-label="done"') == 1
    assert any(each.label == "Done now: Wipe with cleaner" for each in app.button)
    assert app.metric[0].label == "Wipe with cleaner"
    _button(app, "Take the last step back")
    assert _job(app).done == ()
    assert 'aria-label="done"' not in _html(app)


def test_done_before_the_start_brings_the_rest_forward(app: AppTest) -> None:
    """The job starts tomorrow; begun today it goes on today, but not by night."""
    start = _job(app).start
    _button(app, "Done now")
    (_, moment), *_ = _job(app).done
    assert moment < start
    nights = {each.start.date() for each in _job(app).breaks}
    assert {moment.date(), start.date()} <= nights
    assert not app.metric[0].value.startswith("in 1 d")


def test_the_clock_counts_to_the_first_step(app: AppTest) -> None:
    assert app.metric[0].label == "Wash with soap and water"
    assert app.metric[0].value.startswith("in ")


def test_a_job_long_ago_is_past(app: AppTest) -> None:
    text = DEMO.read_text("utf-8").replace("2026-12-", "2020-12-")
    _upload(app, "job_file", "old.toml", text.encode())
    assert app.metric[0].value.endswith(" ago")
    assert " d " in app.metric[0].value


def test_a_name_with_markup_stays_a_name(app: AppTest) -> None:
    name = "<b>bold</b> & *stars*"
    app.text_input[0].set_value(name).run()
    assert _job(app).name == name
    assert "<b>bold" not in _html(app)
    app.text_input[0].set_value("").run()
    assert _job(app).name == "Job"


def test_colour_science_is_quiet() -> None:
    """The scripts above import it in this process; see conftest."""
    assert os.environ["COLOUR_SCIENCE__FILTER_USAGE_WARNINGS"] == "True"
