"""What lies open where: two colours side by side, and a coat that is sanded first.

Windows are the demo sheet's, written out here once more; common practice, no source.
"""

from datetime import datetime, timedelta
from functools import cache

import pytest

from shadecore.job.breaks import Break
from shadecore.job.details import Details
from shadecore.job.late import WindowClosed
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question

START = datetime.fromisoformat("2026-03-02T08:00")
NIGHT = Break(START.replace(hour=18), START.replace(day=3))
SEALER_OPEN = timedelta(hours=8)
MINUTE = timedelta(minutes=1)


@cache
def plan(**asked: object) -> Plan:
    red = Question("45 60 35")
    told = {"area_m2": 1.0, "question": red, "breaks": (NIGHT,), **asked}
    return planned(JobRequest(START, **told), demo_sheet())  # type: ignore[arg-type]


def two_tone(hour: int, minute: int, **asked: object) -> Plan:
    start = START.replace(hour=hour, minute=minute)
    second = Question("20 0 0")
    return planned(
        JobRequest(
            start,
            kind="two_tone",
            second=second,
            area_m2=1.0,
            question=Question("45 60 35"),
            breaks=(NIGHT,),
            sealer="White N 9",
            **asked,  # type: ignore[arg-type]
        ),
        demo_sheet(),
    )


def of(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def late_for(each: Timed, product: str) -> bool:
    return any(
        isinstance(b, WindowClosed) and b.product == product for b in each.broken
    )


def test_a_second_colour_finds_the_sealer_open_or_is_told_that_it_is_closed() -> None:
    """One sealer under both: the first colour does not close it for the second."""
    for hour in range(8, 18):
        found = two_tone(hour, 0)
        assert found.picked.two_tone is not None
        assert found.picked.two_tone.one_sealer
        sealer, second = of(found, "sealer"), of(found, "base_coat_2")
        late = second.start - sealer.end > SEALER_OPEN
        assert late_for(second, "Tintable sealer") == late
        # Where it can, the sealer waits for the morning.
        assert not late


def test_a_second_colour_that_comes_too_late_is_told_so() -> None:
    own = Details(changes=(StepChange("tape_test", wait_min=10 * 60.0),))
    second = of(two_tone(8, 0, details=own), "base_coat_2")
    assert late_for(second, "Tintable sealer")
    # A scuff of 20 min goes before it.
    usual = of(two_tone(8, 0), "base_coat_2")
    longer = (second.end - second.start) - (usual.end - usual.start)
    assert longer == 20 * MINUTE


def test_the_parts_of_a_two_tone_add_up() -> None:
    found = two_tone(8, 0, second_share=0.25)
    shares = {e.step.key: e.step.share for e in found.timeline if e.step.coats}
    assert shares["base_coat"] == pytest.approx(0.75)
    assert shares["base_coat_2"] == pytest.approx(0.25)
    assert shares["sealer"] == shares["clear_coat"] == 1.0
    parts = {e.step.part for e in found.timeline if e.step.key.startswith("base")}
    assert len(parts) == 2


def test_a_coat_that_is_sanded_first_still_flashes() -> None:
    """Its sanding does not take off what it lays on: 10 min before the base coat."""
    own = Details(changes=(StepChange("sealer", grits=(320,)),))
    found = plan(details=own)
    gap = of(found, "base_coat").start - of(found, "sealer").end
    assert gap >= 10 * MINUTE
    etched = plan(
        bare_metal=True,
        details=Details(changes=(StepChange("etch_primer", grits=(320,)),)),
    )
    gap = of(etched, "surfacer").start - of(etched, "etch_primer").end
    assert gap >= 30 * MINUTE
