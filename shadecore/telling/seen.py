"""What the shop has seen of a paint, in words."""

from typing import Final

from shadecore.telling.names import brief

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


def contradicted_words(seen: str) -> str:
    """What is said of a record that the others make hard to believe.

    Parameters
    ----------
    seen : str
        The record, by :func:`seen_words`.

    Returns
    -------
    str
        One sentence.
    """
    return f"'{seen}' does not fit the other records: check it, or take it out."
