"""Plans of effect colours: their own steps, their materials and their sheet."""

from dataclasses import replace
from datetime import datetime
from functools import cache

import pytest

from shadecore.colour.angles import angle_readings
from shadecore.errors import JobError
from shadecore.job.calendar import calendar_uid
from shadecore.job.details import Details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import JobRequest
from shadecore.job.step_sets import step_sets
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.html_layout import document_html
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Mixing, Question
from shadecore.telling.colours import angle_words

START = datetime.fromisoformat("2026-03-02T08:00")
SILVER = angle_readings(
    [(15.0, (108.0, 0.0, -1.0)), (45.0, (36.0, 0.0, -1.0)), (110.0, (13.0, 0.0, -2.0))]
)
"""Invented."""
QUESTIONS = {
    "": Question(),
    "solid": Question(kind="solid"),
    "metallic": Question(colour="", kind="metallic", angles=SILVER),
    "three-stage": Question(colour="92 0 2", kind="three-stage"),
    "candy": Question(colour="60 0 0", kind="candy"),
}


@cache
def plan(kind: str, midcoats: int = 3, own: tuple[StepChange, ...] = ()) -> Plan:
    question = replace(QUESTIONS[kind], mixing=Mixing(allowed=False))
    details = Details(changes=own)
    request = JobRequest(
        START, question=question, area_m2=1.5, midcoats=midcoats, details=details
    )
    return plan_job(request, demo_sheet(), answer(question))


def keys(found: Plan) -> list[str]:
    return [each.step.key for each in found.timeline]


@pytest.mark.parametrize("kind", ["", "solid"])
def test_a_solid_colour_has_the_usual_steps(kind: str) -> None:
    assert not {"let_down_panel", "drop_coat", "mid_coats"} & set(keys(plan(kind)))
    titles = [each.title for each in booth_sheet(plan(kind)).sections]
    assert "Kind of colour" not in titles


@pytest.mark.parametrize(
    ("kind", "last"),
    [
        ("metallic", "drop_coat"),
        ("three-stage", "mid_coats"),
        ("candy", "mid_coats"),
    ],
)
def test_a_panel_comes_first_and_the_colours_last_coat_after_its_base(
    kind: str, last: str
) -> None:
    found = keys(plan(kind))
    assert found[0] == "let_down_panel"
    place = found.index("base_coat")
    assert found[place : place + 3] == ["base_coat", last, "clear_coat"]


def test_the_drop_coat_counts_with_the_base() -> None:
    found = plan("metallic")
    coats = {each.step.key: each.step.coats for each in found.timeline}
    assert coats["base_coat"] == found.answer.recommended.coats
    base = [each for each in found.materials if each.product.kind == "base_coat"]
    assert [each.coats for each in base] == [coats["base_coat"] + 1]


@pytest.mark.parametrize("kind", ["three-stage", "candy"])
def test_midcoats_are_another_mix_than_the_ground(kind: str) -> None:
    found = plan(kind, 4)
    (ground,) = (m for m in found.materials if m.product.kind == "base_coat")
    (mid,) = (m for m in found.materials if m.product.kind == "mid_coat")
    assert mid.portions[0].component.name == "Pearl mid-coat"
    assert mid.portions[0].component.price_per_l == pytest.approx(165.0)
    assert ground.coats == found.answer.recommended.coats
    assert (mid.coats, ground.use) == (4, "")
    assert mid.use.lower() in document_html(booth_sheet(found))
    assert found.cost == pytest.approx(sum(each.cost for each in found.materials))
    (timed,) = (each for each in found.timeline if each.step.key == "mid_coats")
    longer = next(
        each for each in plan(kind, 6).timeline if each.step.key == "mid_coats"
    )
    assert longer.end - longer.start > timed.end - timed.start


def test_midcoats_without_a_product_take_the_base_coats_mix() -> None:
    products = [each for each in demo_sheet().products if each.kind != "mid_coat"]
    sheet = replace(demo_sheet(), products=tuple(products))
    usual = plan("three-stage", 4)
    found = plan_job(usual.request, sheet, usual.answer)
    ground, mid = (m for m in found.materials if m.product.kind == "base_coat")
    assert (mid.coats, ground.use, mid.use) == (4, "", "Mid-coats")


def test_a_candy_is_never_called_hidden() -> None:
    (step,) = (t.step for t in plan("candy").timeline if t.step.key == "mid_coats")
    assert "never hides" in step.purpose
    assert "hides" not in step.check.lower()


@pytest.mark.parametrize("kind", ["metallic", "three-stage", "candy"])
def test_sheet_and_calendar_name_the_kind_and_its_steps(kind: str) -> None:
    found = plan(kind)
    page = document_html(booth_sheet(found))
    assert kind in page.lower()
    calendar = to_icalendar(found.timeline, calendar_uid(found.request), START)
    for each in found.timeline:
        if each.step.key in {"let_down_panel", "drop_coat", "mid_coats"}:
            assert each.step.title in page
            assert each.step.title[:30] in calendar.replace("\r\n ", "")


def test_the_sheet_names_the_last_angle() -> None:
    found = plan("metallic")
    assert found.answer.recommended.last_angle in found.answer.paints.angles
    last = angle_words(found.answer.recommended.last_angle)
    assert last in document_html(booth_sheet(found))
    assert "face (" not in document_html(booth_sheet(plan("three-stage")))


@pytest.mark.parametrize("name", sorted(step_sets()))
def test_kinds_of_job_go_together_with_effect_colours(name: str) -> None:
    own = step_sets()[name].changes
    found = keys(plan("metallic", own=own))
    assert ("drop_coat" in found) == ("base_coat" in found)
    if "base_coat" in found:
        assert found.index("drop_coat") == found.index("base_coat") + 1


def test_a_shop_may_drop_the_drop_coat() -> None:
    own = (StepChange("drop_coat", drop=True),)
    assert "drop_coat" not in keys(plan("metallic", own=own))


@pytest.mark.parametrize("midcoats", [0, 21])
def test_a_number_of_midcoats_that_cannot_be(midcoats: int) -> None:
    with pytest.raises(JobError, match="midcoats"):
        JobRequest(START, midcoats=midcoats)
