"""Without a sealer the colour goes over what else lies on top.

That surfacer comes in several greys, and is not what the old finish looks like, is
common practice, no source.
"""

from datetime import datetime

import pytest

from shadecore.job.details import Details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import NO_SEALER, JobRequest
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.text_layout import document_text
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.limit_words import broken_limits
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

START = datetime.fromisoformat("2026-03-02T08:00")
RED = Question("45 60 35")
DROPPED = {
    "by its name": {"sealer": NO_SEALER},
    "by a step": {"details": Details(changes=(StepChange("sealer", drop=True),))},
}


def plan(**asked: object) -> Plan:
    told = {"question": RED, "panels": (("hood", 1),), **asked}
    return planned(JobRequest(START, **told), demo_sheet())  # type: ignore[arg-type]


def coats_over(lightness: float) -> int | None:
    """Coats over a grey by itself, asked as a shelf of its own."""
    shelf = (undercoat("alone", (lightness, 0.0, 0.0)),)
    found = plan(question=Question("45 60 35", shelf=shelf)).picked.choice
    assert found is not None
    return found.coats


def head(found: Plan) -> str:
    return " ".join(document_text(booth_sheet(found)).split("coat 1 ")[0].split())


@pytest.mark.parametrize("how", DROPPED)
def test_over_the_surfacer_where_its_grey_is_known(how: str) -> None:
    for grey in (85.0, 60.0):
        found = plan(surfacer=f"{grey:g} 0 0", old_finish="40 0 0", **DROPPED[how])
        choice = found.picked.choice
        assert choice is not None
        assert (choice.sealed, choice.known) == (False, True)
        assert choice.coats == coats_over(grey)
        assert "sealer" not in {each.product.kind for each in found.materials}
        assert f"No sealer the surfacer (L* {grey:.1f}" in head(found)
        assert "not known" not in head(found)
    name = demo_shelf()[0].name
    white = plan(surfacer=name, **DROPPED[how]).picked.choice
    assert white is not None
    assert white.undercoat.lab == demo_shelf()[0].lab


@pytest.mark.parametrize("how", DROPPED)
def test_what_nobody_told_is_warned_of_and_counted_high(how: str) -> None:
    found = plan(old_finish="40 0 0", **DROPPED[how])
    choice = found.picked.choice
    assert choice is not None
    assert not choice.known
    assert "is not known" in broken_limits(found)[0]
    assert head(found).startswith("No sealer is sprayed, and the colour of what lies")
    counts = [each.coats or 0 for each in found.answer.lines]
    assert choice.coats == max(counts)


def test_over_the_old_finish_where_nothing_is_sprayed() -> None:
    drops = ("sealer", "surfacer")
    none = Details(changes=tuple(StepChange(key, drop=True) for key in drops))
    found = plan(old_finish="60 0 0", details=none)
    assert "No sealer the old finish (L* 60.0" in head(found)
    assert found.picked.choice is not None
    assert found.picked.choice.coats == coats_over(60.0)
    assert "is not known" in broken_limits(plan(details=none))[0]


def test_another_sealer_in_its_place_still_seals() -> None:
    again = StepChange(
        "seal_again", after="solvent_wipe_3", title="Seal", product="sealer"
    )
    own = (StepChange("sealer", drop=True), again)
    choice = plan(details=Details(changes=own)).picked.choice
    assert choice is not None
    assert choice.sealed
    assert plan(kind="re_clear", details=Details(changes=own)).picked.choice is None


def test_both_colours_of_a_two_tone_go_over_the_same() -> None:
    drop = Details(changes=(StepChange("sealer", drop=True),))
    told = {"kind": "two_tone", "second": Question("85 10 60"), "details": drop}
    two = plan(surfacer="60 0 0", **told).picked.two_tone
    assert two is not None
    assert two.one_sealer
    assert two.second.undercoat.lab[0] == pytest.approx(60.0)
