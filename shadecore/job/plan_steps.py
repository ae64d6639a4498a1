"""The steps of one job: the usual ones, and what everything that is said of it changes.

That work by hand takes as much longer as the area is larger, and other work by the root
of it, and that edges and jambs are a fifth of the outside, are rules of thumb. That
supplied air stays on for half an hour after isocyanate was sprayed in an open workshop
is HSE guidance on two-pack spraying in vehicle repair; a longer time that the shop
itself has measured goes before it.
"""

import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from typing import Final

from shadecore.colour.kinds import CANDY
from shadecore.job.bare import BARE_METAL_H, WIPED_H
from shadecore.job.care import as_it_was_done, with_care
from shadecore.job.effect_steps import DROP, MID, PANEL, effect_changes, kept_together
from shadecore.job.kinds import BOOTH, EDGES_FIRST, kind_changes
from shadecore.job.ladders import (
    PRIMED,
    SANDED,
    ladder_changes,
    primed,
    primed_m2,
    step_panels,
    told_substrates,
)
from shadecore.job.own_steps import AGAIN, StepChange, changed_steps
from shadecore.job.picked import SECOND_COLOUR, Picked
from shadecore.job.request import JobRequest
from shadecore.job.steps import Step, job_steps
from shadecore.job.substrates import substrate_changes, substrates
from shadecore.job.two_tone import SECOND, SECOND_SEALER, two_tone_changes
from shadecore.job.usual_steps import CLEAN, is_clean
from shadecore.products.product import ProductSheet

EDGES_SHARE: Final = 0.2
USUAL_M2: Final = 2.0
"""What the usual working times are for."""
CLEARING_MIN: Final = 30.0
_FIRST_PART: Final = "first colour"
_SECOND_PART: Final = "second colour"
_EDGES: Final = "_9"
"""Ends the keys of steps on edges and jambs."""
_COLOUR: Final = ("base_coat", DROP, MID)
_BY_HAND: Final = ("mask", "strip", "compound", "polish", "glaze")
"""Steps that take as much longer as the area is larger, beside all that sand."""
_BESIDE: Final = ("let_down_panel", CLEAN, "test_old_paint", "tape_test")
"""Steps that do not depend on the area."""
_FADED: Final = {
    "etch_primer": "spot_m2",
    "surfacer": "spot_m2",
    "sealer": "sealer_m2",
    **dict.fromkeys(_COLOUR, "colour_m2"),
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
        bare_metal=request.bare_metal or bool(primed(request)),
        filler=request.filler,
        flattest=request.flattest,
    )
    kinds = (*kind_changes(request.kind), *_kind_asks(request, picked))
    on_top = (*kinds, *own)
    colour = effect_changes(request.question, request.midcoats, sheet, on_top)
    under = {each for _, keys in told_substrates(request) for each in keys}
    asked = (
        *substrate_changes(each for each in substrates().values() if each in under),
        *ladder_changes(request, sheet),
        *colour,
        *kinds,
    )
    # Before the shop's own changes, so that they can name what follows from a coat.
    steps = with_care(changed_steps(usual, asked, sheet), sheet, request.cure, own)
    steps = changed_steps(steps, (*own, *kept_together(colour, on_top)), sheet)
    steps = with_care(steps, sheet, request.cure, own)
    steps = as_it_was_done(steps, dict(request.done))
    by_panel = step_panels(request, sheet)
    told = {each.key for each in on_top if each.work_min is not None}
    cleaners = {each.key for each in sheet.products if each.kind == "cleaner"}
    found = []
    for step in steps:
        covered_m2 = min(_covered_m2(step, request, picked, area_m2), area_m2)
        work_min = step.work_min * _longer(step, covered_m2)
        found.append(
            replace(
                step,
                share=covered_m2 / area_m2,
                mix=_mix(step, request, picked),
                zone=_zone(step, picked),
                coat_within_h=_coat_within_h(step, request, by_panel, cleaners),
                panels=by_panel.get(step.key, ()),
                work_min=step.work_min if step.key in told else work_min,
            )
        )
    return _aired(found, request)


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
    once = AGAIN.sub("", step.key)
    if picked.spot is not None and once in _FADED:
        area: float = getattr(picked.spot, _FADED[once])
        return area
    if request.kind == EDGES_FIRST and step.key.endswith(_EDGES):
        return EDGES_SHARE * area_m2
    zone = _zone(step, picked)
    if zone:
        second = zone == _SECOND_PART
        return area_m2 * (
            request.second_share if second else 1.0 - request.second_share
        )
    if once == PRIMED:
        return primed_m2(request, area_m2) or area_m2
    return area_m2


def _coat_within_h(
    step: Step,
    request: JobRequest,
    by_panel: Mapping[str, tuple[str, ...]],
    cleaners: Container[str | None],
) -> float | None:
    """Within which time what a step lays bare or wipes is coated. [h]."""
    if step.product in cleaners:
        return WIPED_H
    if AGAIN.sub("", step.key) != SANDED:
        return None
    told = dict(told_substrates(request))
    hours = [
        each.coat_within_h
        for panel in by_panel.get(step.key, ())
        for each in told.get(panel, ())
        if each.coat_within_h is not None
    ]
    unsaid = any(panel not in told for panel in by_panel.get(step.key, ("",)))
    if request.bare_metal and unsaid:
        hours.append(BARE_METAL_H)
    return min(hours, default=None)


def _zone(step: Step, picked: Picked) -> str:
    """Which part of a two-tone a coat covers; empty for all of it."""
    if picked.two_tone is None:
        return ""
    if step.key in {SECOND, SECOND_SEALER}:
        return _SECOND_PART
    first = (*_COLOUR, *(() if picked.two_tone.one_sealer else ("sealer",)))
    return _FIRST_PART if step.key in first else ""


def _longer(step: Step, covered_m2: float) -> float:
    """How much longer a step takes on a large area than on a panel or two."""
    times = max(covered_m2 / USUAL_M2, 1.0)
    once = AGAIN.sub("", step.key)
    if once in _BESIDE or is_clean(step.key):
        return 1.0
    hand_work = step.grits or once in _BY_HAND
    return times if hand_work else math.sqrt(times)


def _mix(step: Step, request: JobRequest, picked: Picked) -> str:
    """What the mix of a step is called where it is not its product's usual one."""
    if AGAIN.sub("", step.key) == MID:
        return "Candy coats" if request.question.kind == CANDY else "Mid-coats"
    if picked.two_tone is None or step.key not in {SECOND, SECOND_SEALER}:
        return ""
    return SECOND_COLOUR


def _aired(steps: Sequence[Step], request: JobRequest) -> tuple[Step, ...]:
    """In an open shop nobody breathes its air until the mist of isocyanate is gone."""
    if request.place == BOOTH:
        return tuple(steps)
    return tuple(
        replace(step, clears_min=CLEARING_MIN)
        if "isocyanate" in step.cautions and (step.coats or _sprays(step))
        else step
        for step in steps
    )


def _sprays(step: Step) -> bool:
    """Whether a step that names no coats sprays all the same, such as a card."""
    return AGAIN.sub("", step.key) == PANEL
