"""What a shelf's note says of one sealer, which goes where the sealer goes."""

from typing import Final

from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_words import new_names

FROM_PHOTO: Final = ", from a photo."
"""How the line ends that says how sure a photo's colour is."""
_SAME_LAB: Final = 0.05
"""Difference of a value below which it reads the same: lines give one decimal."""


def line_of(note: str, name: str) -> str:
    """The line of a shelf's note on one sealer.

    Parameters
    ----------
    note : str
        The shelf's.
    name : str
        The sealer's.

    Returns
    -------
    str
        Empty where there is none.
    """
    return next((each for each in note.splitlines() if _is_on(each, name)), "")


def followed(note: str, before: Shelf, after: Shelf) -> str:
    """A shelf's note after its sealers were changed.

    A new name is carried into the sealer's line. The line of a photo goes with its
    sealer, and when the sealer's colour is another one than the photo gave.

    Parameters
    ----------
    note : str
        The note so far.
    before, after : tuple of Undercoat
        The sealers so far, and those of now.

    Returns
    -------
    str
    """
    names = sorted((each.name for each in before), key=len, reverse=True)
    renamed = new_names(before, after)
    colours = {each.name: each for each in after}
    lines = []
    for line in note.splitlines():
        name = next((each for each in names if _is_on(line, each)), None)
        if name is None:
            lines.append(line)
            continue
        now = colours.get(renamed.get(name, ""))
        was = next(each for each in before if each.name == name)
        if line.endswith(FROM_PHOTO) and (now is None or not _alike(was, now)):
            continue
        lines.append(line if now is None else f"{now.name}{line[len(name) :]}")
    return "\n".join(lines)


def _is_on(line: str, name: str) -> bool:
    return line.startswith(f"{name}: ")


def _alike(was: Undercoat, now: Undercoat) -> bool:
    pairs = zip(was.lab, now.lab, strict=True)
    return all(abs(one - other) < _SAME_LAB for one, other in pairs)
