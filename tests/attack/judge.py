"""What is asked of whatever an input led to."""

import csv
import io
import re
from typing import Final

MOST_MESSAGE: Final = 300
MOST_CPU_S: Final = 5.0
MOST_MEMORY: Final = 1_200_000_000
_TYPES: Final = re.compile(
    r"<class |\bNoneType\b|\b(?:dict|tuple|bool|int|str|float|bytes|set) (?:object|and|"
    r"or|is|instead|expected|with|to)\b|not (?:a|an) (?:dict|tuple|bool|int|str|float|"
    r"bytes)\b|Traceback|\bobject at 0x|\b\w+Error\b|\bException\b|\bcodec\b|ndarray|"
    r"numpy|Invalid statement|Expecting value"
)
"""How Python or a library speaks, not this tool."""
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_LIVE: Final = re.compile("[ \u00a0]*[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
_NUMBER: Final = re.compile(r"[-+]?\d+(\.\d+)?([eE][-+]?\d+)?")


def faults_of_message(text: str) -> list[str]:
    """What is wrong with a sentence that refuses something.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    list of str
        Empty where it is as it should be.
    """
    found = []
    if not text.strip():
        found.append("says nothing")
    if len(text) > MOST_MESSAGE:
        found.append(f"is {len(text)} characters long")
    if _TYPES.search(text):
        found.append(f"speaks like Python: {_TYPES.search(text)}")
    if "\n" in text.strip() or _CONTROL.search(text):
        found.append("holds line breaks or control characters")
    if not text.rstrip().endswith((".", ")", "?")):
        found.append("does not end as a sentence")
    return [f"{each}: {text[:500]!r}" for each in found]


def live_cells(text: str) -> list[str]:
    """Cells of a CSV table that a spreadsheet would run.

    Parameters
    ----------
    text : str
        The table.

    Returns
    -------
    list of str
    """
    return [
        cell
        for row in csv.reader(io.StringIO(text, newline=""))
        for cell in row
        if _LIVE.match(cell) and not _NUMBER.fullmatch(cell)
    ]
