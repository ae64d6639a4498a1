"""P grits, and how far one step may jump."""

from collections.abc import Iterable
from itertools import pairwise
from typing import Final

_WIDEST_JUMPS: Final = (
    (240, 100),
    (400, 180),
    (800, 200),
    (1500, 500),
    (5000, 1000),
)
"""Up to a finer grit: how far one step may jump; common practice, no source."""
FINEST_GRIT: Final = _WIDEST_JUMPS[-1][0]
"""Finest P grit that is known here."""


def check_grits(grits: Iterable[int]) -> list[str]:
    """Jumps in a ladder of grits after which the coarser scratch still shows.

    One step may jump 100 numbers up to P240, 180 up to P400 (it follows the P220 that a
    long board ends with), 200 up to P800, 500 up to P1500 and 1000 from there: common
    practice, no source.

    Parameters
    ----------
    grits : iterable of int
        P grits in the order used on one surface, without a coat between them.

    Returns
    -------
    list of str
        One sentence to a problem; empty where there is none.

    Examples
    --------
    >>> check_grits((80, 180, 320, 400, 600))
    []
    >>> check_grits((180, 600))
    ['From P180 to P600 the old scratch still shows; go by steps of at most 200 there.']
    """
    ladder = tuple(grits)
    problems = [
        f"P{grit} is no grit; take one from P1 to P{FINEST_GRIT}."
        for grit in ladder
        if not 1 <= grit <= FINEST_GRIT
    ]
    if problems:
        return problems
    for coarse, fine in pairwise(ladder):
        widest = next(jump for upto, jump in _WIDEST_JUMPS if fine <= upto)
        if fine < coarse:
            problems.append(
                f"P{fine} after P{coarse} scratches what was made fine; go by finer "
                "grits only."
            )
        elif fine - coarse > widest:
            problems.append(
                f"From P{coarse} to P{fine} the old scratch still shows; go by steps "
                f"of at most {widest} there."
            )
    return problems
