"""What the panels of a job are made of, told or supposed, and what must not go on them.

That bumper covers and mirror caps are of plastic where nobody says what they are of is
common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from shadecore.job.kinds import RE_CLEAR
from shadecore.job.request import JobRequest
from shadecore.job.sides import panel_of, pieces, pieces_m2, with_sides
from shadecore.job.step_places import once
from shadecore.job.substrates import Substrate, substrates, substrates_of

PRIMED: Final = "etch_primer"
_FILLED: Final = "filler"
_STRIPPED: Final = "strip"


@dataclass(frozen=True)
class Conflict:
    """A step that a job asks for, and a panel that it must not go on as it is.

    Attributes
    ----------
    step : str
        Key of the step.
    panel : str
        Key of the panel.
    substrate : Substrate
        What it is made of or covered with.
    left_out : bool
        Whether the step is not planned on it.
    beside : bool
        Whether it goes on the metal that is there, too; where neither holds, only a
        product made for it will do.
    """

    step: str
    panel: str
    substrate: Substrate
    left_out: bool
    beside: bool


def told_substrates(
    request: JobRequest,
) -> tuple[tuple[str, tuple[Substrate, ...]], ...]:
    """What the panels of a job are made of or covered with, as somebody said.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of (str, tuple of Substrate)
        By the panel's key, with its side where one is named; panels that are not in
        the job are left out.
    """
    there = pieces(request)
    told = {panel: keys for panel, keys in request.details.substrates if keys}
    return tuple(
        (piece, substrates_of(keys))
        for panel, keys in told.items()
        for piece in with_sides((panel,), there)
        # What is said of one side goes before what is said of both.
        if piece == panel or piece not in told
    )


def supposed_substrates(
    request: JobRequest,
) -> tuple[tuple[str, tuple[Substrate, ...]], ...]:
    """What panels are taken to be made of that nobody said anything of.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of (str, tuple of Substrate)
        By the panel's key; none where the old paint stays on everywhere.
    """
    if not (request.bare_metal or request.filler or strips(request)):
        return ()
    told = {panel for panel, _ in told_substrates(request)}
    usual = {panel: each for each in substrates().values() for panel in each.usual_on}
    return tuple(
        (panel, (usual[panel_of(panel)],))
        for panel in pieces(request)
        if panel_of(panel) in usual and panel not in told
    )


def panel_substrates(
    request: JobRequest,
) -> tuple[tuple[str, tuple[Substrate, ...]], ...]:
    """What the panels of a job are made of or covered with, told or supposed.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of (str, tuple of Substrate)
        By the panel's key; what is told comes first.
    """
    return (*told_substrates(request), *supposed_substrates(request))


def strips(request: JobRequest) -> bool:
    """Whether the shop strips the old paint.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    bool
    """
    return _STRIPPED in _own_keys(request)


def kept_off(request: JobRequest, key: str) -> tuple[str, ...]:
    """Panels that a step must not go on at all.

    Where metal is there, too, the step goes on that.

    Parameters
    ----------
    request : JobRequest
        The job.
    key : str
        The step's, with or without a number after it.

    Returns
    -------
    tuple of str
        Keys of the panels.
    """
    step = once(key)
    return tuple(
        panel
        for panel, found in panel_substrates(request)
        if any(step in each.forbids for each in found)
        and not any(each.primer for each in found)
    )


def primed(request: JobRequest) -> tuple[str, ...]:
    """Panels that are etched because of what they are made of.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of str
        Their keys.
    """
    off = kept_off(request, PRIMED)
    # Whatever the paint was, what is stripped is bare.
    bare = strips(request)
    return tuple(
        panel
        for panel, found in panel_substrates(request)
        if panel not in off and (bare or any(each.primer == PRIMED for each in found))
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
    known = (panel for panel, _ in panel_substrates(request))
    etched = panels_m2(request, primed(request))
    if not _bare_elsewhere(request):
        return etched
    return etched + area_m2 - panels_m2(request, known)


def panels_m2(request: JobRequest, keys: Iterable[str]) -> float:
    """Area of some panels of a job.

    Parameters
    ----------
    request : JobRequest
        The job.
    keys : iterable of str
        Keys of the panels, each once.

    Returns
    -------
    float
        [m2]
    """
    return pieces_m2(keys, pieces(request))


def conflicts(request: JobRequest) -> tuple[Conflict, ...]:
    """Steps that a job asks for, against what its panels bear.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    tuple of Conflict
        By step and panel; none where the old colour stays on.
    """
    if request.kind == RE_CLEAR:
        return ()
    found = panel_substrates(request)
    asked = [*_own_keys(request)]
    asked += [_FILLED] if request.filler else []
    asked += [PRIMED] if request.bare_metal or primed(request) else []
    return tuple(
        Conflict(
            step,
            panel,
            each,
            left_out=panel in kept_off(request, step),
            beside=step in each.forbids,
        )
        for step in dict.fromkeys(asked)
        for panel, substrates_there in found
        for each in substrates_there
        if step in (*each.forbids, *each.careful)
    )


def _own_keys(request: JobRequest) -> tuple[str, ...]:
    """Keys of the steps that the shop itself puts in or changes, each once."""
    own = (once(each.key) for each in request.details.changes if not each.drop)
    return tuple(dict.fromkeys(own))


def _bare_elsewhere(request: JobRequest) -> bool:
    """Whether metal is bare where nobody said what a panel is made of."""
    return request.bare_metal or strips(request) or PRIMED in _own_keys(request)
