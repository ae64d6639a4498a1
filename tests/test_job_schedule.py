"""When each step may happen: jobs by hand, and what cannot be."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from schedules import (
    BAKE_MIN,
    COOL_MIN,
    FLASH_MIN,
    FULL,
    MINUTE,
    MORNING,
    PLAIN,
    REFERENCE_C,
    WINDOWS,
    at,
    nights,
    of,
)

from shadecore.errors import JobError, SettingError
from shadecore.job.breaks import Break
from shadecore.job.schedule import Timed, schedule
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.window_words import broken_words

# By hand


def test_a_plain_job_by_hand() -> None:
    """Panel at 70 F: hands-on 20, 10, 30, 10 min; surfacer 10 + 3 x 10 + 2 x 3."""
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C)
    assert [(each.step.key, each.start, each.end) for each in timed] == [
        ("wash", at(8), at(8, 20)),
        ("solvent_wipe", at(8, 20), at(8, 30)),
        ("sand_for_surfacer", at(8, 35), at(9, 5)),
        ("solvent_wipe_2", at(9, 5), at(9, 15)),
        ("surfacer", at(9, 20), at(10, 6)),
        ("block_sand", at(12, 6), at(13, 6)),
        ("solvent_wipe_3", at(13, 6), at(13, 16)),
        ("sealer", at(13, 21), at(13, 41)),
        ("base_coat", at(13, 51), at(14, 51)),
        ("clear_coat", at(15, 11), at(15, 46)),
        ("cut", at(17, 6), at(18, 36)),
        ("polish", at(18, 36), at(20, 6)),
    ]
    assert of(timed, "sealer").next_from == at(13, 51)
    assert of(timed, "sealer").next_until == at(21, 41)
    assert of(timed, "surfacer").next_until is None  # it is sanded anyhow
    assert of(timed, "polish").next_from == at(20, 6)


def test_the_flattest_finish_by_hand() -> None:
    timed = schedule(FULL, demo_sheet(), MORNING, REFERENCE_C)
    clear, cure = of(timed, "clear_coat"), of(timed, "cure")
    assert cure.start == clear.end + 5 * MINUTE
    assert cure.end == cure.start + (BAKE_MIN - COOL_MIN) * MINUTE
    assert of(timed, "sand_clear").start == cure.end + COOL_MIN * MINUTE
    assert of(timed, "clear_coat_2").start == of(timed, "sand_clear").end
    again = of(timed, "clear_coat_2")
    assert of(timed, "cut").start == again.end + (FLASH_MIN + BAKE_MIN) * MINUTE


def test_filler_hardens_before_it_is_shaped() -> None:
    """Half the hour to spread, half an hour to harden, half the hour to shape."""
    filler = of(schedule(FULL, demo_sheet(), MORNING, REFERENCE_C), "filler")
    assert filler.end - filler.start == timedelta(minutes=90)


def test_a_day_to_cure_in_air() -> None:
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, cure="air")
    dry = of(timed, "clear_coat").end + timedelta(hours=24, minutes=5)
    assert of(timed, "cut").start == dry


def test_ten_kelvin_colder_takes_twice_as_long_to_dry() -> None:
    timed = schedule(PLAIN, demo_sheet(), MORNING, 11.0)
    surfacer = of(timed, "surfacer")
    assert surfacer.end - surfacer.start == timedelta(minutes=40 + 2 * 6)
    assert surfacer.next_from == surfacer.end + timedelta(hours=4)
    clear = of(timed, "clear_coat")
    assert of(timed, "cut").start == clear.end + (10 + BAKE_MIN) * MINUTE


def test_ten_kelvin_warmer_halves_it_and_the_window() -> None:
    timed = schedule(PLAIN, demo_sheet(), MORNING, 31.0)
    sealer = of(timed, "sealer")
    assert sealer.next_from == sealer.end + 5 * MINUTE
    assert sealer.next_until == sealer.end + timedelta(hours=4)
    # Cold is not trusted to keep a window open.
    cold = of(schedule(PLAIN, demo_sheet(), MORNING, 11.0), "sealer")
    assert cold.next_until == cold.end + timedelta(hours=8)


def test_sanding_is_left_for_lunch_and_spraying_is_not() -> None:
    lunch = (Break(at(9, 0), at(9, 30)),)
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, lunch)
    sanding = of(timed, "sand_for_surfacer")
    assert (sanding.start, sanding.end) == (at(8, 35), at(9, 35))
    lunch = (Break(at(9, 30), at(10, 0)),)
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, lunch)
    assert of(timed, "surfacer").start == at(10, 0)


def test_work_may_end_as_lunch_starts_and_start_as_it_ends() -> None:
    lunch = (Break(at(9, 5), at(9, 30)), Break(at(7), at(8)))
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, lunch)
    assert timed[0].start == at(8)
    assert of(timed, "sand_for_surfacer").end == at(9, 5)
    assert of(timed, "solvent_wipe_2").start == at(9, 30)


def test_paint_dries_over_lunch() -> None:
    lunch = (Break(at(10, 30), at(11, 30)),)
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, lunch)
    assert of(timed, "block_sand").start == at(12, 6)


# Broken windows


def with_pause(after: str, hours: float) -> tuple[tuple[Timed, ...], Timed, Timed]:
    """A job in which everybody leaves after a step."""
    steps = FULL
    first = schedule(steps, demo_sheet(), MORNING, REFERENCE_C)
    gone = of(first, after).end
    timed = schedule(
        steps,
        demo_sheet(),
        MORNING,
        REFERENCE_C,
        (Break(gone, gone + timedelta(hours=hours)),),
    )
    keys = [step.key for step in steps]
    late = timed[keys.index(after) + 1]
    return timed, of(timed, after), late


@pytest.mark.parametrize(("pair", "cost"), WINDOWS.items())
def test_a_missed_window_says_what_it_costs_and_takes_its_time(
    pair: tuple[str, str], cost: tuple[int, str, int]
) -> None:
    hours, words, extra = cost
    fine, before, on_time = with_pause(pair[0], hours)
    assert on_time.start == before.end + timedelta(hours=hours) == before.next_until
    assert not any(each.broken for each in fine)
    timed, before, late = with_pause(pair[0], hours + 1)
    assert late.step.key == pair[1]
    assert words in broken_words(late)
    assert " starts 1 h after" in broken_words(late)
    assert f"closed ({hours} h)" in broken_words(late)
    assert f"{extra} min" in broken_words(late)
    dries = timedelta(minutes=30 if words == "etch again" else 0)
    longer = (late.end - late.start) - (on_time.end - on_time.start)
    assert longer == timedelta(minutes=extra) + dries
    assert [each.step.key for each in timed if each.broken] == [pair[1]]


def test_the_night_after_the_sealer() -> None:
    """Sealer until 16:01, base until 17:11, but everyone goes at 17:00."""
    timed = schedule(FULL, demo_sheet(), MORNING, REFERENCE_C, nights())
    base = of(timed, "base_coat")
    assert base.start == at(8, day=3)
    assert "scuff" in broken_words(base)
    assert base.end == at(9, 20, day=3)


def test_block_sanding_opens_the_surfacer_again() -> None:
    timed, _, late = with_pause("surfacer", 100)
    assert late.step.key == "block_sand"
    assert not any(each.broken for each in timed)


def test_a_wipe_does_not_open_a_film_again() -> None:
    wiped = replace(next(each for each in PLAIN if each.key == "solvent_wipe"), key="x")
    keys = [step.key for step in PLAIN]
    place = keys.index("base_coat")
    steps = (*PLAIN[:place], wiped, *PLAIN[place:])
    sealed = of(schedule(steps, demo_sheet(), MORNING, REFERENCE_C), "sealer").end
    pause = (Break(sealed, sealed + timedelta(hours=9)),)
    timed = schedule(steps, demo_sheet(), MORNING, REFERENCE_C, pause)
    assert "scuff" in broken_words(of(timed, "base_coat"))


# Done


def test_later_steps_follow_what_is_done() -> None:
    plan = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C)
    done = {each.step.key: each.end + timedelta(hours=1) for each in plan[:5]}
    again = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, done=done)
    assert [each.done for each in again] == [True] * 5 + [False] * (len(PLAIN) - 5)
    assert of(again, "surfacer").end == at(11, 6)
    assert of(again, "block_sand").start == at(13, 6)


def test_planned_again_now() -> None:
    """What is not done starts from now on; what is done stays in the past."""
    done = {"wash": at(8, 25)}
    timed = schedule(PLAIN, demo_sheet(), at(15), REFERENCE_C, done=done)
    assert (timed[0].start, timed[0].end) == (at(8, 5), at(8, 25))
    assert timed[1].start == at(15)


def test_what_is_done_too_early_is_reported() -> None:
    done = {each.step.key: each.end for each in plan_until("base_coat")}
    done["clear_coat"] = done["base_coat"] + 25 * MINUTE
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, done=done)
    assert of(timed, "clear_coat").broken == ()
    # One flash of 5 min lies between its coats: 24 min leave no 20 min to dry.
    done["clear_coat"] = done["base_coat"] + 24 * MINUTE
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, done=done)
    told = broken_words(of(timed, "clear_coat"))
    assert "1 min or more before Solvent base coat" in told


def test_what_is_done_too_late_is_reported() -> None:
    done = {each.step.key: each.end for each in plan_until("sealer")}
    done["base_coat"] = done["sealer"] + timedelta(hours=10)
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, done=done)
    assert "scuff" in broken_words(of(timed, "base_coat"))
    assert "may not hold" in broken_words(of(timed, "base_coat"))
    assert of(timed, "base_coat").end == done["base_coat"]


def plan_until(key: str) -> list[Timed]:
    timed = schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C)
    place = [each.step.key for each in timed].index(key)
    return list(timed[: place + 1])


# What cannot be


def test_seconds_are_rounded_up() -> None:
    start = MORNING + timedelta(seconds=1)
    assert schedule(PLAIN, demo_sheet(), start, REFERENCE_C)[0].start == at(8, 1)


@pytest.mark.parametrize("panel_c", [-21.0, 91.0, math.nan, math.inf])
def test_panel_out_of_range(panel_c: float) -> None:
    with pytest.raises(SettingError, match="panel's temperature"):
        schedule(PLAIN, demo_sheet(), MORNING, panel_c)


@pytest.mark.parametrize("panel_c", [-20.0, 90.0])
def test_panel_at_its_limits(panel_c: float) -> None:
    assert schedule(PLAIN, demo_sheet(), MORNING, panel_c)


def test_a_cure_that_is_none() -> None:
    with pytest.raises(JobError, match=r"'sun' is not known; take one of bake, air"):
        schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, cure="sun")


@pytest.mark.parametrize("length", [0, -60])
def test_a_break_that_ends_before_it_starts(length: int) -> None:
    wrong = (Break(at(9), at(9) + length * MINUTE),)
    with pytest.raises(
        JobError, match=r"break from 2026-03-02 09:00:00 must end later"
    ):
        schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, wrong)


def test_times_with_a_zone() -> None:
    zoned = MORNING.replace(tzinfo=UTC)
    for start, breaks, done in (
        (zoned, (), {}),
        (MORNING, (Break(zoned, zoned + MINUTE),), {}),
        (MORNING, (Break(MORNING, zoned + MINUTE),), {}),
        (MORNING, (), {"wash": zoned}),
        (MORNING, (), {"wash": MORNING, "solvent_wipe": zoned}),
    ):
        with pytest.raises(JobError, match="names a time zone"):
            schedule(PLAIN, demo_sheet(), start, REFERENCE_C, breaks, done)


@pytest.mark.parametrize(
    ("done", "said"),
    [
        ({"etch_primer": at(9)}, "'etch_primer' is said to be done but is not part"),
        (
            {"solvent_wipe": at(9)},
            "'solvent_wipe' is said to be done but 'wash' before",
        ),
        (
            {"wash": at(9), "solvent_wipe": at(8, 59)},
            "'solvent_wipe' is said to be done at 2026-03-02 08:59, before 'wash'",
        ),
    ],
)
def test_done_that_cannot_be(done: dict[str, datetime], said: str) -> None:
    with pytest.raises(JobError, match=said):
        schedule(PLAIN, demo_sheet(), MORNING, REFERENCE_C, done=done)


def without(sheet: ProductSheet, kind: str, **times: float | None) -> ProductSheet:
    return replace(
        sheet,
        products=tuple(
            replace(each, windows=replace(each.windows, **times))
            if each.kind == kind
            else each
            for each in sheet.products
        ),
    )


def test_a_sheet_that_does_not_say() -> None:
    sheet = without(demo_sheet(), "surfacer", sand_after_h=None)
    with pytest.raises(
        JobError, match=r"give sand_after_h in its windows \(surfacer\)"
    ):
        schedule(PLAIN, sheet, MORNING, REFERENCE_C)
    sheet = without(demo_sheet(), "clear_coat", bake_min=None, bake_c=None)
    assert schedule(PLAIN, sheet, MORNING, REFERENCE_C, cure="air")
    for steps in (PLAIN, FULL):
        with pytest.raises(JobError, match=r"no times for the cure 'bake'.*choose air"):
            schedule(steps, sheet, MORNING, REFERENCE_C)
    sheet = without(demo_sheet(), "clear_coat", air_cure_h=None)
    with pytest.raises(JobError, match=r"no times for the cure 'air'.*choose bake"):
        schedule(PLAIN, sheet, MORNING, REFERENCE_C, cure="air")
    sheet = without(sheet, "clear_coat", bake_min=None, bake_c=None)
    with pytest.raises(JobError, match=r"no times for the cure 'air'.*choose lamp"):
        schedule(PLAIN, sheet, MORNING, REFERENCE_C, cure="air")


def test_steps_of_another_sheet() -> None:
    steps = tuple(replace(each, product="x") if each.coats else each for each in PLAIN)
    with pytest.raises(JobError, match="uses 'x', which is not in the product sheet"):
        schedule(steps, demo_sheet(), MORNING, REFERENCE_C)


def test_a_sheet_whose_rule_cannot_be_used() -> None:
    with pytest.raises(JobError, match="halving_k"):
        schedule(PLAIN, replace(demo_sheet(), halving_k=0.0), MORNING, REFERENCE_C)


def test_beyond_the_calendar() -> None:
    last = MORNING.replace(year=9999, month=12, day=31, hour=22)
    with pytest.raises(JobError, match="beyond the calendar"):
        schedule(PLAIN, demo_sheet(), last, REFERENCE_C)


def test_no_steps() -> None:
    assert schedule((), demo_sheet(), MORNING, REFERENCE_C) == ()
