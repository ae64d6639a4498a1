"""Grits and primers by panel, as what the panels are made of asks for them."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from shadecore.job.kinds import RE_CLEAR
from shadecore.job.own_steps import MOST_TITLE, StepChange
from shadecore.job.request import JobRequest
from shadecore.job.sides import piece_names, pieces
from shadecore.job.steps import usual_step
from shadecore.job.substrates import Substrate
from shadecore.job.under_paint import PRIMED, panel_substrates, primed, strips
from shadecore.products.product import ProductSheet

SANDED: Final = "sand_for_surfacer"
_METAL_GRITS: Final = (80, 180)
"""On bare metal that nobody said the kind of; common practice, no source."""
_METAL_TITLE: Final = "Sand bare metal"
METAL_PURPOSE: Final = "Takes rust off and gives the primer a tooth to bite into."
_METAL_CHECK: Final = "Bright and evenly scratched, no rust or loose edge left."
_REST: Final = ""
"""Stands for what nobody said anything of."""


@dataclass(frozen=True)
class Ladder:
    """Grits on one kind of surface, before its primer or the surfacer.

    Attributes
    ----------
    key : str
        Of the step that sands it.
    panels : tuple of str
        Keys of the panels that have it; ``""`` for whatever nobody said anything of.
    grits : tuple of int
        P grits, coarse first.
    count : float
        How many panels that is: half a panel where another surface has the other half.
    metal : bool
        Whether it is bare metal.
    """

    key: str
    panels: tuple[str, ...]
    grits: tuple[int, ...]
    count: float
    metal: bool


def ladders(request: JobRequest, sheet: ProductSheet) -> tuple[Ladder, ...]:
    """Grits before primer and surfacer, by what is sanded.

    Metal and the old paint beside it are sanded each by its own grits, also on one
    panel.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        Whose last grits each ladder on paint ends with.

    Returns
    -------
    tuple of Ladder
        Metal last, of each the coarsest first; none where nobody said what a panel is
        made of and no metal is bare, or the colour stays on.
    """
    told = dict(panel_substrates(request))
    bare = request.bare_metal or strips(request)
    if not (told or bare) or request.kind == RE_CLEAR:
        return ()
    usual = usual_step(SANDED, sheet).grits
    elsewhere = [(False, usual), *([(True, _METAL_GRITS)] if bare else [])]
    counts = pieces(request)
    groups: dict[tuple[bool, tuple[int, ...]], dict[str, float]] = {}
    there = [*counts.items(), *([(_REST, 1)] if request.area_m2 else [])]
    for panel, count in there:
        found = [_surface(each, usual) for each in told.get(panel, ())] or elsewhere
        name = panel if panel in told else _REST
        for surface in found:
            group = groups.setdefault(surface, {})
            group[name] = group.get(name, 0.0) + count / len(found)
    ordered = sorted(groups.items(), key=lambda each: (each[0][1][:1], not each[0][0]))
    named = [
        Ladder(
            SANDED if not place else f"{SANDED}_{place + 1}",
            tuple(group),
            grits,
            sum(group.values()),
            metal,
        )
        for place, ((metal, grits), group) in enumerate(ordered)
    ]
    # What is sanded stays where it was; metal comes last, so that it lies bare no
    # longer than it must.
    done = dict(request.done)
    never = datetime.max  # noqa: DTZ901 - the shop's own time
    return tuple(
        sorted(named, key=lambda each: (done.get(each.key, never), each.metal))
    )


def _surface(
    substrate: Substrate, usual: tuple[int, ...]
) -> tuple[bool, tuple[int, ...]]:
    """Whether a surface is metal, and its grits."""
    if substrate.primer:
        return True, substrate.grits
    finer = (grit for grit in usual if grit > substrate.grits[-1])
    return False, (*substrate.grits, *finer)


def ladder_changes(request: JobRequest, sheet: ProductSheet) -> tuple[StepChange, ...]:
    """Steps that sand each kind of surface by its own ladder, and etch the bare ones.

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
    alone = len(found) == 1 or not panel_substrates(request)
    changes = []
    for before, each in zip((None, *found), found, strict=False):
        title = _METAL_TITLE if each.metal else usual.title
        changes.append(
            StepChange(
                each.key,
                after=None if before is None else before.key,
                title=title if alone else titled(title, each.panels),
                purpose=METAL_PURPOSE if each.metal else usual.purpose,
                check=_METAL_CHECK if each.metal else usual.check,
                grits=each.grits,
                work_min=usual.work_min * each.count / whole,
            )
        )
    etched = primed(request)
    if etched and not request.bare_metal and len(etched) < len(pieces(request)):
        title = titled(usual_step(PRIMED, sheet).title, etched)
        changes.append(StepChange(PRIMED, title=title))
    return tuple(changes)


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
    names = piece_names()
    listed = ", ".join(names.get(key, "the rest") for key in keys)
    kinds = "1 kind" if len(keys) == 1 else f"{len(keys)} kinds"
    short = f"{mark} {kinds} of panel"
    long = f"{title}{mark} {listed}"
    return long if len(long) <= MOST_TITLE else title[: MOST_TITLE - len(short)] + short
