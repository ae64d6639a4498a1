"""The plan's page without a browser: job files, product sheets and links."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from plan_page import (
    DEMO,
    PRODUCTS,
    SECONDS,
    job_of,
    number,
    opened,
    plan_page,
    press,
    reloaded,
    sheet,
    titles,
    toggle,
    turn,
    upload,
)
from streamlit.testing.v1 import AppTest

from shadecore.job.breaks import Break
from shadecore.job.job_file import write_job
from shadecore.job.request import JobRequest
from shadecore.question.question import Question
from shadecore.screens.say import plain


@pytest.fixture
def app() -> AppTest:
    return plan_page().run()


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


def test_a_scratch_that_will_show_is_said_before_the_job(app: AppTest) -> None:
    text = PRODUCTS.read_text("utf-8").replace("[400, 600]", "[320, 600]")
    upload(app, "product_file", "own.toml", text.encode())
    assert any(
        each.value.startswith("From P320 to P600 the old scratch still shows")
        for each in app.warning
    )
    assert "P320, P600." in sheet(app)
