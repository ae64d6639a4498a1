"""Grits and primers by panel, as what the panels are made of asks for them."""

from dataclasses import dataclass
from typing import Final

from shadecore.job.kinds import RE_CLEAR
from shadecore.job.own_steps import MOST_TITLE, StepChange
from shadecore.job.request import JobRequest
from shadecore.job.steps import usual_step
from shadecore.job.under_paint import PRIMED, panel_substrates, primed
from shadecore.products.materials import panels
from shadecore.products.product import ProductSheet

SANDED: Final = "sand_for_surfacer"
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
        The coarsest first; none where nobody said what a panel is made of, or the
        colour stays on.
    """
    told = dict(panel_substrates(request))
    if not told or request.kind == RE_CLEAR:
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
    ordered = sorted(groups.items(), key=lambda each: each[0][:1])
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
            title=usual.title if alone else titled(usual.title, each.panels),
            grits=each.grits,
            work_min=usual.work_min * each.count / whole,
        )
        for before, each in zip((None, *found), found, strict=False)
    ]
    etched = primed(request)
    if etched and not request.bare_metal and len(etched) < len(dict(request.panels)):
        title = titled(usual_step(PRIMED, sheet).title, etched)
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


def titled(title: str, keys: tuple[str, ...], mark: str = ":") -> str:
    """A title with the panels that a step is for.

    Parameters
    ----------
    title : str
        What is done.
    keys : tuple of str
        Keys of the panels; ``""`` for whatever nobody said anything of.
    mark : str
        Between title and panels.

    Returns
    -------
    str
        At most ``MOST_TITLE`` characters: where the names take more, their number.
    """
    names = {each.key: each.name for each in panels()}
    listed = ", ".join(names.get(key, "the rest") for key in keys)
    kinds = "1 kind" if len(keys) == 1 else f"{len(keys)} kinds"
    short = f"{mark} {kinds} of panel"
    long = f"{title}{mark} {listed}"
    return long if len(long) <= MOST_TITLE else title[: MOST_TITLE - len(short)] + short
