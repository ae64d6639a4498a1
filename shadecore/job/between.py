"""Steps that follow from the steps about them: masking, blowing off, a guide coat.

What sands leaves dust that no coat may go on, what is sprayed before the colour needs
its own masking, and a block shows what it has not reached only by a guide coat: common
practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Final

from shadecore.job.kinds import MASKED, PANELS
from shadecore.job.ladders import METAL_PURPOSE
from shadecore.job.own_steps import StepChange, trade_step
from shadecore.job.step_places import once
from shadecore.job.steps import Step, usual_step
from shadecore.job.usual_steps import LONGEST_KEY
from shadecore.products.product import ProductSheet

GUIDE: Final = "guide_coat"
MASK: Final = "mask"
MASK_FOR_PRIMER: Final = "mask_for_primer"
BLOW_OFF: Final = "blow_off"
"""Begins the keys of steps that clean after what sanded."""
BLOCKED: Final = "block_sand"
NO_GUIDE_CHECK: Final = (
    "No low spot under the palm or in light from the side and nothing cut through; "
    "prime what is bare again."
)
"""What to check after blocking where no guide coat shows it."""
_MASK_JAMBS: Final = "mask_9"
_WIPE: Final = "solvent_wipe_3"
_SURFACED: Final = "surfacer"
_PRIMED: Final = ("etch_primer", _SURFACED)
_BROUGHT: Final = (GUIDE, MASK_FOR_PRIMER, "scuff_panel", "adhesion_promoter")
"""Steps that follow from others, so that nobody may have been asked for them."""
_BROUGHT_MANY: Final = (f"{BLOW_OFF}_", "sand_for_surfacer_")
"""Begin the keys of more of these."""
_CLEANED_WITHIN: Final = ("de_nib", "sand_clear", "scuff")
"""Steps that sand and are wiped off within the step, as their own check says."""


def with_between(
    steps: Sequence[Step], sheet: ProductSheet, own: Sequence[StepChange]
) -> tuple[Step, ...]:
    """Steps with what they need between them.

    Parameters
    ----------
    steps : sequence of Step
        In the order they are done.
    sheet : ProductSheet
        The products.
    own : sequence of StepChange
        The shop's; what they drop stays out.

    Returns
    -------
    tuple of Step
    """
    dropped = {each.key for each in own if each.drop}
    found = list(steps)
    if GUIDE not in dropped:
        _guide(found)
    if MASK_FOR_PRIMER not in dropped:
        _mask(found)
    return tuple(_blown_off(found, sheet, dropped))


def passed_over(
    steps: Sequence[Step],
    done: Mapping[str, datetime],
    own: Sequence[StepChange],
    *,
    etched: bool,
    kind: str,
) -> tuple[Step, ...]:
    """Steps of a job that was begun when nobody asked for some of them.

    Parameters
    ----------
    steps : sequence of Step
        In the order they are done.
    done : mapping of str to datetime
        When steps were finished, by their key.
    own : sequence of StepChange
        The shop's.
    etched : bool
        Whether somebody said that there is bare metal.
    kind : str
        What kind of job it is: that of panels was once planned without masking.

    Returns
    -------
    tuple of Step
        Without those that follow from others and are not done, although a later step
        is.
    """
    last = max((n for n, each in enumerate(steps) if each.key in done), default=-1)
    told = {each.key for each in own}
    brought = (*_BROUGHT, *(MASKED if kind == PANELS else ()))
    brought += () if etched else ("etch_primer",)
    return tuple(
        each
        for place, each in enumerate(steps)
        if place > last
        or each.key in done
        or each.key in told
        or not (each.key in brought or each.key.startswith(_BROUGHT_MANY))
    )


def _guide(steps: list[Step]) -> None:
    """Put a guide coat between surfacer and block, or have none asked for."""
    block = _place(steps, BLOCKED)
    if block is None:
        return
    under = [
        n
        for n, each in enumerate(steps[:block])
        if each.coats and once(each.key) == _SURFACED
    ]
    if not under or any(once(each.key) == GUIDE for each in steps[under[-1] : block]):
        return
    # Over surfacer_2 it is guide_coat_2, however many steps the job has.
    key = steps[under[-1]].key.replace(_SURFACED, GUIDE)
    if _place(steps, key) is None:
        steps.insert(under[-1] + 1, trade_step(GUIDE, key))


def _mask(steps: list[Step]) -> None:
    """Put masking before the first coat, where the job masks for the colour."""
    colour = _place(steps, MASK)
    if colour is None:
        colour = _place(steps, _MASK_JAMBS)
    first = next(
        (n for n, e in enumerate(steps) if e.coats and once(e.key) in _PRIMED), None
    )
    if colour is None or first is None or colour < first:
        return
    if any(each.key == MASK_FOR_PRIMER for each in steps):
        return
    # Metal is sanded when all is masked, so that it does not lie bare meanwhile.
    sanded = [
        n
        for n, each in enumerate(steps[:first])
        if each.grits and each.purpose != METAL_PURPOSE
    ]
    place = sanded[-1] + 1 if sanded else first
    steps.insert(place, trade_step(MASK_FOR_PRIMER, MASK_FOR_PRIMER))


def _blown_off(
    steps: Sequence[Step], sheet: ProductSheet, dropped: set[str]
) -> list[Step]:
    """Steps with a wipe between what sands and the next coat."""
    cleaners = {each.key for each in sheet.products if each.kind == "cleaner"}
    there = {each.key for each in steps}
    found: list[Step] = []
    dusty: Step | None = None
    for step in steps:
        if step.coats and dusty is not None:
            key = f"{BLOW_OFF}_{dusty.key}"[:LONGEST_KEY]
            if key not in dropped | there:
                found.append(replace(usual_step(_WIPE, sheet), key=key))
        found.append(step)
        if step.grits and not step.coats and once(step.key) not in _CLEANED_WITHIN:
            dusty = step
        elif step.coats or step.product in cleaners:
            dusty = None
    return found


def checked(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Steps whose block sanding asks for a guide coat only where there is one.

    Parameters
    ----------
    steps : sequence of Step
        In the order they are done.

    Returns
    -------
    tuple of Step
    """
    guided = any(once(each.key) == GUIDE for each in steps)
    return tuple(
        replace(each, check=NO_GUIDE_CHECK)
        if each.key == BLOCKED and not guided and each.check.startswith("Guide coat")
        else each
        for each in steps
    )


def _place(steps: Sequence[Step], key: str) -> int | None:
    return next((n for n, each in enumerate(steps) if each.key == key), None)
