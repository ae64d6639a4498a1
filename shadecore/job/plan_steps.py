"""The steps of one job: the usual ones, and what everything that is said of it changes.

That work by hand takes as much longer as the area is larger, and other work by the root
of it, and that edges and jambs are a fifth of the outside, are rules of thumb. That
supplied air stays on for half an hour after isocyanate was sprayed in an open workshop,
and in a booth for its measured clearance time, is HSE guidance on two-pack spraying in
vehicle repair; a longer time that the shop itself has measured goes before it.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from shadecore.colour.kinds import CANDY
from shadecore.job.bare import BARE_METAL_H, WIPED_H
from shadecore.job.between import (
    MASK_FOR_PRIMER,
    checked,
    passed_over,
    with_between,
)
from shadecore.job.care import as_it_was_done, with_care
from shadecore.job.effect_steps import DROP, MID, PANEL, effect_changes, kept_together
from shadecore.job.kinds import BOOTH, EDGES_FIRST, RE_CLEAR, kind_changes
from shadecore.job.ladders import Ladder, ladder_changes, ladders, titled
from shadecore.job.on_top import EDGES
from shadecore.job.own_steps import StepChange, changed_steps
from shadecore.job.picked import SECOND_COLOUR, Picked
from shadecore.job.request import UNMEASURED, JobRequest
from shadecore.job.sides import pieces, with_sides
from shadecore.job.step_places import once
from shadecore.job.steps import FIRST_AREA, SECOND_AREA, Step, job_steps
from shadecore.job.substrates import substrate_changes
from shadecore.job.two_tone import SECOND, SECOND_SEALER, two_tone_changes
from shadecore.job.under_paint import (
    PRIMED,
    kept_off,
    panel_substrates,
    panels_m2,
    primed,
    primed_m2,
    strips,
)
from shadecore.job.usual_steps import CLEAN, CLEAR, is_clean, is_de_nib
from shadecore.products.product import ProductSheet

EDGES_SHARE: Final = 0.2
USUAL_M2: Final = 2.0
"""What the usual working times are for."""
CLEARING_MIN: Final = 30.0
"""Of an open shop; also of a booth whose clearance time nobody has told."""
_NO_M2: Final = 1e-9
"""Differences of areas that are zero but for rounding."""
_COLOUR: Final = ("base_coat", DROP, MID)
_BY_HAND: Final = ("mask", MASK_FOR_PRIMER, "strip", "compound", "polish", "glaze")
"""Steps that take as much longer as the area is larger, beside all that sand."""
_BESIDE: Final = ("let_down_panel", CLEAN, "test_old_paint", "tape_test")
"""Steps that do not depend on the area."""
_FADED: Final = {
    "etch_primer": "spot_m2",
    "surfacer": "spot_m2",
    "sealer": "sealer_m2",
    **dict.fromkeys(_COLOUR, "colour_m2"),
    MID: "mid_m2",
    CLEAR: "whole_m2",
}
"""Area of a spot repair that a step covers."""


def steps_of(
    request: JobRequest, sheet: ProductSheet, picked: Picked, area_m2: float
) -> tuple[Step, ...]:
    """Steps of a job, in the order they are done.

    Substrates, the kind of the colour and the kind of the job ask for what they need;
    the shop's own changes go on top.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.
    picked : Picked
        Coats and undercoats.
    area_m2 : float
        Area to paint. [m2]

    Returns
    -------
    tuple of Step

    Raises
    ------
    JobError
        If a step or product is not known.
    """
    own = request.details.changes
    usual = job_steps(
        sheet,
        picked.coats,
        picked.undercoat,
        bare_metal=request.bare_metal or strips(request) or bool(primed(request)),
        filler=request.filler,
        flattest=request.flattest,
    )
    kinds = (*kind_changes(request.kind), *_kind_asks(request, picked))
    on_top = (*kinds, *own)
    colour = effect_changes(
        request.question, picked.coats, request.midcoats, sheet, on_top
    )

    def followed(steps: Sequence[Step]) -> tuple[Step, ...]:
        """Steps that are borne, with those that follow from them."""
        borne = _borne(steps, request, picked, area_m2)
        return with_care(with_between(borne, sheet, own), sheet, request.cure, own)

    asked = (*_under_changes(request, sheet), *colour, *kinds)
    # Before the shop's own changes, so that they can name what follows from a coat.
    steps = followed(changed_steps(usual, asked, sheet))
    on_own = (*own, *kept_together(colour, on_top))
    steps = followed(changed_steps(steps, on_own, sheet))
    done = dict(request.done)
    steps = as_it_was_done(steps, done)
    steps = checked(
        passed_over(steps, done, own, etched=request.bare_metal, kind=request.kind)
    )
    sanded = ladders(request, sheet)
    by_panel = {each.key: each.panels for each in sanded}
    bare_h = _bare_h(sanded, request)
    told = {each.key for each in on_top if each.work_min is not None}
    cleaners = {each.key for each in sheet.products if each.kind == "cleaner"}
    found = []
    for step in steps:
        off = kept_off(request, step.key)
        # What stays only because it is done or under way was done all over.
        covered_m2 = _borne_m2(step, request, picked, area_m2) or area_m2
        work_min = step.work_min * _longer(step, covered_m2)
        found.append(
            replace(
                step,
                title=_titled(step, off, request),
                share=covered_m2 / area_m2,
                mix=_mix(step, request, picked),
                coat_within_h=WIPED_H
                if step.product in cleaners
                else bare_h.get(step.key),
                panels=_named(step, request) or by_panel.get(step.key, ()),
                part=_part(step, picked),
                work_min=step.work_min if step.key in told else work_min,
            )
        )
    return _aired(found, request)


def _under_changes(request: JobRequest, sheet: ProductSheet) -> tuple[StepChange, ...]:
    """What the panels ask for by what they are made of, where that is laid bare."""
    if request.kind == RE_CLEAR:
        return ()
    return (
        *substrate_changes(panel_substrates(request)),
        *ladder_changes(request, sheet),
    )


def _borne(
    steps: Sequence[Step], request: JobRequest, picked: Picked, area_m2: float
) -> tuple[Step, ...]:
    """Steps without those that nothing in the job bears."""
    held = _held(steps, request)
    return tuple(
        each
        for each in steps
        if each.key in held or _borne_m2(each, request, picked, area_m2)
    )


def _borne_m2(step: Step, request: JobRequest, picked: Picked, area_m2: float) -> float:
    """Area that a step covers of what bears it."""
    off = kept_off(request, step.key)
    covered_m2 = _covered_m2(step, request, picked, area_m2)
    if step.panels:
        named = _named(step, request)
        area_m2 = panels_m2(request, named)
        off = tuple(each for each in off if each in named)
    # A spot may reach into the panel beside: paint is mixed for all of it.
    most_m2 = area_m2 if picked.spot is None else max(area_m2, covered_m2)
    found = min(covered_m2, most_m2 - panels_m2(request, off))
    return found if found > _NO_M2 else 0.0


def _titled(step: Step, off: tuple[str, ...], request: JobRequest) -> str:
    """A step's title, with the panels that it must not go on."""
    # Where only what the panels are made of asks for primer, its title names them.
    named = step.key == PRIMED and not request.bare_metal
    mine = tuple(each for each in _named(step, request) if each not in off)
    if mine:
        return titled(step.title, mine)
    return titled(step.title, off, ": not on") if off and not named else step.title


def _held(steps: Sequence[Step], request: JobRequest) -> frozenset[str]:
    """Steps that stay in the job because they are done or under way."""
    done = {key for key, _ in request.done}
    coming = next((each.key for each in steps if each.key not in done), None)
    under_way = {coming} if request.sprayed and coming is not None else set()
    return frozenset(done | under_way)


def _kind_asks(request: JobRequest, picked: Picked) -> tuple[StepChange, ...]:
    """What a kind of job asks for beside its set of steps."""
    asked: list[StepChange] = []
    if picked.two_tone is not None:
        asked += two_tone_changes(picked.two_tone)
    if request.kind == EDGES_FIRST and request.question.over_a_ground:
        title = "Mid-coats on edges and jambs"
        asked.append(StepChange(f"{MID}_9", after="base_coat_9", title=title))
    if picked.choice is not None and not picked.choice.sealed:
        asked += [StepChange(key, drop=True) for key in ("sealer", "sealer_9")]
    return tuple(asked)


def _covered_m2(
    step: Step, request: JobRequest, picked: Picked, area_m2: float
) -> float:
    """Area that a step covers."""
    first = once(step.key)
    if picked.spot is not None and first in _FADED:
        area: float = getattr(picked.spot, _FADED[first])
        # Clear covers the panels, and whatever of the colour lies beyond them.
        return max(area, area_m2) if first == CLEAR else area
    if step.panels:
        return panels_m2(request, _named(step, request))
    if request.kind == EDGES_FIRST and step.key.endswith(EDGES):
        return EDGES_SHARE * area_m2
    shares = {
        SECOND_AREA: request.second_share,
        FIRST_AREA: 1.0 - request.second_share,
    }
    part = _part(step, picked)
    if part:
        return shares[part] * area_m2
    if first == PRIMED:
        return primed_m2(request, area_m2)
    return area_m2


def _named(step: Step, request: JobRequest) -> tuple[str, ...]:
    """Panels of the job that a step names."""
    return with_sides(step.panels, pieces(request))


def _part(step: Step, picked: Picked) -> str:
    """Which of two colours' areas a step is sprayed on; empty for both."""
    if picked.two_tone is None:
        return ""
    if step.key in {SECOND, SECOND_SEALER}:
        return SECOND_AREA
    first = (*_COLOUR, *(() if picked.two_tone.one_sealer else ("sealer",)))
    return FIRST_AREA if step.key in first else ""


def _bare_h(sanded: Sequence[Ladder], request: JobRequest) -> dict[str, float]:
    """Within which time metal is coated, by the step that lays it bare. [h]."""
    told = dict(panel_substrates(request))
    found = {}
    for ladder in sanded:
        if not ladder.metal:
            continue
        hours = [
            each.coat_within_h
            for panel in ladder.panels
            for each in told.get(panel, ())
            if each.coat_within_h is not None
        ]
        if any(panel not in told for panel in ladder.panels):
            hours.append(BARE_METAL_H)
        if hours:
            found[ladder.key] = min(hours)
    return found


def _longer(step: Step, covered_m2: float) -> float:
    """How much longer a step takes on a large area than on a panel or two."""
    first = once(step.key)
    if first in _BESIDE or is_clean(step.key):
        return 1.0
    sprayed = longer_by_area(covered_m2)
    all_over = bool(step.grits) and not is_de_nib(step.key)
    return sprayed**2 if all_over or first in _BY_HAND else sprayed


def longer_by_area(covered_m2: float) -> float:
    """How much longer an area takes to spray than a panel or two; rule of thumb.

    Parameters
    ----------
    covered_m2 : float
        The area. [m2]

    Returns
    -------
    float
        1 at least: the root of how much larger it is.
    """
    return math.sqrt(max(covered_m2 / USUAL_M2, 1.0))


def _mix(step: Step, request: JobRequest, picked: Picked) -> str:
    """What the mix of a step is called where it is not its product's usual one."""
    if once(step.key) == MID:
        return "Candy coats" if request.question.kind == CANDY else "Mid-coats"
    if picked.two_tone is None or step.key not in {SECOND, SECOND_SEALER}:
        return ""
    return SECOND_COLOUR


def _aired(steps: Sequence[Step], request: JobRequest) -> tuple[Step, ...]:
    """Nobody breathes the air without a mask until the mist of isocyanate is gone."""
    in_booth = request.place == BOOTH
    measured_min = request.booth_clearance_min if in_booth else UNMEASURED
    clears_min = measured_min or CLEARING_MIN
    return tuple(
        replace(step, clears_min=clears_min, in_booth=in_booth)
        if "isocyanate" in step.cautions and (step.coats or _sprays(step))
        else step
        for step in steps
    )


def _sprays(step: Step) -> bool:
    """Whether a step that names no coats sprays all the same, such as a card."""
    return once(step.key) == PANEL
