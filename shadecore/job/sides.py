"""Panels by side: a left door may be of something else than the right one.

A panel that comes in pairs is named with its side, as ``left_front_door``, where the
two are not alike; without a side its name stands for both.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING, Final

from shadecore.errors import JobError
from shadecore.products.materials import area_of, panels

if TYPE_CHECKING:
    from shadecore.job.request import JobRequest

SIDES: Final = ("left", "right")
PAIRED: Final = (
    *("front_fender", "front_door", "rear_door", "quarter_panel"),
    *("rocker_panel", "mirror_cap"),
)
"""Keys of panels that come in pairs."""


@cache
def piece_names() -> dict[str, str]:
    """What panels are called, those with a side among them.

    Returns
    -------
    dict of str to str
        By their key.

    Examples
    --------
    >>> piece_names()["left_front_door"]
    'Left front door'
    """
    names = {each.key: each.name for each in panels()}
    by_side = {
        f"{side}_{key}": f"{side.capitalize()} {names[key][0].lower()}{names[key][1:]}"
        for key in PAIRED
        for side in SIDES
    }
    return names | by_side


def panel_of(piece: str) -> str:
    """The panel without its side.

    Parameters
    ----------
    piece : str
        Its key, with or without a side.

    Returns
    -------
    str
    """
    side, _, panel = piece.partition("_")
    return panel if side in SIDES and panel in PAIRED else piece


def pieces(request: "JobRequest") -> dict[str, int]:
    """Panels of a job, each side by itself where somebody named one.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    dict of str to int
        How many there are, by their key; none where there are none.

    Raises
    ------
    JobError
        If sides are named of a panel of which there is one, or more than two.
    """
    details = request.details
    named = {panel for panel, _ in details.substrates}
    named.update(panel for each in details.changes for panel in each.panels or ())
    found: dict[str, int] = {}
    for panel, count in request.panels:
        if not count:
            continue
        sides = tuple(each for s in SIDES if (each := f"{s}_{panel}") in named)
        if not sides:
            found[panel] = count
        elif count == len(SIDES):
            found |= {f"{side}_{panel}": 1 for side in SIDES}
        elif count == 1 == len(sides):
            found[sides[0]] = 1
        else:
            message = (
                f"{sides[0]!r} names a side, but the job has {count} of {panel!r}; "
                f"sides are told apart of two, or one side of one."
            )
            raise JobError(message)
    return found


def with_sides(told: Iterable[str], there: Mapping[str, int]) -> tuple[str, ...]:
    """Panels of a job that are meant by some keys.

    Parameters
    ----------
    told : iterable of str
        Keys with or without a side.
    there : mapping of str to int
        As :func:`pieces` gives them.

    Returns
    -------
    tuple of str
        Keys of those that are there, each once.
    """
    wanted = set(told)
    return tuple(each for each in there if each in wanted or panel_of(each) in wanted)


def pieces_m2(keys: Iterable[str], there: Mapping[str, int]) -> float:
    """Area of some panels of a job.

    Parameters
    ----------
    keys : iterable of str
        Their keys, each once.
    there : mapping of str to int
        As :func:`pieces` gives them.

    Returns
    -------
    float
        [m2]
    """
    return sum(area_of({panel_of(each): there[each]}) for each in keys)
