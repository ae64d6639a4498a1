"""Coats that wait for the end of a break, so that no window closes over it.

Windows and times: common practice, no source; they are the demo sheet's, written out
here once more. What is put off is held against a search that tries every end of a break
for every coat.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.job.breaks import Break
from shadecore.job.late import WindowClosed
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed, schedule
from shadecore.job.shop_hours import WEEKEND, ShopHours, breaks_of
from shadecore.job.steps import Step
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.text_layout import document_text
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.plan_notes import plan_notes
from shadecore.telling.window_words import broken_words

FRIDAY = datetime.fromisoformat("2026-03-06T08:00")
MONDAY = FRIDAY + timedelta(days=3)
HOURS = ShopHours(time(8), time(17), (time(12), time(12, 30)), WEEKEND)
BREAKS = breaks_of(HOURS, FRIDAY.date(), FRIDAY.date() + timedelta(days=14))
RED, BLUE = Question("45 60 35"), Question("30 5 -32")
HOUR = timedelta(hours=1)
CLEAR_WITHIN, SEALER_WITHIN = 24 * HOUR, 8 * HOUR
WAITS = "waits until Mon 09 Mar 08:00"


@cache
def two_tone(start: datetime = FRIDAY, **asked: object) -> Plan:
    request = JobRequest(
        start,
        kind="two_tone",
        area_m2=2.0,
        question=RED,
        **{"second": BLUE, "breaks": BREAKS, **asked},  # type: ignore[arg-type]
    )
    return planned(request, demo_sheet())


def of(timeline: Sequence[Timed], key: str) -> Timed:
    return next(each for each in timeline if each.step.key == key)


def test_the_first_colour_does_not_wait_under_tape_over_a_weekend() -> None:
    plan = two_tone()
    sealer, first, clear = (
        of(plan.timeline, key) for key in ("sealer", "base_coat", "clear_coat")
    )
    # As early as can be it would be on by half past three on Friday, cleared on Monday.
    assert first.start.date() == clear.start.date() == MONDAY.date()
    assert clear.start - first.end <= CLEAR_WITHIN
    assert not any(each.broken for each in plan.timeline)
    assert plan.first_colour == (first.end + CLEAR_WITHIN, False)
    # The sealer takes colour for eight hours, so it waits for Monday, too.
    assert sealer.start.date() == MONDAY.date()
    assert first.start - sealer.end <= SEALER_WITHIN
    # A wipe of Friday would be stale; what need not wait is done on Friday.
    wipe = of(plan.timeline, "solvent_wipe_3")
    assert (wipe.start, wipe.put_off) == (MONDAY, True)
    assert of(plan.timeline, "mask").end.date() == FRIDAY.date()
    told = " ".join(text for _, texts in plan_notes(plan) for text in texts)
    assert f"{wipe.step.title} {WAITS}" in told
    assert "no later start mends" not in told
    assert WAITS in " ".join(document_text(booth_sheet(plan)).split())


def test_without_a_break_in_its_way_nothing_waits() -> None:
    plan = two_tone(MONDAY)
    assert not any(each.put_off for each in plan.timeline)
    assert "Put off to keep the windows" not in dict(plan_notes(plan))


def test_a_first_colour_that_is_on_already_is_warned_of() -> None:
    """Sprayed on Thursday; then everybody leaves until Monday."""
    done = {}
    for each in two_tone(FRIDAY - 24 * HOUR).timeline:
        done[each.step.key] = each.end
        if each.step.key == "base_coat":
            break
    gone = Break(done["base_coat"] + HOUR, MONDAY)
    plan = two_tone(done=tuple(done.items()), breaks=(*BREAKS, gone))
    assert plan.first_colour[1]
    clear = of(plan.timeline, "clear_coat")
    assert "after the window of Solvent base coat closed (24 h)" in broken_words(clear)
    assert not any(each.put_off for each in plan.timeline)
    told = " ".join(text for _, texts in plan_notes(plan) for text in texts)
    assert "no later start mends" in told


def _with_window(hours: float) -> ProductSheet:
    """The demo sheet with a base coat that takes clear for so long."""
    sheet = demo_sheet()
    return replace(
        sheet,
        products=tuple(
            replace(each, windows=replace(each.windows, recoat_within_h=hours))
            if each.kind == "base_coat"
            else each
            for each in sheet.products
        ),
    )


def test_nothing_waits_where_waiting_does_not_help() -> None:
    """Tape alone takes half an hour; no start keeps a window of a quarter."""
    plan = planned(two_tone().request, _with_window(0.25))
    clear = of(plan.timeline, "clear_coat")
    assert "after the window of Solvent base coat" in broken_words(clear)
    first = of(plan.timeline, "base_coat")
    assert first.start.date() == FRIDAY.date()
    assert not first.put_off


def test_the_sealer_beside_the_first_colour_keeps_its_window() -> None:
    """One sealer for both: eight hours for the second colour, too."""
    plan = two_tone(second=RED)
    assert plan.picked.two_tone is not None
    assert plan.picked.two_tone.one_sealer
    sealer, second = (of(plan.timeline, key) for key in ("sealer", "base_coat_2"))
    assert second.start - sealer.end <= SEALER_WITHIN
    assert not any(each.broken for each in plan.timeline)
    # Where everybody leaves between the colours, what lies open is scuffed.
    steps = tuple(each.step for each in plan.timeline)
    gone = of(schedule(steps, demo_sheet(), MONDAY, 21.0), "base_coat").end
    pause = (Break(gone, gone + 9 * HOUR),)
    timed = schedule(steps, demo_sheet(), MONDAY, 21.0, pause)
    assert "scuff" in broken_words(of(timed, "base_coat_2"))
    assert of(timed, "clear_coat").broken == ()


# Against a search


def _wet(steps: Sequence[Step]) -> list[str]:
    return [each.key for each in steps if each.coats]


def _tried(
    steps: Sequence[Step],
    breaks: tuple[Break, ...],
    extra: tuple[Break, ...] = (),
    place: int = 0,
) -> Iterator[tuple[Timed, ...]]:
    """Schedules in which each coat waits for one of the next ends of a break.

    That a coat waits is said by a break more, which lies before it: films dry on in it
    and nobody works.
    """
    timed = schedule(steps, demo_sheet(), FRIDAY, 21.0, (*breaks, *extra))
    coats = _wet(steps)
    if place == len(coats):
        yield timed
        return
    yield from _tried(steps, breaks, extra, place + 1)
    coat = of(timed, coats[place])
    before = timed[timed.index(coat) - 1].end
    ends = sorted(each.end for each in breaks if each.end > coat.start)
    for end in ends[:2]:
        wait = (*extra, Break(before, end))
        yield from _tried(steps, breaks, wait, place + 1)


@cache
def _steps() -> tuple[Step, ...]:
    """From the sealer of a two-tone to its clear, which a wipe comes before."""
    found = [each.step for each in two_tone().timeline]
    keys = [each.key for each in found]
    return tuple(found[keys.index("solvent_wipe_3") : keys.index("clear_coat") + 1])


@st.composite
def breaks_of_days(draw: st.DrawFn) -> tuple[Break, ...]:
    """Some stretches of work with longer breaks between them."""
    found, now = [], FRIDAY
    for _ in range(draw(st.integers(1, 4))):
        start = now + draw(st.integers(20, 400)) * HOUR / 60
        now = start + draw(st.sampled_from([0.5, 3.0, 9.0, 15.0, 25.0])) * HOUR
        found.append(Break(start, now))
    return tuple(found)


@settings(deadline=None, derandomize=True, max_examples=25)
@given(breaks_of_days())
def test_what_is_put_off_is_the_earliest_that_keeps_all_windows(
    breaks: tuple[Break, ...],
) -> None:
    steps = _steps()
    timed = schedule(steps, demo_sheet(), FRIDAY, 21.0, breaks, hold=True)
    kept = [
        found[-1].end
        for found in _tried(steps, breaks)
        if not any(each.broken for each in found)
    ]
    if kept:
        assert not any(each.broken for each in timed)
        assert timed[-1].end <= min(kept)
    at_once = schedule(steps, demo_sheet(), FRIDAY, 21.0, breaks)
    missed = sum(bool(each.broken) for each in at_once)
    assert sum(bool(each.broken) for each in timed) <= missed
    if not missed:
        assert timed == at_once


@settings(deadline=None, derandomize=True, max_examples=60)
@given(breaks_of_days(), st.floats(5.0, 60.0))
def test_the_windows_of_both_colours_are_kept_or_told(
    breaks: tuple[Break, ...], panel_c: float
) -> None:
    """24 h for clear on both colours, 8 h for each on its own sealer; warmth halves."""
    steps = _steps()
    timed = schedule(steps, demo_sheet(), FRIDAY, panel_c, breaks, hold=True)
    warm = min(2.0 ** ((21.0 - panel_c) / 10.0), 1.0)
    over = {
        "base_coat": ("sealer",),
        "base_coat_2": ("sealer_2",),
        "clear_coat": ("base_coat", "base_coat_2"),
    }
    for key, below in over.items():
        coat = of(timed, key)
        late = [
            each
            for each in below
            if coat.start - of(timed, each).end
            > (SEALER_WITHIN if "sealer" in each else CLEAR_WITHIN) * warm
        ]
        closed = [each for each in coat.broken if isinstance(each, WindowClosed)]
        assert len(closed) == len(late)
    for before, after in pairwise(timed):
        assert after.start >= before.next_from
    for each in timed:
        for one in breaks:
            assert not one.start <= each.start < one.end


@pytest.mark.parametrize("weeks", [1, 40])
def test_a_shop_that_is_closed_for_weeks(weeks: int) -> None:
    """A coat waits however long the break is."""
    away = Break(FRIDAY + 2 * HOUR, FRIDAY + timedelta(weeks=weeks))
    timed = schedule(_steps(), demo_sheet(), FRIDAY, 21.0, (away,), hold=True)
    assert not any(each.broken for each in timed)
    wipe = next(each for each in timed if each.end > away.end)
    assert wipe.start == away.end
    assert of(timed, "sealer").start >= away.end
