"""Bare metal and wiped panels are coated in time, or it is said that they are not.

Steel the same day, aluminium within hours, a wipe not over night: common practice, no
source.
"""

from datetime import datetime, timedelta

from shadecore.job.breaks import Break
from shadecore.job.details import Details
from shadecore.job.late import BareTooLong
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Question

START = datetime.fromisoformat("2026-03-02T08:00")
NIGHT = Break(START.replace(hour=18), START.replace(day=3))
MINUTE = timedelta(minutes=1)
RED = Question("45 60 35")
PICKED = answer(RED)


def plan(minute: int = 0, metal: str = "", *own: StepChange) -> Plan:
    told = (("hood", (metal,)),) if metal else ()
    request = JobRequest(
        START + minute * MINUTE,
        question=RED,
        panels=(("hood", 1),),
        bare_metal=True,
        breaks=(NIGHT,),
        details=Details(substrates=told, changes=own),
    )
    return plan_job(request, demo_sheet(), PICKED)


def of(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def bare(each: Timed) -> list[BareTooLong]:
    return [one for one in each.broken if isinstance(one, BareTooLong)]


def test_metal_and_wipes_do_not_wait_over_night() -> None:
    for metal, hours in (("", 8), ("steel", 8), ("aluminium", 4)):
        for minute in range(0, 600, 75):
            found = plan(minute, metal)
            sanded, etched = of(found, "sand_for_surfacer"), of(found, "etch_primer")
            assert etched.start - sanded.end <= timedelta(hours=hours)
            wiped, sealed = of(found, "solvent_wipe_3"), of(found, "sealer")
            assert sealed.start.date() == wiped.end.date()
            assert not any(bare(each) for each in found.timeline)


def test_metal_that_lies_too_long_is_sanded_again() -> None:
    long = StepChange("tea", title="Wait", after="solvent_wipe_2", work_min=5 * 60.0)
    usual, late = (
        of(plan(), "etch_primer"),
        of(plan(0, "aluminium", long), "etch_primer"),
    )
    metal, wipe = bare(late)
    assert (metal.metal, wipe.metal) == (True, False)
    # The metal again 20 min, and the wipe 10.
    assert (late.end - late.start) - (usual.end - usual.start) >= 30 * MINUTE
    assert metal.late > timedelta(hours=1)


def test_a_coat_that_was_done_too_late_says_so() -> None:
    found = plan(0, "aluminium")
    place = found.timeline.index(of(found, "etch_primer"))
    first = [(e.step.key, e.end) for e in found.timeline[:place]]
    done = (*first, ("etch_primer", first[-1][1] + timedelta(hours=9)))
    request = JobRequest(**{**vars(found.request), "done": done})
    again = plan_job(request, demo_sheet(), PICKED)
    assert [one.metal for one in bare(of(again, "etch_primer"))] == [True, False]
