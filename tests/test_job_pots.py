"""Pots that are sprayed within their pot life: sums by hand, a job of five coats."""

import json
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

import pytest
from command_line import Captured, flat, refused, run
from hypothesis import given
from hypothesis import strategies as st

import shadecore
from shadecore.datafiles import data_file
from shadecore.job.bench import one_coat_more
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.pots import Pots, pots_of
from shadecore.pages.sheet_mix import mix_section
from shadecore.pages.text_layout import block_text
from shadecore.products.bench import BenchAsk
from shadecore.products.pots import Spraying, number_of_pots
from shadecore.products.sheet_file import demo_sheet
from shadecore.screens.plan.clocks import pot_life_end

RED = "job-red-car.toml"
MINUTES = st.floats(1.0, 60.0)


@cache
def plan(cup_l: float = 0.0) -> Plan:
    request = parse_job(data_file(RED).read_text("utf-8"), RED)
    return planned(replace(request, cup_l=cup_l), demo_sheet())


def pots(found: Plan, key: str) -> Pots:
    (timed,) = (each for each in found.timeline if each.step.key == key)
    mixed = pots_of(found, timed)
    assert mixed is not None
    return mixed


@pytest.mark.parametrize(
    ("coats", "life_min", "room_ml", "number"),
    [
        # 5 to mix, coats of 20 with flashes of 10: three are through after 85 min.
        (3, 90.0, None, 1),
        # Two are through after 55, so three coats take a pot each: pots are alike.
        (3, 60.0, None, 3),
        (4, 60.0, None, 2),
        # A coat of 20 in 15 min after mixing takes two pots.
        (2, 20.0, None, 4),
        (2, None, None, 1),
        # 900 ml in cups of 250 ml: a coat of 300 takes two.
        (3, None, 250.0, 6),
        (3, 60.0, 450.0, 3),
    ],
)
def test_pots_by_hand(
    coats: int, life_min: float | None, room_ml: float | None, number: int
) -> None:
    spraying = Spraying(coats, 20.0, 10.0, 5.0, life_min)
    assert number_of_pots(900.0, spraying, room_ml) == number


@given(st.integers(1, 12), MINUTES, MINUTES, MINUTES, MINUTES, st.floats(50.0, 2000.0))
def test_a_pot_is_through_in_its_life_and_goes_into_the_cup(
    coats: int,
    coat_min: float,
    flash_min: float,
    mix_min: float,
    life_min: float,
    room_ml: float,
) -> None:
    spraying = Spraying(coats, coat_min, flash_min, mix_min, 2.0 * mix_min + life_min)
    number = number_of_pots(1500.0, spraying, room_ml)
    assert 1500.0 / number <= room_ml * (1.0 + 1e-6)
    share = coats / number
    took = mix_min + share * coat_min + (max(share, 1.0) - 1.0) * flash_min
    assert took <= (2.0 * mix_min + life_min) * (1.0 + 1e-6)
    assert share % 1.0 == pytest.approx(0.0) or number % coats == 0


def test_the_red_cars_surfacer_is_never_mixed_at_once() -> None:
    """Coats on two days, the later ones of a part, and a pot life of an hour."""
    found = plan()
    first, second = pots(found, "surfacer"), pots(found, "surfacer_2")
    assert (first.number, second.number) == (3, 1)
    material = first.material
    assert second.material is material
    whole = first.number * first.ready_ml + second.number * second.ready_ml
    assert whole == pytest.approx(1000.0 * material.ready_l)
    # Each of the two steps leaves something in the gun.
    lost = 2 * found.request.cup_loss_l
    assert material.sprayed_l == pytest.approx(material.ready_l - lost)
    (again,) = (e.step for e in found.timeline if e.step.key == "surfacer_2")
    coat = 1000.0 * material.sprayed_l / (3 + 2 * again.share)
    kept = 1000.0 * found.request.cup_loss_l / 3
    assert first.ready_ml == pytest.approx(coat + kept)
    # Clear of two coats is through within its two hours.
    assert pots(found, "clear_coat").number == 1


def test_the_cup_in_hand_splits_further_and_comes_back_from_its_file() -> None:
    found = plan(0.6)
    small = pots(found, "surfacer")
    assert small.ready_ml <= 480.0 + 1e-6
    assert small.number % 3 == 0
    assert small.number * small.ready_ml == pytest.approx(
        3 * pots(plan(), "surfacer").ready_ml
    )
    assert found.cost == plan().cost
    assert parse_job(write_job(found.request), RED).cup_l == 0.6


def test_the_sheet_says_the_same_pots() -> None:
    section = mix_section(plan())
    told = " ".join("\n".join(block_text(each) for each in section.blocks).split())
    assert "Mix each pot when the one before is used up" in told
    table = section.blocks[0]
    rows = [row for row in table.rows if row[1] == "Surfacer hardener"]  # type: ignore[union-attr]
    for row, key in zip(rows, ("surfacer", "surfacer_2"), strict=True):
        mixed = pots(plan(), key)
        each = f"{mixed.ready_ml:.0f} ml"
        if mixed.number > 1:
            each = f"{mixed.number} pots of {each}, a coat each"
        assert str(row[0]).startswith(f"{each}, pot life 1 h")
        # 4 parts of 1540 g/L and 1 of 1010 g/L.
        grams = mixed.ready_ml * (4 * 1.54 + 1.01) / 5
        assert row[4] == f"{grams:.1f} g"
    # What is bought stands beside the first of them only.
    assert rows[1][5:] == ("", "")


def test_a_warm_shop_takes_more_pots(capsys: Captured) -> None:
    """10 K warmer halve a pot life, by the sheet's rule of thumb; 33 min are needed."""
    asked = BenchAsk(coats=2, area_m2=2.0)
    assert shadecore.mix("surfacer", asked).fills == 1
    words = ("mix", "surfacer", "--coats", "2", "--area", "2")
    assert "pots of" not in run(capsys, *words)
    warm = flat(run(capsys, *words, "--air", "31"))
    assert "Mix 2 pots of" in warm
    assert "a coat each. Mix each pot when the one before is used up" in warm
    assert one_coat_more(plan(), "surfacer", 4.0).fills == 4


def test_command_and_library_mix_what_the_sheet_says(capsys: Captured) -> None:
    job = str(data_file(RED))
    told = json.loads(run(capsys, "mix", "surfacer", "--job", job, "--json"))
    found = shadecore.step_mixes(plan(), "surfacer")
    assert [each["fills"] for each in told] == [3, 1]
    for each, (timed, mix) in zip(told, found, strict=True):
        one = pots(plan(), timed.step.key)
        assert each["step"] == timed.step.title
        assert (mix.fills, mix.ready_ml) == (one.number, pytest.approx(one.ready_ml))
        assert each["ready_ml"] == pytest.approx(one.ready_ml, abs=0.05)
        assert each["pours"][-1]["scale_reads_g"] == pytest.approx(mix.ready_g, abs=0.1)
    page = flat(run(capsys, "mix", "surfacer", "--job", job, "--cup", "600 ml"))
    assert "High-build surfacer: Surfacer again" in page
    assert "4 to a coat" in page
    why = refused(capsys, "mix", "surfacer", "--job", job, "--volume", "1 L")
    assert "A job says itself how much is mixed" in why
    why = refused(capsys, "mix", "mid_coat", "--job", job)
    assert "The job does not mix 'mid_coat'" in why


def test_the_pot_life_runs_for_each_pot() -> None:
    found = plan()
    (timed,) = (each for each in found.timeline if each.step.key == "surfacer")
    mixed, ended = timed.start, timed.start + timedelta(minutes=37)

    def end(*sprayed: datetime) -> datetime | None:
        asked = replace(
            found.request, mixed=(("surfacer", mixed),), sprayed=tuple(sprayed)
        )
        return pot_life_end(replace(found, request=asked), timed)

    until = end()
    assert until is not None
    assert timedelta(minutes=55) <= until - mixed <= timedelta(minutes=60)
    # Its one coat is on: what runs next is the second pot's.
    assert end(ended) is None
    mixed = ended + timedelta(minutes=2)
    again = end(ended)
    assert again is not None
    assert again > until


def test_coats_come_from_their_pots() -> None:
    one = pots(plan(), "surfacer")
    two = replace(one, coats=4, number=2)
    assert [two.of_coat(each) for each in range(1, 5)] == [1, 1, 2, 2]
    assert two.coming(4) == 2
    assert replace(two, number=8).of_coat(1) is None
