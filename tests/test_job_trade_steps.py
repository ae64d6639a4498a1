"""Steps of the trade and of substrates, where they go: common practice, no source."""

from collections.abc import Sequence
from datetime import datetime

import pytest

from shadecore.errors import JobError
from shadecore.job.own_steps import StepChange, changed_steps
from shadecore.job.schedule import schedule
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

SHEET = demo_sheet()
PLAIN = job_steps(SHEET, 3, "Grey", bare_metal=False, filler=False, flattest=False)
FULL = job_steps(SHEET, 3, "Grey", bare_metal=True, filler=True, flattest=True)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time


def keys(steps: Sequence[Step]) -> list[str]:
    return [step.key for step in steps]


def changed(*changes: StepChange, steps: Sequence[Step] = PLAIN) -> tuple[Step, ...]:
    return changed_steps(steps, changes, SHEET)


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
    changes = substrate_changes([("hood", found[1:]), ("roof", found)])
    assert [(each.key, each.panels) for each in changes] == [
        ("test_old_paint", ("hood", "roof")),
        ("adhesion_promoter", ("roof",)),
    ]
    steps = keys(changed(*changes))
    assert steps.index("test_old_paint") == steps.index("wash") + 1
    assert steps.index("adhesion_promoter") < steps.index("surfacer")
    with pytest.raises(JobError, match="no substrate 'tin'; take one of steel, galv"):
        substrates_of(["tin"])
