"""The plan put together: what holds whatever the job."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.card.card_table import parse_card
from shadecore.coats.answer import Answer
from shadecore.errors import JobError
from shadecore.film.build import coat_film
from shadecore.job.breaks import Break
from shadecore.job.cautions import DEFERRAL
from shadecore.job.job_file import parse_job
from shadecore.job.material import Material
from shadecore.job.paint_amount import with_amounts
from shadecore.job.plan import Plan, plan_job
from shadecore.job.planned import planned as plan_request
from shadecore.job.request import JobRequest
from shadecore.job.weather import MARGIN_K, NearDewPoint, dew_point_c
from shadecore.products.materials import Portion, panels
from shadecore.products.product import ASKED, SPRAYED, ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.products.voc import check_voc
from shadecore.question.answer import answer
from shadecore.question.question import FilmAsked, Mixing, Question
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

DEMO = Path(__file__).resolve().parents[1] / "data" / "demo-job.toml"
SOME = settings(deadline=None, derandomize=True, max_examples=50)
START = datetime.fromisoformat("2026-03-02T08:00")
AREAS = {each.key: each.area_m2 for each in panels()}
AREA = st.floats(0.05, 50.0)
CARD = (
    "area,coats,L,a,b\nblack,2,38.4,48.1,27.0\nwhite,2,47.6,62.4,37.6\nfull,,45,60,35\n"
)


@cache
def picked() -> Answer:
    """The pick of the example colour on the example shelf."""
    return answer(Question())


def planned(**fields: object) -> Plan:
    """A plan of the example colour over 1 m2, unless another area is given."""
    asked = {"area_m2": 1.0, **fields}
    return plan_job(JobRequest(START, **asked), demo_sheet(), picked())  # type: ignore[arg-type]


def material(plan: Plan, kind: str) -> Material:
    return next(each for each in plan.materials if each.product.kind == kind)


def can_volume(portion: Portion) -> float:
    return sum(size * count for size, count in portion.cans)


def test_the_demo_job_from_its_file() -> None:
    plan = plan_request(parse_job(DEMO.read_text("utf-8"), DEMO.name), demo_sheet())
    assert plan.area_m2 == pytest.approx(AREAS["front_door"] + AREAS["front_fender"])
    keys = {each.step.key for each in plan.timeline}
    assert {"filler", "etch_primer", "sealer", "base_coat", "clear_coat"} <= keys
    assert plan.timeline[0].start == plan.request.start
    nights = plan.request.breaks
    for each in plan.timeline:
        if each.step.coats:
            assert not any(
                each.start < night.end and each.end > night.start for night in nights
            )


@SOME
@given(
    counts=st.dictionaries(st.sampled_from(sorted(AREAS)), st.integers(0, 3)),
    area=AREA,
)
def test_area_is_that_of_panels_and_the_rest(
    counts: dict[str, int], area: float
) -> None:
    plan = planned(panels=tuple(counts.items()), area_m2=area)
    whole = area + sum(AREAS[key] * count for key, count in counts.items())
    assert plan.area_m2 == pytest.approx(whole)


@SOME
@given(AREA, st.floats(1.0, 10.0), st.floats(0.0, 0.5))
def test_volumes_scale_with_the_area(area: float, times: float, loss: float) -> None:
    small = planned(area_m2=area, cup_loss_l=loss)
    large = planned(area_m2=area * times, cup_loss_l=loss)
    for one, other in zip(small.materials, large.materials, strict=True):
        assert other.ready_l - loss == pytest.approx((one.ready_l - loss) * times)
        assert one.ready_l > loss


@SOME
@given(AREA, st.floats(0.0, 0.5))
def test_components_make_up_the_mix_and_cans_hold_them(
    area: float, loss: float
) -> None:
    for each in planned(area_m2=area, cup_loss_l=loss, bare_metal=True).materials:
        names = [portion.component for portion in each.portions]
        assert names == list(each.product.components)
        assert sum(p.volume_l for p in each.portions) == pytest.approx(each.ready_l)
        first = each.portions[0]
        for portion in each.portions:
            share = portion.component.parts / first.component.parts
            assert portion.volume_l == pytest.approx(first.volume_l * share)
            # Half a millionth of a litre short is full enough for a measuring cup.
            assert can_volume(portion) >= portion.volume_l - 1e-6


def test_money_is_that_of_the_cans() -> None:
    plan = planned(area_m2=3.0, bare_metal=True)
    money = [
        can_volume(portion) * portion.component.price_per_l
        for each in plan.materials
        for portion in each.portions
    ]
    assert plan.cost == pytest.approx(sum(money))
    assert plan.cost == pytest.approx(sum(each.cost for each in plan.materials))
    assert min(money) > 0.0


def test_coats_of_base_are_those_of_the_pick() -> None:
    plan, coats = planned(), picked().recommended.coats
    assert material(plan, "base_coat").coats == coats
    assert [t.step.coats for t in plan.timeline if t.step.key == "base_coat"] == [coats]
    titles = [t.step.title for t in plan.timeline]
    assert f"Seal with {picked().recommended.undercoat.name}" in titles


def test_litres_of_base_by_hand() -> None:
    """Film over solids over transfer is what is sprayed on a square metre."""
    own = replace(demo_sheet(), name="Our line")
    request = planned(area_m2=2.0, cup_loss_l=0.1).request
    base = material(plan_job(request, own, picked()), "base_coat")
    film = picked().settings.film
    parts = sum(each.parts for each in base.product.components)
    solids = sum(c.parts * c.volume_solids for c in base.product.components) / parts
    wet = base.coats * film.dry_film_um / solids / film.transfer_efficiency
    assert base.ready_l == pytest.approx(wet * 2.0 / 1000.0 + 0.1)


@pytest.mark.parametrize("sheet", [None, replace(demo_sheet(), name="Our line")])
def test_the_pick_and_the_plan_take_the_same_paint(sheet: ProductSheet | None) -> None:
    """With a sheet its solids count, without one those of the question."""
    request = planned(area_m2=2.0, cup_loss_l=0.0).request
    plan = plan_job(request, sheet or demo_sheet(), picked())
    shown = with_amounts(picked(), sheet).recommended.paint_ml_per_m2
    assert shown is not None
    litres = material(plan, "base_coat").ready_l
    assert litres == pytest.approx(shown * plan.area_m2 / 1000.0)
    own = picked().recommended.paint_ml_per_m2
    assert (shown == own) is (sheet is None)


def test_the_picks_film_is_the_base_coats_and_nothing_elses() -> None:
    answer, usual = picked(), planned(cup_loss_l=0.0)
    film = answer.settings.film
    double = replace(film, dry_film_um=2.0 * film.dry_film_um)
    thick = plan_job(
        usual.request,
        demo_sheet(),
        replace(answer, settings=replace(answer.settings, film=double)),
    )
    for one, other in zip(usual.materials, thick.materials, strict=True):
        times = 2.0 if one.product.kind == "base_coat" else 1.0
        assert other.ready_l == pytest.approx(times * one.ready_l)


@SOME
@given(bare=st.booleans(), filler=st.booleans(), flattest=st.booleans())
def test_materials_are_what_is_sprayed(
    *, bare: bool, filler: bool, flattest: bool
) -> None:
    plan = planned(bare_metal=bare, filler=filler, flattest=flattest)
    sprayed: dict[str, int] = {}
    for each in plan.timeline:
        if each.step.gun is not None and each.step.product is not None:
            count = sprayed.get(each.step.product, 0)
            sprayed[each.step.product] = count + each.step.coats
    assert {m.product.key: m.coats for m in plan.materials} == sprayed
    kinds = {m.product.kind for m in plan.materials}
    planned_here = set(SPRAYED) - {"mid_coat", *ASKED}
    assert kinds == planned_here - (set() if bare else {"etch_primer"})


def test_clear_is_mixed_for_both_times() -> None:
    once, twice = planned(cup_loss_l=0.0), planned(flattest=True, cup_loss_l=0.0)
    one, both = material(once, "clear_coat"), material(twice, "clear_coat")
    assert both.coats > one.coats
    assert both.ready_l / one.ready_l == pytest.approx(both.coats / one.coats)


@SOME
@given(
    air=st.floats(12.0, 36.0), humidity=st.floats(0.05, 0.85), above=st.floats(-2, 12)
)
def test_it_stops_where_the_panel_is_near_the_dew_point(
    air: float, humidity: float, above: float
) -> None:
    dew = dew_point_c(air, humidity)
    plan = planned(air_c=air, humidity=humidity, panel_c=max(dew + above, -20.0))
    margin = plan.request.panel_c - dew
    wet = [each for each in plan.weather.stops if isinstance(each, NearDewPoint)]
    assert plan.weather.margin_k == pytest.approx(margin)
    assert bool(wet) == (plan.weather.margin_k < MARGIN_K)


def test_nothing_stops_good_weather() -> None:
    assert planned().weather.stops == ()


def test_voc_is_held_against_every_rule_of_the_sheet() -> None:
    for each in planned(bare_metal=True).materials:
        rules = [answer.rule for answer in each.voc]
        assert rules == list(each.product.voc_categories)
        assert len(rules) >= 3
        assert each.voc == check_voc(each.product)


def test_grades_follow_the_air_and_not_the_panel() -> None:
    cool, warm = planned(air_c=14.0), planned(air_c=33.0, panel_c=21.0)
    one, other = (material(each, "base_coat").reducer for each in (cool, warm))
    assert one != other
    names = {grade.name for grade in material(cool, "base_coat").product.reducers}
    assert {one, other} <= names
    assert material(planned(air_c=58.0), "base_coat").reducer == "-"
    assert material(cool, "base_coat").hardener == ""


def test_cautions_are_those_of_the_products() -> None:
    plan = planned()
    hazards = [hazard for hazard, _ in plan.cautions]
    assert {"isocyanate", "solvent", "dust", "general"} == set(hazards)
    assert plan.cautions[-1][1] == DEFERRAL


def test_steps_follow_each_other() -> None:
    plan = planned(bare_metal=True, filler=True, flattest=True)
    for one, other in pairwise(plan.timeline):
        assert one.start <= one.end <= one.next_from <= other.start


def test_what_is_done_moves_the_rest() -> None:
    plan = planned()
    late = plan.timeline[0].end + timedelta(hours=3)
    again = planned(done=(("wash", late),))
    assert again.timeline[0].done
    assert again.timeline[0].end == late
    assert again.timeline[1].start >= late
    assert not again.timeline[1].done


def test_what_is_done_early_brings_the_rest_forward() -> None:
    early = START - timedelta(hours=20)
    again = planned(done=(("wash", early),))
    assert again.timeline[0].end == early
    assert again.timeline[1].start == early
    usual = planned().timeline
    gained = usual[0].end - early
    for before, after in zip(usual[1:], again.timeline[1:], strict=True):
        assert before.start - after.start == gained


@SOME
@given(
    st.lists(st.integers(-3000, 3000), min_size=1, max_size=8), st.floats(12.0, 35.0)
)
def test_planned_again_nothing_waits_longer_than_it_must(
    offsets: list[int], panel_c: float
) -> None:
    """Whenever steps are done, the next starts at its minimum and no sooner."""
    keys = [each.step.key for each in planned().timeline]
    moments = sorted(START + timedelta(minutes=each) for each in offsets)
    done = tuple(zip(keys, moments, strict=False))
    timeline = planned(done=done, panel_c=panel_c).timeline
    assert [(each.step.key, each.end) for each in timeline if each.done] == list(done)
    for before, after in pairwise(timeline[len(done) - 1 :]):
        assert after.start == before.next_from


def test_a_cold_panel_dries_slower_and_air_cures_slower() -> None:
    usual = planned().timeline[-1].end
    assert planned(panel_c=15.0).timeline[-1].end > usual
    assert planned(cure="air").timeline[-1].end > usual


def test_a_break_puts_the_work_off() -> None:
    lunch = Break(START, START + timedelta(hours=2))
    assert planned(breaks=(lunch,)).timeline[0].start == lunch.end


def test_a_colour_that_does_not_hide_is_not_planned() -> None:
    recommended = picked().recommended
    never = replace(recommended, count=replace(recommended.count, coats=None))
    with pytest.raises(JobError, match="does not hide within 12 coats"):
        plan_job(
            JobRequest(START, area_m2=1.0),
            demo_sheet(),
            replace(picked(), recommended=never),
        )


@pytest.mark.parametrize("chosen", [(), (("hood", 0),)])
def test_nothing_to_paint(chosen: tuple[tuple[str, int], ...]) -> None:
    with pytest.raises(JobError, match="nothing to paint"):
        planned(panels=chosen, area_m2=0.0)


def test_a_panel_that_is_not_known_is_named() -> None:
    with pytest.raises(JobError, match="no panel 'left_wing'; take one of hood"):
        planned(panels=(("left_wing", 1),))


@pytest.mark.parametrize(
    ("fields", "word"),
    [
        ({"uid": "door"}, "not a UUID"),
        ({"cure": "moon"}, "'moon' is none; take one of bake, air, lamp"),
        ({"area_m2": -1.0}, "area_m2 must be from 0 to 1000"),
        ({"area_m2": float("nan")}, "area_m2"),
        ({"air_c": 61.0}, "air_c must be from -20 to 60"),
        ({"panel_c": -21.0}, "panel_c"),
        ({"humidity": 1.01}, "humidity must be from 0.01 to 1"),
        ({"cup_loss_l": 5.5}, "cup_loss_l"),
        ({"breaks": (Break(START, START),)}, "ends before it starts"),
        ({"panels": (("hood", -1),)}, "less than zero"),
    ],
)
def test_a_request_that_cannot_be(fields: dict[str, object], word: str) -> None:
    with pytest.raises(JobError, match=word):
        JobRequest(START, **fields)  # type: ignore[arg-type]


def test_a_job_picks_from_its_own_shelf() -> None:
    shelf = (undercoat("snow", (95.0, 0, 0)), undercoat("slate", (35.0, 0, 0)))
    question = Question(colour="36 0 0", shelf=shelf)
    job = JobRequest(START, area_m2=1.0, question=question)
    plan = plan_request(job, demo_sheet())
    assert plan.answer.recommended.undercoat.name == "slate"
    assert "Seal with slate" in [each.step.title for each in plan.timeline]


def test_a_job_knows_the_paint_from_its_card() -> None:
    question = Question(card=parse_card(CARD, "The card"))
    job = JobRequest(START, area_m2=1.0, question=question)
    plan = plan_request(job, demo_sheet())
    assert plan.answer.basis == "test card"
    assert material(plan, "base_coat").coats == plan.answer.recommended.coats


def test_film_as_given_or_from_the_gun() -> None:
    asked = FilmAsked(14.0, paint_parts=2.0, solids_percent=30.0)
    given_film = asked.coat
    assert given_film.dry_film_um == 14.0
    assert given_film.volume_solids == pytest.approx(0.2)
    gun = replace(asked, from_gun=True).coat
    assert gun == coat_film(
        asked.wet_um, asked.overlap_percent / 100.0, 0.3, (2.0, 1.0), 0.65
    )
    assert gun.dry_film_um != given_film.dry_film_um


def test_settings_are_those_of_the_question() -> None:
    settings = Question(tolerance=1.5, coat_cap=7, film_limit_um=45.0).settings
    assert (settings.tolerance, settings.coat_cap) == (1.5, 7)
    assert settings.film_limit_um == 45.0


def test_sealers_are_mixed_only_where_they_may_be() -> None:
    two = (demo_shelf()[0], demo_shelf()[-1])
    plain = answer(Question("50 -40 10", shelf=two, mixing=Mixing(allowed=False)))
    mixed = answer(Question("50 -40 10", shelf=two))
    assert len(plain.outlooks) == len(two)
    assert not any(each.undercoat.parts for each in plain.outlooks)
    assert plain.mix is None
    assert mixed.mix is not None
    assert mixed.mix.undercoat.parts
