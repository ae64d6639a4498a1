"""How far the coats of a spot repair reach, and what lies under them where."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.products.ranges import COATS, Range

REACH_CM: Final = Range(0.0, 500.0, "cm")
USUAL_STEP_CM: Final = 10.0
"""How far each coat reaches past the last: a hand's breadth; common practice, no
source."""


@dataclass(frozen=True)
class FadeCoat:
    """One coat of a repair that fades out.

    Attributes
    ----------
    kind : str
        Kind of product: ``sealer``, ``base_coat``, ``mid_coat`` or ``clear_coat``.
    coat : int
        Which of its coats, from 1.
    reach_cm : float
        How far it reaches from the edge of the repair. [cm]
    """

    kind: str
    coat: int
    reach_cm: float


def fade(
    base_coats: int,
    clear_coats: int,
    sealer_cm: float = USUAL_STEP_CM,
    base_step_cm: float = USUAL_STEP_CM,
    clear_step_cm: float = USUAL_STEP_CM,
    *,
    mid_coats: int = 0,
) -> tuple[FadeCoat, ...]:
    """Coats of a repair, each reaching past the last.

    Parameters
    ----------
    base_coats, clear_coats : int
        How many.
    sealer_cm : float
        How far the sealer reaches from the edge of the repair. [cm]
    base_step_cm, clear_step_cm : float
        How far each coat reaches past the last. [cm]
    mid_coats : int
        Coats over the ground of a colour of three stages, each reaching as far past the
        last as those of the ground.

    Returns
    -------
    tuple of FadeCoat
        In the order they are sprayed.

    Raises
    ------
    JobError
        If one of them is outside its range.

    Examples
    --------
    >>> [each.reach_cm for each in fade(2, 1)]
    [10.0, 20.0, 30.0, 40.0]
    """
    for coats, what in ((base_coats, "base coat"), (clear_coats, "clear coat")):
        COATS.check(coats, f"The number of coats of {what}")
    for length, what in (
        (sealer_cm, "sealer"),
        (base_step_cm, "base coat"),
        (clear_step_cm, "clear coat"),
    ):
        REACH_CM.check(length, f"The reach of the {what}")
    found = [FadeCoat("sealer", 1, sealer_cm)]
    for kind, coats, step in (
        ("base_coat", base_coats, base_step_cm),
        ("mid_coat", mid_coats, base_step_cm),
        ("clear_coat", clear_coats, clear_step_cm),
    ):
        start = found[-1].reach_cm
        found += [
            FadeCoat(kind, coat, start + coat * step) for coat in range(1, coats + 1)
        ]
    return tuple(found)


def coats_at(coats: tuple[FadeCoat, ...], kind: str, from_edge_cm: float) -> int:
    """How many coats of a product lie somewhere.

    Parameters
    ----------
    coats : tuple of FadeCoat
        As :func:`fade` gives them.
    kind : str
        Kind of product.
    from_edge_cm : float
        From the edge of the repair outwards; negative within it. [cm]

    Returns
    -------
    int

    Raises
    ------
    JobError
        If the place is none.
    """
    if not math.isfinite(from_edge_cm):
        message = f"A place is some cm from the repair's edge, not {from_edge_cm:g}."
        raise JobError(message)
    return sum(each.kind == kind and from_edge_cm < each.reach_cm for each in coats)


def zones(coats: tuple[FadeCoat, ...]) -> tuple[tuple[float, bool, int], ...]:
    """What lies under one colour, from the repair outwards.

    Parameters
    ----------
    coats : tuple of FadeCoat
        As :func:`fade` gives them.

    Returns
    -------
    tuple of (float, bool, int)
        Where a zone ends, whether its undercoat is the sealer or else the old finish,
        and the coats of colour in it. The worst of them sets how many are needed: see
        :mod:`shadecore.coats.sand_throughs`. [cm]
    """
    over = ("mid_coat", "clear_coat")
    ends = sorted({each.reach_cm for each in coats if each.kind not in over})
    found = []
    start = 0.0
    for end in ends:
        middle = (start + end) / 2.0
        sealed = coats_at(coats, "sealer", middle) > 0
        found.append((end, sealed, coats_at(coats, "base_coat", middle)))
        start = end
    return tuple(found)
