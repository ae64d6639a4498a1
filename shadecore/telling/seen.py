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
