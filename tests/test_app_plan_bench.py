"""At the bench without a browser: what a tap does, and which times run."""

import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from plan_page import (
    DEMO,
    html,
    job_of,
    plan_page,
    press,
    reloaded,
    said,
    turn,
    upload,
)
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.records import BookSeen
from shadecore.book.shop_records import BookJob
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.screens.plan.clocks import clocks_of
from shadecore.screens.plan.timer import clock_data

MINUTE = timedelta(minutes=1)


@pytest.fixture
def app() -> AppTest:
    return plan_page("bench").run()


def _title(app: AppTest) -> str:
    assert not app.exception
    return str(app.subheader[0].value)


def _plan(**changes: object) -> Plan:
    job = JobRequest(datetime.fromisoformat("2026-11-02T08:00"), panels=(("hood", 1),))
    return planned(replace(job, **changes), demo_sheet())  # type: ignore[arg-type]


def _done_until(key: str, gap: timedelta = timedelta(hours=2)) -> dict[str, object]:
    """The steps before one, done one after the other."""
    plan = _plan()
    keys = [each.step.key for each in plan.timeline]
    before = keys[: keys.index(key)]
    start = plan.request.start
    return {"done": tuple((each, start + n * gap) for n, each in enumerate(before))}


def _to_surfacer(app: AppTest) -> None:
    while _title(app) != "Surfacer":
        press(app, "Done: ")


def _to_base(app: AppTest) -> None:
    while _title(app) != "Base coat":
        press(app, "Done: ")


def test_the_next_step_says_how_it_is_done(app: AppTest) -> None:
    assert "Takes off salt and dirt" in said(app)
    done = "".join(
        f"{key} = 2026-11-02T08:{n:02d}:00\n"
        for n, key in enumerate(
            ("wash", "solvent_wipe", "sand_for_surfacer", "solvent_wipe_2")
        )
    )
    job = f"start = 2026-11-02T08:00:00\n[panels]\nhood = 1\n[done]\n{done}"
    turn(app, "setup")
    upload(app, "job_file", "old.toml", f"{job}[pick]\nunits = 'us'\n".encode())
    turn(app, "bench")
    assert _title(app) == "Surfacer"
    assert "3 coats, 3 min flash between." in said(app)
    assert "inlet 22 psi, 5.9 psi at the cap, distance 7 in, overlap 50 %" in said(app)


def test_what_is_done_too_early_is_said_at_once(app: AppTest) -> None:
    """Nothing is dry in the seconds between two presses."""
    while _title(app) != "Block sand the surfacer":
        press(app, "Done: ")
    press(app, "Done: ")
    assert any("before High-build surfacer was ready" in e.value for e in app.warning)


def test_what_is_late_is_said_once_and_no_more_once_a_coat_is_on(app: AppTest) -> None:
    """Wiped after the shop closed today, so that the surfacer waits a night."""
    today = datetime.now().replace(hour=19, minute=0, second=0)  # noqa: DTZ005
    before = ("wash", "solvent_wipe", "sand_for_surfacer", "mask_for_primer")
    done = "".join(
        f"{key} = {today + 10 * n * MINUTE:%Y-%m-%dT%H:%M:00}\n"
        for n, key in enumerate((*before, "solvent_wipe_2"))
    )
    night = (today.replace(hour=18), today.replace(hour=8) + timedelta(days=1))
    closed = "[[breaks]]\nstart = {:%Y-%m-%dT%H:00:00}\nend = {:%Y-%m-%dT%H:00:00}\n"
    job = f"start = {today:%Y-%m-%dT08:00:00}\n[panels]\nhood = 1\n[done]\n{done}"
    turn(app, "setup")
    upload(app, "job_file", "late.toml", (job + closed.format(*night)).encode())
    turn(app, "bench")
    assert _title(app) == "Surfacer"
    late = "Surfacer starts"
    assert ["\n" in each.value for each in app.warning if late in each.value] == [False]
    press(app, "Done: coat 1")
    assert not any(late in each.value for each in app.warning)


def test_the_caution_stands_at_its_step(app: AppTest) -> None:
    _to_surfacer(app)
    assert "Breathe through:" in html(app)
    assert "isocyanate" in html(app)


def test_a_window_that_closed_meanwhile_says_what_it_costs() -> None:
    """A sealer of a week ago must be scuffed before the base coat."""
    text = DEMO.read_text("utf-8").replace("2026-12-", "2020-12-")
    keys = [
        *("wash", "solvent_wipe", "filler", "sand_for_surfacer", "solvent_wipe_2"),
        *("etch_primer", "surfacer", "block_sand", "solvent_wipe_3", "sealer"),
        "clean_gun_sealer",
    ]
    done = "".join(f"{key} = 2020-12-02T12:{n:02d}:00\n" for n, key in enumerate(keys))
    plan = planned(parse_job(f"{text}\n[done]\n{done}", "old.toml"), demo_sheet())
    _, window = clocks_of(plan, datetime.fromisoformat("2020-12-09T08:00"))
    assert window.after.startswith("Window closed {t} ago.")
    assert "first scuff it dull" in window.after
    assert window.before == "Window closes in {t}."


def test_the_flash_is_that_of_the_panel() -> None:
    """The surfacer flashes 3 min at the sheet's 21 degrees C, half of it at 31."""
    now = datetime.fromisoformat("2026-11-05T08:00:30")
    asked = {**_done_until("surfacer"), "sprayed": (now,)}
    first, *_ = clocks_of(_plan(**asked), now)
    assert first.until == now + 3 * MINUTE
    assert first.title == "Coat 1 of 3 sprayed"
    assert first.note == "until coat 2; 3 min flash"
    assert (first.before, first.after) == ("{t}", "Coat 2")
    warm, *_ = clocks_of(_plan(**asked, panel_c=31.0), now)
    assert warm.until == now + 1.5 * MINUTE
    assert warm.note == "until coat 2; 3 min flash, 1:30 at this panel"


def test_the_browser_gets_moments_that_any_clock_has() -> None:
    now = datetime.fromisoformat("2026-11-05T08:00:30")
    asked = {**_done_until("surfacer"), "sprayed": (now,)}
    data = clock_data(clocks_of(_plan(**asked), now), now, {})
    until = datetime.fromtimestamp(data["clocks"][0]["until"] / 1000.0)  # noqa: DTZ006
    assert until == now + 3 * MINUTE
    assert data["clocks"][0]["until"] - data["now"] == 180_000


def test_pot_life_runs_from_mixed_now() -> None:
    """The demo clear's pot life is 120 min; warmth shortens it as it does drying."""
    now = datetime.fromisoformat("2026-11-09T08:00")
    asked = {**_done_until("clear_coat"), "mixed": (("clear_coat", now),)}
    clocks = clocks_of(_plan(**asked), now)
    assert clocks[-1].until == now + 120 * MINUTE
    assert "do not spray" in clocks[-1].after


def test_coats_of_a_step_are_taken_and_taken_back(app: AppTest) -> None:
    _to_surfacer(app)
    press(app, "Done: coat 1 of 3")
    assert len(job_of(app).sprayed) == 1
    press(app, "Done: coat 2 of 3")
    assert any("Coat 2 was sprayed " in each.value for each in app.warning)
    press(app, "Take the last coat back")
    assert len(job_of(app).sprayed) == 1
    press(app, "Done: coat 2 of 3")
    press(app, "Done: coat 3 of 3")
    assert job_of(app).done[-1][0] == "surfacer"
    assert job_of(app).sprayed == ()
    press(app, "Take the last step back")
    assert len(job_of(app).sprayed) == 3


def test_a_reload_between_two_coats_keeps_the_timer(app: AppTest) -> None:
    _to_surfacer(app)
    press(app, "Done: coat 1 of 3")
    again = reloaded(app, "bench")
    assert job_of(again).sprayed == job_of(app).sprayed
    press(again, "Done: coat 2 of 3")


def test_covered_is_asked_in_one_tap_and_goes_to_the_book(app: AppTest) -> None:
    _to_base(app)
    press(app, "Done: coat 1 of 3")
    assert "Coat 1: covered?" in said(app)
    press(app, "Not yet")
    press(app, "Done: coat 2 of 3")
    press(app, "Done: coat 3 of 3")
    press(app, "Not yet")
    assert job_of(app).coats == 4
    press(app, "Done: coat 4 of 4")
    press(app, "Yes")
    assert _title(app) == "Clear coat"
    assert job_of(app).looks == ((1, False), (3, False), (4, True))
    with open_book() as book:
        (seen,) = book.list(BookSeen)
        (kept,) = book.list(BookJob)
    assert (seen.thing.coats_low, seen.thing.coats_high) == (4, 4)
    assert (kept.thing.took_coats, seen.thing.job) == (4, kept.uid)


def test_covered_before_the_last_coat_ends_the_step(app: AppTest) -> None:
    """A coat that was not sprayed need not be noted to get on."""
    _to_base(app)
    press(app, "Done: coat 1 of 3")
    press(app, "Not yet")
    assert "End this step" not in [each.label for each in app.button]
    press(app, "Done: coat 2 of 3")
    press(app, "Yes")
    press(app, "End this step")
    assert _title(app) == "Clear coat"
    assert job_of(app).looks == ((1, False), (2, True))


def test_nothing_is_waited_for_but_what_dries() -> None:
    """A job planned for tomorrow may start today; wet paint may not be sprayed."""
    plan = _plan()
    start = plan.timeline[0].start
    (first,) = clocks_of(plan, start - timedelta(hours=17))
    assert first.until is None
    assert first.title == "Planned for Mon 02 Nov 08:00"
    assert clocks_of(plan, start + MINUTE)[0].until == start
    plan = _plan(**_done_until("base_coat", gap=MINUTE))
    now = plan.request.done[-1][1]
    before = next(each for each in reversed(plan.timeline) if each.done)
    assert before.next_from > now
    first = clocks_of(plan, now)[0]
    assert (first.until, first.title, first.alarm) == (before.next_from, "Drying", True)


def test_covered_may_be_left_out(app: AppTest) -> None:
    _to_base(app)
    for coat in (1, 2, 3):
        press(app, f"Done: coat {coat} of 3")
    press(app, "Done: Base coat")
    assert _title(app) == "Clear coat"
    assert job_of(app).looks == ()


def test_a_step_can_be_half_done(app: AppTest) -> None:
    app.session_state["bench_half_wash"] = True
    app.run()
    press(app, "50 %")
    assert job_of(app).details.begun == (("wash", 0.5),)
    press(app, "Done: Wash")
    assert job_of(app).details.begun == ()


def test_the_cup_in_hand_is_mixed_for(app: AppTest) -> None:
    """A cup is filled to 80 %: common practice, no source."""
    _to_surfacer(app)
    assert "pots of" not in said(app)

    def mix_for(way: str, in_hand: str = "") -> str:
        ways = next(e for e in app.get("button_group") if e.label == "Mix for")
        ways.set_value(way).run()
        if in_hand:
            field = next(each for each in app.text_input if each.label == "In hand")
            field.set_value(in_hand).run()
        return said(app)

    assert "(180.0 g) ready to spray" in mix_for("Cup or weight", "180 g")
    assert "Scale reads" in html(app)
    told = re.search(
        r"(\d+) pots of (\d+) ml, .*", mix_for("Cup or weight", "100 ml cup")
    )
    assert told is not None
    assert int(told[2]) <= 80
    assert "Pot 1 of" in told[0] or "to a coat" in told[0]
    press(app, "Mixed now")
    assert job_of(app).mixed[0][0] == "surfacer"
    # The job goes on with that cup, on the sheet too.
    assert job_of(app).cup_l == pytest.approx(0.1)
    assert f"{told[1]} pots of {told[2]} ml" in mix_for("All coats")
    assert f"{told[1]} pots of {told[2]} ml" in html(turn(app, "sheet"))


def test_done_now_and_back(app: AppTest) -> None:
    assert _title(app) == "Wash with soap and water"
    press(app, "Done: Wash")
    assert job_of(app).done[0][0] == "wash"
    assert _title(app) == "Wipe with cleaner"
    press(app, "Take the last step back")
    assert job_of(app).done == ()


def test_done_before_the_start_brings_the_rest_forward(app: AppTest) -> None:
    """The job starts tomorrow; begun today it goes on today, but not by night."""
    start = job_of(app).start
    press(app, "Done: Wash")
    (_, moment), *_ = job_of(app).done
    assert moment < start
    nights = {each.start.date() for each in job_of(app).breaks}
    assert {moment.date(), start.date()} <= nights


def _page_and_bar() -> None:
    from shadecore.screens import bottom_bar  # noqa: PLC0415
    from shadecore.screens.plan import page as plan_page  # noqa: PLC0415

    bottom_bar.show_bottom_bar("plan")
    plan_page.page()


def test_a_begun_job_opens_at_the_bench_and_the_bar_says_so(app: AppTest) -> None:
    press(app, "Done: Wash")
    again = AppTest.from_function(_page_and_bar, default_timeout=60)
    for name, value in app.query_params.items():
        if name != "view":
            again.query_params[name] = value
    again.run()
    assert _title(again) == "Wipe with cleaner"
    kinds = {each.label: each.proto.type for each in again.button}
    assert (kinds["Set up"], kinds["Bench"]) == ("tertiary", "primary")


def test_two_phones_on_one_job_see_each_other(app: AppTest) -> None:
    """What one does the other shows; the same step is not done twice."""
    press(app, "Done: Wash")
    other = reloaded(app, "bench")
    press(other, "Done: Wipe with cleaner")
    # The button that this phone still shows is of a step that is done meanwhile.
    press(app, "Done: Wipe with cleaner")
    assert [key for key, _ in job_of(app).done] == ["wash", "solvent_wipe"]
    assert job_of(app).done == job_of(other).done
    turn(other, "setup")
    other.text_input[0].set_value("Left wing").run()
    app.run()
    assert job_of(app).name == "Left wing"


def test_what_it_took_is_asked_at_the_end(app: AppTest) -> None:
    for _ in range(40):
        if _title(app) == "Every step is done":
            break
        press(app, "Done: ")
    field = next(e for e in app.number_input if e.label.startswith("Working time"))
    field.set_value(345.0)
    press(app, "Keep")
    with open_book() as book:
        (kept,) = book.list(BookJob)
    assert (kept.thing.state, kept.thing.took_minutes) == ("done", 345.0)
    assert "5 h 45 min of work" in said(app)
