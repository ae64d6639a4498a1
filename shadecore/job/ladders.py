"""Grits and primers by panel, as what the panels are made of asks for them."""

from dataclasses import dataclass
from typing import Final

from shadecore.job.own_steps import AGAIN, MOST_TITLE, StepChange
from shadecore.job.request import JobRequest
from shadecore.job.steps import usual_step
from shadecore.job.substrates import Substrate, substrates_of
from shadecore.products.materials import panels
from shadecore.products.product import ProductSheet

SANDED: Final = "sand_for_surfacer"
PRIMED: Final = "etch_primer"
_REST: Final = ""
"""Stands for what nobody said anything of."""


@dataclass(frozen=True)
class Ladder:
    """Grits before the surfacer on some panels.

    Attributes
    ----------
    key : str
        Of the step that sands them.
    panels : tuple of str
        Their keys; ``""`` for whatever nobody said anything of.
    grits : tuple of int
        P grits, coarse first.
    count : int
        How many panels they are.
    """

    key: str
    panels: tuple[str, ...]
    grits: tuple[int, ...]
    count: int


def told_substrates(
    request: JobRequest,
) -> tuple[tuple[str, tuple[Substrate, ...]], ...]:
    """What the panels of a job are made of or covered with.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of (str, tuple of Substrate)
        By the panel's key; panels that are not in the job are left out.
    """
    there = {panel for panel, count in request.panels if count}
    return tuple(
        (panel, substrates_of(keys))
        for panel, keys in request.details.substrates
        if panel in there and keys
    )


def primed(request: JobRequest) -> tuple[str, ...]:
    """Panels that are etched, as far as anybody said what they are made of.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of str
        Their keys.
    """
    return tuple(
        panel
        for panel, found in told_substrates(request)
        if any(each.primer == PRIMED for each in found)
    )


def primed_m2(request: JobRequest, area_m2: float) -> float:
    """Area that is etched.

    Parameters
    ----------
    request : JobRequest
        The job; its bare metal is where nobody said what a panel is made of.
    area_m2 : float
        Of the whole job. [m2]

    Returns
    -------
    float
        [m2]
    """
    areas = {each.key: each.area_m2 for each in panels()}
    counts = dict(request.panels)
    told = {panel for panel, _ in told_substrates(request)}
    etched = sum(areas[panel] * counts[panel] for panel in primed(request))
    if not request.bare_metal:
        return etched
    spoken_for = sum(areas[panel] * counts[panel] for panel in told)
    return etched + area_m2 - spoken_for


def ladders(request: JobRequest, sheet: ProductSheet) -> tuple[Ladder, ...]:
    """Grits before the surfacer by panel: the substrate's, then the sheet's.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        Whose last grit each ladder ends with.

    Returns
    -------
    tuple of Ladder
        Metal that must be coated soon last, of each the coarsest first; none where
        nobody said what a panel is made of.
    """
    told = dict(told_substrates(request))
    if not told:
        return ()
    usual = usual_step(SANDED, sheet).grits
    counts = {panel: count for panel, count in request.panels if count}
    groups: dict[tuple[int, ...], dict[str, int]] = {}
    for panel, count in counts.items():
        asked = {grit for each in told.get(panel, ()) for grit in each.grits}
        coarser = sorted(grit for grit in asked if grit < min(usual, default=0))
        group = groups.setdefault((*coarser, *usual), {})
        name = panel if panel in told else _REST
        group[name] = group.get(name, 0) + count
    if request.area_m2:
        groups.setdefault(usual, {}).setdefault(_REST, 1)
    # Metal last, so that it does not lie bare while the rest is sanded; a job whose
    # sanding was begun in another order goes on in it.
    begun = any(AGAIN.sub("", key) == SANDED for key, _ in request.done)
    soon = {
        panel
        for panel, found in told.items()
        if any(each.coat_within_h is not None for each in found)
    }
    ordered = sorted(
        groups.items(),
        key=lambda each: (not begun and bool(soon & set(each[1])), each[0][:1]),
    )
    return tuple(
        Ladder(
            SANDED if not place else f"{SANDED}_{place + 1}",
            tuple(group),
            grits,
            sum(group.values()),
        )
        for place, (grits, group) in enumerate(ordered)
    )


def ladder_changes(request: JobRequest, sheet: ProductSheet) -> tuple[StepChange, ...]:
    """Steps that sand each group of panels by its own ladder, and etch the bare ones.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    tuple of StepChange
    """
    found = ladders(request, sheet)
    usual = usual_step(SANDED, sheet)
    whole = sum(each.count for each in found)
    alone = len(found) == 1
    changes = [
        StepChange(
            each.key,
            after=None if before is None else before.key,
            title=usual.title if alone else _titled(usual.title, each.panels),
            grits=each.grits,
            work_min=usual.work_min * each.count / whole,
        )
        for before, each in zip((None, *found), found, strict=False)
    ]
    etched = primed(request)
    if etched and not request.bare_metal and len(etched) < len(dict(request.panels)):
        title = _titled(usual_step(PRIMED, sheet).title, etched)
        changes.append(StepChange(PRIMED, title=title))
    return tuple(changes)


def step_panels(request: JobRequest, sheet: ProductSheet) -> dict[str, tuple[str, ...]]:
    """Panels that steps are for, where somebody said what they are made of.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    dict of str to tuple of str
        Keys of panels by the step's key.
    """
    return {each.key: each.panels for each in ladders(request, sheet)}


def _titled(title: str, keys: tuple[str, ...]) -> str:
    names = {each.key: each.name for each in panels()}
    listed = ", ".join(names.get(key, "the rest") for key in keys)
    long = f"{title}: {listed}"
    return long if len(long) <= MOST_TITLE else f"{title}: {len(keys)} kinds of panel"
