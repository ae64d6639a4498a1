"""Steps of a shop's own. What the trade does: common practice, no source."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.own_steps import (
    StepChange,
    change_values,
    changed_steps,
    parse_steps,
    write_steps,
)
from shadecore.job.schedule import Timed, schedule
from shadecore.job.step_places import FIRST
from shadecore.job.steps import USUAL_KEYS, Step, job_steps
from shadecore.job.substrates import (
    substrate_changes,
    substrates,
    substrates_of,
)
from shadecore.job.trade_steps import trade_steps
from shadecore.products.grits import check_grits
from shadecore.products.product import HAZARDS
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.window_words import broken_words

SOME = settings(deadline=None, derandomize=True, max_examples=150)
SHEET = demo_sheet()
PLAIN = job_steps(SHEET, 3, "Grey", bare_metal=False, filler=False, flattest=False)
FULL = job_steps(SHEET, 3, "Grey", bare_metal=True, filler=True, flattest=True)
# A sheet that leaves no time out, whatever comes after whatever.
TELLS_ALL = replace(
    SHEET,
    products=tuple(
        replace(
            each,
            windows=replace(
                each.windows,
                sand_after_h=2.0,
                bake_min=30.0,
                bake_c=60.0,
                air_cure_h=9.0,
            ),
        )
        for each in SHEET.products
    ),
)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time


def keys(steps: Sequence[Step]) -> list[str]:
    return [step.key for step in steps]


def changed(*changes: StepChange, steps: Sequence[Step] = PLAIN) -> tuple[Step, ...]:
    return changed_steps(steps, changes, SHEET)


def of(steps: Sequence[Step], key: str) -> Step:
    return next(step for step in steps if step.key == key)


def planned(*changes: StepChange) -> tuple[Timed, ...]:
    return schedule(changed(*changes), SHEET, MORNING, SHEET.reference_c)


# The choice


def test_the_choice_of_trade_steps() -> None:
    """As a list of what painters of whole cars do; common practice, no source."""
    assert set(trade_steps()) == {
        *("test_old_paint", "strip", "straighten", "guide_coat", "long_board", "mask"),
        *("unmask", "seam_sealer", "stone_chip", "adhesion_promoter", "de_nib"),
        *(
            "mask_for_primer",
            "let_down_panel",
            "clean_gun",
            "compound",
            "glaze",
            "refit",
        ),
        "cure_before_wax",
    }
    for step in trade_steps().values():
        assert step.source == "common practice, no source"
        assert step.after in USUAL_KEYS
        assert step.work_min or step.wait_min
        assert set(step.hazards) <= set(HAZARDS)
        for text in (step.title, step.purpose, step.check):
            assert text[0].isupper()
        assert step.purpose.endswith(".")
        assert step.check.endswith(".")
        assert check_grits(step.grits) == []
    assert trade_steps()["long_board"].grits == (120, 220)


@pytest.mark.parametrize("key", list(trade_steps()))
def test_each_trade_step_goes_where_it_is_usual(key: str) -> None:
    steps = changed(StepChange(key), steps=FULL)
    place = keys(steps).index(key)
    assert keys(steps)[place - 1] == trade_steps()[key].after
    assert keys(steps[:place] + steps[place + 1 :]) == keys(FULL)
    assert steps[place].title == trade_steps()[key].title
    assert schedule(steps, SHEET, MORNING, SHEET.reference_c)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(
    "ordered",
    [
        ("strip", "straighten"),
        ("etch_primer", "seam_sealer", "stone_chip", "surfacer"),
        ("surfacer", "guide_coat", "long_board", "block_sand"),
        ("clear_coat", "clean_gun", "unmask"),
        ("polish", "glaze", "refit", "cure_before_wax"),
    ],
)
def test_steps_of_the_trade_keep_its_order(
    ordered: tuple[str, ...],
    backwards: bool,  # noqa: FBT001 - a parameter of the test
) -> None:
    """However they are added at their usual places; common practice, no source."""
    added = [key for key in ordered if key in trade_steps()]
    added = added[::-1] if backwards else added
    found = keys(changed(*(StepChange(key) for key in added), steps=FULL))
    place = found.index(ordered[0])
    assert tuple(found[place : place + len(ordered)]) == ordered


def test_all_steps_of_the_trade_at_once_in_any_order() -> None:
    orders = [list(trade_steps()), list(trade_steps())[::-1]]
    forth, back = (
        keys(changed(*(StepChange(key) for key in order), steps=FULL))
        for order in orders
    )
    assert forth == back
    assert [key for key in forth if key in trade_steps()] == orders[0]
    # Where their place is missing, too: there is no etch primer in this job.
    plain = keys(changed(*(StepChange(key) for key in orders[1]), steps=PLAIN))
    assert [key for key in plain if key in trade_steps()] == orders[0]
    # One that the shop has put elsewhere does not draw the others after it.
    moved = (StepChange("refit", after="wash"), StepChange("cure_before_wax"))
    assert keys(changed(*moved))[-1] == "cure_before_wax"


def test_where_the_step_before_is_missing_the_nearest_before_it_serves() -> None:
    """There is no etch primer in this job, so stone chip follows the cleaner."""
    assert "etch_primer" not in keys(PLAIN)
    steps = changed(StepChange("stone_chip"))
    assert keys(steps)[keys(steps).index("stone_chip") - 1] == "solvent_wipe_2"
    steps = changed(StepChange("mine", title="Mine", after="clear_coat_2"))
    assert keys(steps)[keys(steps).index("mine") - 1] == "clear_coat"


def test_the_same_step_more_than_once() -> None:
    steps = changed(StepChange("mask"), StepChange("mask_2", after="base_coat"))
    assert [step.title for step in steps if step.key.startswith("mask")] == ["Mask"] * 2


# Changes


def test_a_step_of_the_shops_own() -> None:
    steps = changed(
        StepChange(
            "rinse",
            after="wash",
            title="Rinse again",
            purpose="Takes off soap.",
            check="No foam.",
            work_min=7,
            wait_min=90,
            grits=(800,),
        )
    )
    rinse = steps[1]
    assert (rinse.title, rinse.purpose, rinse.check) == (
        "Rinse again",
        "Takes off soap.",
        "No foam.",
    )
    assert (rinse.work_min, rinse.wait_min, rinse.grit, rinse.coats) == (7, 90, 800, 0)
    assert rinse.cautions == ("dust",)
    with pytest.raises(JobError, match="The new step 'rinse' has no title"):
        changed(StepChange("rinse", after="wash"))


def test_drop_rename_and_move() -> None:
    steps = changed(
        StepChange("polish", drop=True),
        StepChange("wash", title="Hose down"),
        StepChange("solvent_wipe_2", after=FIRST),
    )
    assert keys(steps)[:2] == ["solvent_wipe_2", "wash"]
    assert steps[1].title == "Hose down"
    assert "polish" not in keys(steps)
    assert len(steps) == len(PLAIN) - 1
    # A set is made for many jobs: one without the step is none the worse.
    assert changed(StepChange("filler", drop=True)) == PLAIN


def test_a_usual_step_that_the_job_left_out() -> None:
    steps = changed(StepChange("filler"))
    assert keys(steps)[:3] == ["wash", "solvent_wipe", "filler"]
    assert of(steps, "filler") == of(FULL, "filler")


def test_a_product_of_the_sheet_for_an_own_step() -> None:
    steps = changed(
        StepChange("seal_again", title="Seal", after="sealer", product="sealer")
    )
    again, sealer = of(steps, "seal_again"), of(steps, "sealer")
    assert (again.product, again.gun, again.coats) == ("sealer", sealer.gun, 1)
    assert (again.flash_min, again.work_min) == (sealer.flash_min, sealer.work_min)
    assert again.cautions == sealer.cautions
    twice = changed(StepChange("sealer", coats=2))
    assert (of(twice, "sealer").coats, of(twice, "sealer").work_min) == (2, 30.0)
    with pytest.raises(JobError, match="has no product 'glue'; take one of cleaner"):
        changed(StepChange("sealer", product="glue"))
    with pytest.raises(JobError, match="'wash' sprays nothing; give it no coats"):
        changed(StepChange("wash", coats=2))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"key": "Wash"}, "must be of small letters"),
        ({"key": "a" * 41}, "at most 40"),
        ({"title": "a\nb"}, "title of the step 'wash' must be on one line"),
        ({"title": ""}, "title of the step"),
        ({"check": "x" * 301}, "at most 300 characters"),
        ({"work_min": -1.0}, "work_min of the step 'wash' must be from 0 to 6000 min"),
        ({"wait_min": float("nan")}, "wait_min of the step"),
        ({"within_h": 0.0}, "within_h of the step"),
        ({"coats": 51}, "coats of the step 'wash' must be from 1 to 50"),
        ({"grits": (400, 320)}, "grits of the step 'wash' must rise"),
        ({"grits": (0,)}, "must rise from P1 to P5000"),
    ],
)
def test_changes_that_cannot_be(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(JobError, match=said):
        StepChange(**{"key": "wash", **wrong})  # type: ignore[arg-type]


def test_a_job_does_not_grow_without_end() -> None:
    many = [StepChange(f"x_{n}", title="x") for n in range(600)]
    with pytest.raises(JobError, match="more than 500 steps"):
        changed(*many)


# Times


def test_a_wait_of_the_steps_own_is_kept() -> None:
    timed = planned(StepChange("wash", wait_min=90))
    assert timed[0].next_from == timed[0].end + timedelta(minutes=90)
    assert timed[1].start == timed[0].next_from
    colder = schedule(
        changed(StepChange("wash", wait_min=90)), SHEET, MORNING, SHEET.reference_c - 10
    )
    assert colder[1].start == colder[0].end + timedelta(minutes=180)


def test_a_window_of_the_steps_own_is_told() -> None:
    change = StepChange("wash", within_h=1.0, wait_min=30)
    timed = planned(change)
    assert timed[0].next_until == timed[0].end + timedelta(hours=1)
    assert not timed[1].broken
    late = planned(replace(change, wait_min=90))
    assert " starts 30 min after the window of 'Wash with soap and water'" in (
        broken_words(late[1])
    )
    done = {"wash": MORNING, "solvent_wipe": MORNING + timedelta(minutes=20)}
    early = schedule(changed(change), SHEET, MORNING, 21.0, done=done)
    told = broken_words(early[1])
    assert "10 min or more before the wait after 'Wash with soap" in told


def test_a_step_that_is_half_done() -> None:
    steps = changed(StepChange("wash", work_min=60))
    whole = schedule(steps, SHEET, MORNING, SHEET.reference_c)
    half = schedule(steps, SHEET, MORNING, SHEET.reference_c, begun={"wash": 0.5})
    assert whole[0].end - half[0].end == timedelta(minutes=30)
    # Of three coats one is on: two are left, with one flash between them.
    base = {"base_coat": 1 / 3}
    left = schedule(PLAIN, SHEET, MORNING, SHEET.reference_c, begun=base)
    lasted = [
        next(each.end - each.start for each in timed if each.step.key == "base_coat")
        for timed in (schedule(PLAIN, SHEET, MORNING, SHEET.reference_c), left)
    ]
    flash = of(PLAIN, "base_coat").flash_min
    # Forty minutes to mix and spray, and two flashes.
    assert lasted[0] == timedelta(minutes=40 + 2 * flash)
    assert lasted[1] == timedelta(minutes=27 + flash)
    for share in (-0.1, 1.1, float("nan")):
        with pytest.raises(JobError, match="from 0 to 100 percent are done"):
            schedule(PLAIN, SHEET, MORNING, 21.0, begun={"wash": share})
    with pytest.raises(JobError, match="'x' is said to be begun but is not part"):
        schedule(PLAIN, SHEET, MORNING, 21.0, begun={"x": 0.5})


def test_what_the_sheet_does_not_tell_is_asked_for() -> None:
    """Without its clear the base coat would be cut, which no sheet gives times for."""
    with pytest.raises(
        JobError, match="its sheet does not say when; give sand_after_h"
    ):
        planned(StepChange("clear_coat", drop=True))


CHANGES = st.builds(
    StepChange,
    key=st.sampled_from([*USUAL_KEYS, *trade_steps(), "mine", "mask_2"]),
    drop=st.booleans(),
    after=st.none() | st.sampled_from([FIRST, *USUAL_KEYS, *trade_steps(), "nobody"]),
    title=st.just("Own"),
    work_min=st.none() | st.floats(0.0, 500.0),
    wait_min=st.none() | st.floats(0.0, 500.0),
    within_h=st.none() | st.floats(0.1, 50.0),
)


@SOME
@given(
    st.lists(CHANGES, max_size=12),
    st.floats(11.0, 35.0),
    st.dictionaries(st.sampled_from(keys(PLAIN)), st.floats(0.0, 1.0), max_size=4),
)
def test_whatever_a_shop_changes_its_steps_follow_each_other(
    changes: list[StepChange], panel_c: float, begun: dict[str, float]
) -> None:
    steps = changed(*changes)
    assert len({step.key for step in steps}) == len(steps)
    there = {key: share for key, share in begun.items() if key in keys(steps)}
    timed = schedule(steps, TELLS_ALL, MORNING, panel_c, begun=there)
    for before, after in pairwise(timed):
        assert before.start <= before.end <= before.next_from <= after.start
        waited = before.step.wait_min * 2 ** ((SHEET.reference_c - panel_c) / 10)
        assert after.start - before.end >= timedelta(minutes=waited)
        if before.step.within_h is not None and not after.broken:
            assert after.start - before.end <= timedelta(hours=before.step.within_h)


# Kept sets


FULL_CHANGES = st.builds(
    StepChange,
    key=st.from_regex(r"[a-z][a-z0-9_]{0,10}", fullmatch=True),
    drop=st.booleans(),
    after=st.none() | st.just(FIRST) | st.sampled_from(USUAL_KEYS),
    title=st.none() | st.sampled_from(["Own", "Größe 5 \"x\" 'y'", "= #[1]"]),
    purpose=st.none() | st.just("") | st.just("Why, \\ though."),
    check=st.none() | st.text(st.characters(codec="ascii", categories=("L",))),
    work_min=st.none() | st.floats(0.0, 6000.0),
    wait_min=st.none() | st.floats(0.0, 129_600.0),
    within_h=st.none() | st.floats(0.1, 8760.0),
    grits=st.none() | st.sampled_from([(), (80,), (120, 220)]),
    product=st.none() | st.just("") | st.just("sealer"),
    coats=st.none() | st.integers(1, 50),
)


@SOME
@given(st.lists(FULL_CHANGES, max_size=6).map(tuple))
def test_a_set_is_read_back_as_it_was(changes: tuple[StepChange, ...]) -> None:
    assert parse_steps(write_steps("Mine", changes), "x") == ("Mine", changes)


def test_what_stays_as_it_is_is_not_written() -> None:
    assert change_values(StepChange("wash", title="Hose")) == {
        "key": "wash",
        "title": "Hose",
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('name = "x"\n[[steps]]\nkey = "Wash"\n', "x, line 3: steps[1].key cannot be"),
        ('name = "x"\n[[steps]]\nkey = "a"\ncoats = 51\n', "line 4: steps[1].coats"),
        ('name = "x"\n[[steps]]\nkey = "a"\ncolour = 1\n', "line 4: steps[1].colour"),
        ("steps = []\n", "line 1: name is missing"),
    ],
)
def test_a_set_that_cannot_be_read(text: str, said: str) -> None:
    with pytest.raises(JobError) as caught:
        parse_steps(text, "x")
    assert said in str(caught.value)


# Substrates


def test_the_substrates_of_a_car() -> None:
    assert set(substrates()) == {
        *("steel", "galvanised", "aluminium", "glass_fibre", "plastic", "e_coat"),
        *("old_two_pack", "old_lacquer"),
    }
    for each in substrates().values():
        assert each.source == "common practice, no source"
        assert each.first
        assert each.never
        assert all(text.endswith("?") for text in each.ask)
        assert all(text.endswith(".") for text in (*each.first, *each.never))
        assert check_grits(each.grits) == []


def test_what_follows_from_substrates() -> None:
    found = substrates_of(["plastic", "old_lacquer", "plastic"])
    assert [each.key for each in found] == ["plastic", "old_lacquer"]
    changes = substrate_changes(found)
    assert [each.key for each in changes] == ["adhesion_promoter", "test_old_paint"]
    steps = keys(changed(*changes))
    assert steps.index("test_old_paint") == steps.index("wash") + 1
    assert steps.index("adhesion_promoter") < steps.index("surfacer")
    with pytest.raises(JobError, match="no substrate 'tin'; take one of steel, galv"):
        substrates_of(["tin"])
