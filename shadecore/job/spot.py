"""A spot repair that fades out: coats of the worst spot, and what lies where."""

import math
from dataclasses import dataclass
from statistics import fmean
from typing import Final

from shadecore.coats.answer import Answer
from shadecore.coats.pick import outlook_over
from shadecore.coats.sand_throughs import SandThroughs, compare_sand_throughs
from shadecore.errors import JobError, ShelfError
from shadecore.job.choice import OLD_FINISH, Choice, old_finish
from shadecore.job.fade import FadeCoat, fade, zones
from shadecore.job.request import AS_PICKED, JobRequest
from shadecore.products.product import ProductSheet
from shadecore.undercoats.shelf import Shelf, Undercoat, undercoat

_CM2_PER_M2: Final = 1e4


@dataclass(frozen=True)
class Zone:
    """A ring around the repaired spot.

    Attributes
    ----------
    end_cm : float
        How far it reaches from the edge of the spot. [cm]
    sealed : bool
        Whether sealer lies under the colour, or else the old finish.
    coats : int
        Coats of colour.
    difference : float
        Between what shows there and the colour in full. [CIEDE2000]
    """

    end_cm: float
    sealed: bool
    coats: int
    difference: float


@dataclass(frozen=True)
class SpotRepair:
    """How a spot repair fades out.

    Attributes
    ----------
    old : Undercoat
        The finish around the spot.
    told : bool
        Whether somebody said its colour; if not, it is taken to be the colour itself.
    coats : int
        Coats of colour on the spot.
    worst : SandThroughs or None
        Sealer, old finish and what is sanded through beside each other under the
        colour; None where no sealer is sprayed and nothing is sanded through.
    fades : tuple of FadeCoat
        How far each coat reaches.
    zones : tuple of Zone
        From the spot outwards.
    spot_m2, sealer_m2, colour_m2 : float
        Area of the spot, of the sealer, and of the coats of colour on average. [m2]
    mid_m2 : float
        Area of the mid-coats on average; 0 where there are none. [m2]
    whole_m2 : float
        Area within the edge of the farthest coat of colour, which may be larger than
        the panel. [m2]
    """

    old: Undercoat
    told: bool
    coats: int
    worst: SandThroughs | None
    fades: tuple[FadeCoat, ...]
    zones: tuple[Zone, ...]
    spot_m2: float
    sealer_m2: float
    colour_m2: float
    mid_m2: float
    whole_m2: float

    @property
    def reach_cm(self) -> float:
        """How far the last coat of colour reaches from the edge of the spot. [cm]."""
        return max(each.reach_cm for each in self.fades if each.kind != "clear_coat")


def plan_spot(
    request: JobRequest, sheet: ProductSheet, answer: Answer, choice: Choice
) -> SpotRepair:
    """How a spot repair fades out, and how many coats its worst spot needs.

    Sealer, old finish and what is sanded through lie under one colour, so it takes as
    many coats as until they look alike, and no fewer than it takes to hide the sealer.

    Parameters
    ----------
    request : JobRequest
        The job; its coats, where it says some, go before what is worked out.
    sheet : ProductSheet
        The products.
    answer : Answer
        The pick.
    choice : Choice
        Undercoat and coats by the pick.

    Returns
    -------
    SpotRepair

    Raises
    ------
    JobError
        If the areas do not grow alike and nobody says how many coats to spray.
    """
    told = old_finish(request)
    old = told or undercoat(OLD_FINISH, answer.topcoat.lab)
    areas = _areas(request, choice, old)
    worst = (
        compare_sand_throughs(answer.belief, areas, choice.undercoat, answer.settings)
        if len(areas) > 1
        else None
    )
    coats = _coats(request, choice, worst)
    fades = fade(
        coats,
        sheet.of_kind("clear_coat").coats,
        request.sealer_reach_cm if choice.sealed else 0.0,
        request.fade_step_cm,
        request.fade_step_cm,
        mid_coats=request.midcoats if request.question.over_a_ground else 0,
    )
    if not choice.sealed:
        fades = tuple(each for each in fades if each.kind != "sealer")
    over_old = outlook_over(answer, old).difference
    over_sealer = choice.outlook.difference
    radius = request.spot_cm / 2.0
    circles = {
        kind: [
            _circle_m2(radius + each.reach_cm) for each in fades if each.kind == kind
        ]
        for kind in ("base_coat", "mid_coat")
    }
    return SpotRepair(
        old=old,
        told=told is not None,
        coats=coats,
        worst=worst,
        fades=fades,
        zones=tuple(
            Zone(end, sealed, count, _left(over_sealer if sealed else over_old, count))
            for end, sealed, count in zones(fades)
        ),
        spot_m2=_circle_m2(radius),
        sealer_m2=_circle_m2(radius + request.sealer_reach_cm),
        colour_m2=fmean(circles["base_coat"]),
        mid_m2=fmean(circles["mid_coat"] or [0.0]),
        whole_m2=max(area for areas in circles.values() for area in areas),
    )


def _areas(request: JobRequest, choice: Choice, old: Undercoat) -> Shelf:
    """What lies under the colour, each once."""
    by_name = {each.name: each for each in request.question.shelf}
    unknown = next((n for n in request.question.areas if n not in by_name), None)
    if unknown is not None:
        message = f"{unknown!r} is not on the shelf; it has {', '.join(by_name)}."
        raise ShelfError(message)
    bare = tuple(by_name[name] for name in request.question.areas)
    # Without a sealer what is sanded through lies bare; over it, nothing does.
    under = (choice.undercoat, old, *(() if choice.sealed else bare))
    return tuple({each.name: each for each in under}.values())


def _coats(request: JobRequest, choice: Choice, worst: SandThroughs | None) -> int:
    if request.coats != AS_PICKED or worst is None:
        return choice.coats
    if worst.count.coats is None:
        message = (
            f"Sealer and old finish do not look alike within {worst.count.cap} coats "
            "of this colour; seal the whole panel, or say in how many coats to spray."
        )
        raise JobError(message)
    return max(choice.coats, worst.count.coats)


def _left(difference: tuple[float, ...], coats: int) -> float:
    return difference[min(coats, len(difference)) - 1]


def _circle_m2(radius_cm: float) -> float:
    return math.pi * radius_cm**2 / _CM2_PER_M2
