"""What follows from a coat: the gun is cleaned right away, and clear is cured.

That two-pack paint hardens in a gun that is not cleaned, that nobody works in a booth
that bakes, and that a panel cools before it is cut: common practice, no source. Times
are the demo sheet's, written out here once more.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise, product

import pytest

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.details import Details
from shadecore.job.kinds import KINDS
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job, timeline_from
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import Answer, answer
from shadecore.question.question import Question
from shadecore.telling.window_words import broken_words

START = datetime(2026, 12, 1, 8)  # noqa: DTZ001 - the shop's own time
NIGHT = Break(START.replace(hour=18), START.replace(day=2))
MINUTE = timedelta(minutes=1)
RED = Question(colour="45 60 35")
TWO_PACK = {"surfacer", "sealer", "clear_coat"}
HARDENS = {*TWO_PACK, "etch_primer"}
BAKED_MIN, LAMP_MIN, AIR_MIN = 15 + 30, 12, 24 * 60
COOL_MIN = 30
JOB = JobRequest(
    START,
    question=RED,
    panels=(("front_fender", 1),),
    bare_metal=True,
    filler=True,
    breaks=(NIGHT,),
    second=Question(colour="20 0 0"),
)


@cache
def picked() -> Answer:
    return answer(RED)


def plan(**told: object) -> Plan:
    return plan_job(replace(JOB, **told), demo_sheet(), picked())  # type: ignore[arg-type]


def keys(found: Plan) -> list[str]:
    return [each.step.key for each in found.timeline]


def of(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def kind_of(each: Timed) -> str:
    return next(
        (p.kind for p in demo_sheet().products if p.key == each.step.product), ""
    )


def at_hours(hour: int) -> datetime:
    return START.replace(hour=hour)


@pytest.mark.parametrize(
    ("kind", "cure", "finish"),
    list(product(KINDS, ("bake", "air", "lamp"), ("usual", "flattest"))),
)
def test_every_gun_is_cleaned_and_every_clear_is_cured(
    kind: str, cure: str, finish: str
) -> None:
    flattest = finish == "flattest"
    for hour in (8, 13):
        found = plan(kind=kind, cure=cure, flattest=flattest, start=at_hours(hour))
        steps = found.timeline
        for each, after in pairwise(steps):
            assert each.end <= after.start
            if each.step.coats and kind_of(each) in HARDENS:
                assert after.step.key.startswith("clean_gun"), each.step.key
                assert after.start == each.end
                assert after.end - after.start == timedelta(minutes=15)
        clears = [n for n, e in enumerate(steps) if kind_of(e) == "clear_coat"]
        for place in clears:
            cured = next(e for e in steps[place:] if e.step.key.startswith("cure"))
            least = {"bake": BAKED_MIN, "lamp": LAMP_MIN, "air": AIR_MIN}[cure]
            assert cured.end - cured.start >= least * MINUTE
            between = steps[place + 1 : steps.index(cured)]
            assert {e.step.key for e in between if not is_clean(e)} <= {"unmask"}
            cool = COOL_MIN * MINUTE if cure != "air" else timedelta()
            later = steps[steps.index(cured) + 1]
            if later.step.key == "unmask":
                assert cure != "air"
                assert later.start == cured.end or later.start.hour == START.hour
                later = steps[steps.index(later) + 1]
            assert later.start >= cured.end + cool
        ends = [k for k in keys(found) if k in {"clear_coat_2", "unmask"}]
        if flattest and "unmask" in ends:
            assert ends == ["clear_coat_2", "unmask"]


def is_clean(each: Timed) -> bool:
    return each.step.key.startswith("clean_gun")


def test_panels_are_hung_when_their_edges_are_hard() -> None:
    found = plan(kind="edges_first", cure="air")
    edges, hung = of(found, "clear_coat_9"), of(found, "refit_9")
    assert hung.start - edges.end >= AIR_MIN * MINUTE
    assert keys(found).index("cure_9") < keys(found).index("refit_9")


def test_a_coat_waits_where_its_gun_would_stay_full_over_night() -> None:
    """The sealer would end at 17:50, and the gun takes a quarter of an hour."""
    late = [
        of(plan(start=at_hours(hour).replace(minute=m), bare_metal=False), "sealer")
        for hour, m in product(range(8, 12), range(0, 60, 5))
    ]
    for each in late:
        assert each.end + 15 * MINUTE <= each.end.replace(hour=18, minute=0)


def test_a_lamp_is_lit_while_somebody_is_there() -> None:
    for minute in range(0, 60, 5):
        found = plan(start=at_hours(9).replace(minute=minute), cure="lamp")
        cured = of(found, "cure")
        day = cured.start.date()
        assert cured.end <= datetime.combine(day, NIGHT.start.time())


def test_what_a_shop_leaves_out_stays_out() -> None:
    own = (StepChange("clean_gun_sealer", drop=True), StepChange("cure", drop=True))
    found = plan(details=Details(changes=own))
    assert "clean_gun_sealer" not in keys(found)
    assert "cure" not in keys(found)
    assert "clean_gun" in keys(found)
    # The film takes its time all the same.
    waited = of(found, "cut").start - of(found, "clear_coat").end
    assert waited >= (5 + BAKED_MIN + COOL_MIN) * MINUTE


def test_a_shop_says_otherwise_how_long_a_gun_takes() -> None:
    own = (StepChange("clean_gun_sealer", title="Gun washer", work_min=5.0),)
    found = of(plan(details=Details(changes=own)), "clean_gun_sealer")
    assert found.step.title == "Gun washer"
    assert found.end - found.start == 5 * MINUTE


def done_until(last: str, *more: str, **told: object) -> Plan:
    """As an older plan recorded it: no cleaning or cure between."""
    names = [k for k in keys(plan(**told)) if not k.startswith(("clean", "cure"))]
    first = names[: names.index(last) + 1]
    done = tuple((k, START + n * 30 * MINUTE) for n, k in enumerate([*first, *more]))
    return plan(**told, done=done)


def test_a_job_begun_before_guns_had_their_steps_goes_on() -> None:
    """Old files: the gun was cleaned once, after the tape was off."""
    own = Details(changes=(StepChange("unmask"), StepChange("clean_gun")))
    found = done_until("mask", details=own)
    left = [each.step.key for each in found.timeline if not each.done]
    assert left[0] == "solvent_wipe_3"
    found = done_until("clear_coat", "unmask", details=own)
    left = [each.step.key for each in found.timeline if not each.done]
    assert left == ["clean_gun", "cure", "cut", "polish"]
    found = done_until("clear_coat", "unmask", "clean_gun", details=own)
    left = [each.step.key for each in found.timeline if not each.done]
    assert left == ["cure", "cut", "polish"]
    found = done_until("clear_coat", "unmask", "clean_gun", "cut", details=own)
    left = [each.step.key for each in found.timeline if not each.done]
    assert left == ["polish"]
    with pytest.raises(JobError, match="before it is not"):
        plan(done=(("sealer", START),))


def test_a_gun_that_is_passed_over_is_told() -> None:
    """Two-pack paint hardens in it, whatever else was pressed first."""
    found = plan()
    assert not any(each.broken for each in found.timeline)
    place = keys(found).index("clear_coat")
    done = tuple((e.step.key, e.end) for e in found.timeline[: place + 1])
    clear_end = done[-1][1]
    cured = plan(done=(*done, ("cure", clear_end + 50 * MINUTE)))
    clean = of(cured, "clean_gun")
    assert keys(cured).index("clean_gun") == keys(cured).index("cure") + 1
    assert clean.start >= clear_end + 50 * MINUTE
    said = broken_words(clean)
    assert "50 min after the last coat: Two-component clear hardens in the gun" in said
    assert "clean it at once" in said
    late = clear_end + 90 * MINUTE
    both = plan(done=(*done, ("cure", clear_end + 50 * MINUTE), ("clean_gun", late)))
    assert "look at needle and cap first" in broken_words(of(both, "clean_gun"))
    # Right after its coat, at its own pace, there is nothing to say.
    soon = plan(done=(*done, ("clean_gun", clear_end + 25 * MINUTE)))
    assert not of(soon, "clean_gun").broken
    # Planned again from an hour later, it has waited, too.
    again = timeline_from(plan(done=done), clear_end + 60 * MINUTE)
    waiting = next(each for each in again if each.step.key == "clean_gun")
    assert "clean it at once" in broken_words(waiting)


def test_a_job_of_panels_begun_before_it_was_masked_goes_on() -> None:
    """Old files: no masking was planned, so nobody was asked whether it was done."""
    plain = {"bare_metal": False, "filler": False}
    first = ("wash", "solvent_wipe", "sand_for_surfacer", "solvent_wipe_2", "surfacer")
    done = tuple((key, START + n * 60 * MINUTE) for n, key in enumerate(first))
    left = [e.step.key for e in plan(done=done, **plain).timeline if not e.done]
    # What is still to come is masked.
    assert "mask_for_primer" not in left
    assert "mask" in left
    later = (*first, "guide_coat", "block_sand", "solvent_wipe_3", "sealer")
    done = tuple((key, START + n * 60 * MINUTE) for n, key in enumerate(later))
    left = [e.step.key for e in plan(done=done, **plain).timeline if not e.done]
    assert "mask" not in left
    assert "unmask" in left


def test_nothing_is_cleaned_or_cured_without_a_coat() -> None:
    own = tuple(
        StepChange(k, drop=True) for k in ("sealer", "clear_coat", "cut", "polish")
    )
    found = plan(details=Details(changes=own), bare_metal=False)
    assert [k for k in keys(found) if k.startswith(("clean", "cure"))] == [
        "clean_gun_surfacer"
    ]


def test_de_nibbing_has_a_grit_and_leaves_the_sealer_open() -> None:
    """P800 or finer, half an hour after the sealer: common practice, no source."""
    own = Details(changes=(StepChange("de_nib"),))
    found = planned(replace(JOB, details=own), demo_sheet())
    by_key = {each.step.key: each for each in found.timeline}
    nibs, sealed = by_key["de_nib"], by_key["sealer"]
    assert nibs.step.grits == (800,)
    assert nibs.start - sealed.end >= timedelta(minutes=29)
    # The demo sealer takes base coat for 8 h.
    assert nibs.next_until is not None
    assert nibs.next_until - sealed.end <= timedelta(hours=8)
    assert found.scratches == ()
