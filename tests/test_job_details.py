"""What a shop says beyond the usual: in the plan, and in a file and back."""

from datetime import date, datetime, timedelta
from functools import cache

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.coats.answer import Answer
from shadecore.coats.pick import pick
from shadecore.colour.topcoat import parse_topcoat
from shadecore.errors import JobError
from shadecore.formats.toml_table import parse_table
from shadecore.job.days import DayWeather
from shadecore.job.details import Details, detail_values, read_details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job, timeline_from
from shadecore.job.request import JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.undercoats.shelf_table import demo_shelf

SOME = settings(deadline=None, derandomize=True, max_examples=100)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time
DAY = date(2026, 3, 2)
DETAILS = st.builds(
    Details,
    substrates=st.dictionaries(
        st.sampled_from(["hood", "roof", "front_door"]),
        st.sampled_from([(), ("steel",), ("plastic", "old_lacquer")]),
    ).map(lambda found: tuple(found.items())),
    changes=st.lists(
        st.builds(
            StepChange,
            key=st.sampled_from(["wash", "mask", "mine"]),
            title=st.just("x"),
            wait_min=st.none() | st.floats(0.0, 99.0),
        ),
        max_size=3,
    ).map(tuple),
    days=st.lists(
        st.builds(
            DayWeather,
            st.dates(date(2020, 1, 1), date(2030, 1, 1)),
            st.floats(-20.0, 60.0),
            st.floats(-20.0, 90.0),
            st.floats(1.0, 100.0),
            st.none() | st.floats(-20.0, 60.0),
        ),
        max_size=3,
        unique_by=lambda each: each.day,
    ).map(lambda found: tuple(sorted(found, key=lambda each: each.day))),
    begun=st.dictionaries(st.sampled_from(["wash", "cut"]), st.floats(0.0, 1.0)).map(
        lambda found: tuple(found.items())
    ),
)


def read(text: str) -> Details:
    return read_details(parse_table(text, "x", JobError))


@SOME
@given(DETAILS)
def test_details_are_read_back_as_they_were(details: Details) -> None:
    text = tomli_w.dumps({"name": "Job", **detail_values(details)})
    assert read(text) == details


def test_nothing_is_written_of_nothing() -> None:
    assert detail_values(Details()) == {}
    # A job file from before there were any.
    assert read('name = "Job"\n[panels]\nhood = 1\n') == Details()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "[substrates]\nwing = ['steel']\n",
            "line 1: substrates cannot be used: There",
        ),
        ("[substrates]\nhood = ['tin']\n", "no substrate 'tin'; take one of steel"),
        ("[substrates]\nhood = 1\n", "line 2: substrates.hood must be a list"),
        ("[begun]\nwash = 1.1\n", "line 2: begun.wash must be a number from 0 to 1"),
        ("[[days]]\nday = 2026-03-02\n", "line 1: days[1].air_c is missing; give a"),
        ("[[days]]\nday = 3\n", "line 2: days[1].day must be a date like 2026-12-01"),
        ("[[steps]]\nkey = 'wash'\nx = 1\n", "line 3: steps[1].x is not known"),
    ],
)
def test_details_that_cannot_be_read(text: str, said: str) -> None:
    with pytest.raises(JobError) as caught:
        read(text)
    assert said in str(caught.value)
    assert str(caught.value).startswith("x, line ")


def test_the_same_day_twice() -> None:
    one = (
        "[[days]]\nday = 2026-03-02\nair_c = 20\npanel_c = 20\nhumidity_percent = 50\n"
    )
    with pytest.raises(JobError, match="2026-03-02 is given twice; keep one"):
        read(one * 2)


# In the plan


@cache
def picked() -> Answer:
    return pick(parse_topcoat("45 60 35"), demo_shelf())


def planned(details: Details = Details(), **fields: object) -> Plan:  # noqa: B008 - frozen
    asked = {"area_m2": 1.0, **fields}
    request = JobRequest(MORNING, details=details, **asked)  # type: ignore[arg-type]
    return plan_job(request, demo_sheet(), picked())


def keys(plan: Plan) -> list[str]:
    return [each.step.key for each in plan.timeline]


def test_a_plan_without_details_is_what_it_was() -> None:
    assert planned().request.details == Details()
    assert planned().days == ()


def test_substrates_bring_their_steps_and_primers() -> None:
    assert "etch_primer" not in keys(planned())
    details = Details(substrates=(("hood", ("steel", "plastic")),))
    assert "etch_primer" not in keys(planned(details))
    plan = planned(details, panels=(("hood", 1),))
    assert keys(plan).index("adhesion_promoter") < keys(plan).index("etch_primer")
    assert any(each.product.kind == "etch_primer" for each in plan.materials)
    # Their hazards are told with the others.
    assert "solvent" in dict(plan.cautions)


def test_own_steps_change_what_is_mixed() -> None:
    twice = planned(Details(changes=(StepChange("sealer", coats=2),)))
    once = {each.product.kind: each.ready_l for each in planned().materials}
    for each in twice.materials:
        more = 0.05 if each.product.kind == "sealer" else once[each.product.kind]
        assert each.ready_l >= more
    sealer = next(each for each in twice.materials if each.product.kind == "sealer")
    # All but what stays in the gun is doubled.
    assert sealer.ready_l - 0.05 == pytest.approx(2.0 * (once["sealer"] - 0.05))
    none = planned(Details(changes=(StepChange("sealer", drop=True),)))
    assert "sealer" not in {each.product.kind for each in none.materials}


def test_the_weather_of_a_day_is_held_against_what_is_planned_for_it() -> None:
    cold = DayWeather(DAY, 5.0, 5.0, 50.0)
    plan = planned(Details(days=(cold,)))
    (answer,) = plan.days
    assert answer.barred == bool(answer.steps)
    usual, slow = planned(), planned(Details(days=(DayWeather(DAY, 11, 11, 50),)))
    # The gun is cleaned while the sealer flashes.
    gap = {
        name: each.timeline[keys(each).index("base_coat")].start
        - each.timeline[keys(each).index("sealer")].end
        for name, each in (("usual", usual), ("slow", slow))
    }
    # Ten degrees colder, twice the flash of 10 min; 15 min of cleaning lie in it.
    assert gap == {"usual": timedelta(minutes=15), "slow": timedelta(minutes=20)}


def test_planned_again_in_the_middle_it_keeps_its_details() -> None:
    details = Details(
        changes=(StepChange("wash", wait_min=90.0),),
        begun=(("wash", 0.5), ("filler", 0.5)),
    )
    plan = planned(details)
    assert plan.timeline[0].end == MORNING + timedelta(minutes=10)
    later = timeline_from(plan, MORNING + timedelta(hours=3))
    assert later[0].end == MORNING + timedelta(hours=3, minutes=10)
    assert later[1].start == later[0].end + timedelta(minutes=90)
    done = planned(details, done=(("wash", MORNING),))
    assert done.timeline[1].start == MORNING + timedelta(minutes=90)
