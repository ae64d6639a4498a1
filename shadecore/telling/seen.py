"""What the shop has seen of a paint, in words."""

import math
from typing import Final

from shadecore.coats.loading import Loading
from shadecore.coats.rests_on import RestsOn
from shadecore.coats.seen import Seen
from shadecore.telling.counts import range_words
from shadecore.telling.names import brief
from shadecore.telling.numbers import percent

_AS_USUAL: Final = 0.05
"""A difference in cover that is not worth a word; this tool's own limit."""
_SOURCES: Final = {
    "data-sheet": "data sheet",
    "job": "job",
    "check": "check on black and white",
    "card": "test card",
}


def seen_words(
    coats_low: int,
    coats_high: int,
    over: str = "",
    *,
    hid: bool = True,
    source: str = "job",
) -> str:
    """One record of what was seen.

    Parameters
    ----------
    coats_low, coats_high : int
        The first coat that hid lies between them; where it did not hide, only
        ``coats_high`` counts. A range from 1 stands for "that many or fewer".
    over : str
        Name of the sealer; empty where none was named.
    hid : bool
        Whether it hid.
    source : str
        ``data-sheet``, ``job``, ``check`` or ``card``.

    Returns
    -------
    str

    Examples
    --------
    >>> seen_words(4, 4, "Mid grey N 5.5")
    '4 coats over Mid grey N 5.5 hid (job)'
    >>> seen_words(1, 3, "White N 9", hid=False)
    '3 coats over White N 9 did not hide (job)'
    >>> seen_words(2, 3, source="data-sheet")
    '2 to 3 coats hid (data sheet)'
    """
    said = f"{coats_high}"
    if hid and coats_low < coats_high:
        said = f"up to {said}" if coats_low <= 1 else f"{coats_low} to {said}"
    noun = "coat" if said == "1" else "coats"
    place = f" over {brief(over)}" if over else ""
    verb = "hid" if hid else "did not hide"
    return f"{said} {noun}{place} {verb} ({_SOURCES[source]})"


def record_words(seen: Seen, cap: int) -> str:
    """A record in a few words; see :func:`seen_words`.

    Parameters
    ----------
    seen : Seen
        The record.
    cap : int
        Coats to name where it has no upper end.

    Returns
    -------
    str
    """
    over = "" if seen.undercoat is None else seen.undercoat.name
    high = cap if seen.coats_high is None else seen.coats_high
    low = seen.coats_low if seen.looked else 1
    return seen_words(low, high, over, hid=seen.hid, source=seen.source)


def rests_on_words(rests: RestsOn, cap: int) -> str:
    """One record behind an answer, and how far it narrowed the count.

    Parameters
    ----------
    rests : RestsOn
        The record and what it did.
    cap : int
        Coats counted at most.

    Returns
    -------
    str
        One or two sentences.
    """
    said = record_words(rests.seen, cap)
    before = range_words(rests.low_before, rests.high_before, cap)
    after = range_words(rests.low_after, rests.high_after, cap)
    did = (
        f"it leaves {before} coats"
        if before == after
        else f"by itself it narrows {before} coats down to {after}"
    )
    against = (
        " It contradicts what else was seen: check which one is of this paint."
        if rests.contradicts
        else ""
    )
    return f"{said}: {did}.{against}"


def loading_words(loading: Loading, usual: Loading) -> str:
    """What earlier jobs say of the paint's line and gun; empty where none were learned.

    Parameters
    ----------
    loading : Loading
        That of the question.
    usual : Loading
        That of any paint.

    Returns
    -------
    str
    """
    if not loading.jobs:
        return ""
    more = math.exp(loading.mean - usual.mean)
    jobs = "1 job" if loading.jobs == 1 else f"{loading.jobs} jobs"
    if abs(more - 1.0) < _AS_USUAL:
        return f"This line and gun cover as paints usually do (learned from {jobs})."
    better = "better" if more > 1.0 else "worse"
    apart = percent(abs(more - 1.0))
    return f"This line and gun cover {apart} {better} than usual, from {jobs}."
