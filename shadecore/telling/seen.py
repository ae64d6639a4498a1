"""What the shop has seen of a paint, in words."""

import math
from typing import Final

from shadecore.coats.answer import Answer
from shadecore.coats.loading import LINE_AND_GUN, Loading
from shadecore.coats.rests_on import RestsOn
from shadecore.coats.seen import Seen
from shadecore.formats.echo import brief
from shadecore.telling.counts import narrowed_words, sure_words

_AS_USUAL: Final = 0.05
"""A difference in cover that is not worth a word; this tool's own limit."""
_TWICE: Final = 1.9
_SHARES: Final = (
    (0.1, "a tenth"),
    (0.2, "a fifth"),
    (0.25, "a quarter"),
    (0.33, "a third"),
    (0.4, "two fifths"),
    (0.5, "a half"),
    (0.67, "two thirds"),
    (0.8, "four fifths"),
)
"""Parts that people say; the doubt of what was learned is wider than their steps."""
_CONTRADICTED: Final = "It does not fit the other records: check it, or take it out."
_SOURCES: Final = {
    "data-sheet": "data sheet",
    "job": "job",
    "check": "check on black and white",
    "card": "test card",
}


def seen_words(
    coats_low: int,
    coats_high: int | None,
    over: str = "",
    *,
    hid: bool = True,
    looked: bool = True,
    source: str = "job",
) -> str:
    """One record of what was seen.

    Parameters
    ----------
    coats_low, coats_high : int or None
        The first coat that hid lies between them, without an upper end for None; where
        it did not hide, ``coats_high`` were not enough.
    over : str
        Name of the sealer; empty where none was named.
    hid : bool
        Whether it hid.
    looked : bool
        Whether somebody looked after each coat; else fewer may have been enough.
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
    number, last = _number(coats_low, coats_high, hid=hid)
    place = f" over {brief(over)}" if over else ""
    verb = "hid" if hid else "did not hide"
    fewer = "; nobody looked sooner" if hid and not looked and last > 1 else ""
    noun = "coat" if last == 1 else "coats"
    return f"{number} {noun}{place} {verb} ({_SOURCES[source]}{fewer})"


def _number(low: int, high: int | None, *, hid: bool) -> tuple[str, int]:
    """The coats of a record as they are said, and the number that the noun follows."""
    if high is None:
        return f"{low} or more", low + 1
    if not hid or low == high:
        return f"{high}", high
    return (f"up to {high}" if low <= 1 else f"{low} to {high}"), high


def record_words(seen: Seen) -> str:
    """A record in a few words; see :func:`seen_words`.

    Parameters
    ----------
    seen : Seen
        The record.

    Returns
    -------
    str
    """
    return seen_words(
        seen.coats_low,
        seen.coats_high,
        "" if seen.undercoat is None else seen.undercoat.name,
        hid=seen.hid,
        looked=seen.looked,
        source=seen.source,
    )


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
    said = record_words(rests.seen)
    before = (rests.low_before, rests.high_before)
    after = (rests.low_after, rests.high_after)
    against = f" {_CONTRADICTED}" if rests.contradicts else ""
    return f"{said}: by itself {narrowed_words(before, after, cap)} coats.{against}"


def left_out_words(counted: int, left_out: int, of: str = "") -> str:
    """That only the newest records count.

    Parameters
    ----------
    counted, left_out : int
        How many count, and how many older ones do not.
    of : str
        The colour, where several are told of; empty for one.

    Returns
    -------
    str
        Empty where all count.
    """
    if not left_out:
        return ""
    records = f"records of {brief(of)}" if of else "records"
    rest = "the oldest one is" if left_out == 1 else f"{left_out:,} older ones are"
    return (
        f"Of {counted + left_out:,} {records} the newest {counted:,} count; {rest} "
        "left out."
    )


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
    more = loading.mean - usual.mean
    jobs = "1 job" if loading.jobs == 1 else f"{loading.jobs} jobs"
    cover = "cover" if loading.of == LINE_AND_GUN else "covers"
    what = f"This {loading.of} {cover}"
    if abs(more) < _AS_USUAL:
        return f"{what} as paints usually do, as {jobs} showed."
    return f"{what} {_cover_words(more)} than usual, from {jobs}."


def learned_words(what: str, more: float, jobs: int) -> str:
    """What earlier jobs say of one paint line or one gun.

    Parameters
    ----------
    what : str
        Such as ``This line``.
    more : float
        Mean that it adds to the logarithm of how strongly paint covers.
    jobs : int
        From how many jobs.

    Returns
    -------
    str
    """
    if not jobs:
        return "Nothing learned yet: say at the bench whether each coat covered."
    rests = "1 job" if jobs == 1 else f"{jobs} jobs"
    if abs(more) < _AS_USUAL:
        return f"{what} covers as usual, as {rests} showed."
    return f"{what} covers {_cover_words(more)} than usual, from {rests}."


def _cover_words(more: float) -> str:
    """How much better or worse paint covers, from the logarithm of how many times."""
    better = "better" if more > 0.0 else "worse"
    times = math.exp(abs(more))
    if times >= _TWICE:
        return f"{times:.1f} times {better}"
    share = times - 1.0 if more > 0.0 else 1.0 - 1.0 / times
    _, words = min(_SHARES, key=lambda each: abs(each[0] - share))
    return f"{words} {better}"


def as_usual_words(usual: Answer) -> str:
    """What an answer would be without what earlier jobs taught.

    Parameters
    ----------
    usual : Answer
        That answer.

    Returns
    -------
    str
        One sentence.
    """
    best = usual.recommended
    return (
        f"Without that it would be {sure_words(best.count)} over "
        f"{brief(best.undercoat.name)}."
    )
