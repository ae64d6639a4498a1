"""A box for one line after another that loses none, however fast they are typed.

The server clears a field of Streamlit's own some time after Enter: what was typed until
then is joined to the line before, or wiped. This box clears itself and sends all that
was entered, so that a line which comes while the page is busy is not lost either.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final, NamedTuple

import streamlit as st

from shadecore.errors import ShadecoreError

_HERE: Final = Path(__file__).parent


class Line(NamedTuple):
    """A line that was entered.

    Attributes
    ----------
    uid : str
        Tells it from others of the same text.
    text : str
        What was typed.
    mends : str
        ``uid`` of a refused line that stood in the box before; empty for none.
    """

    uid: str
    text: str
    mends: str = ""


class Refused(NamedTuple):
    """A line that could not be used, and why."""

    line: Line
    why: str


class Used(NamedTuple):
    """What came of the lines so far.

    Attributes
    ----------
    taken : frozenset of str
        ``uid`` of every line that was looked at.
    refused : tuple of Refused
        Those still to be put right; the first stands in the box.
    """

    taken: frozenset[str] = frozenset()
    refused: tuple[Refused, ...] = ()

    @property
    def back(self) -> Line | None:
        """The line that goes back into the box."""
        return self.refused[0].line if self.refused else None

    @property
    def trouble(self) -> str:
        """What is wrong with it; empty where nothing is."""
        return self.refused[0].why if self.refused else ""


def use_lines(
    before: Used, lines: tuple[Line, ...], use: Callable[[str], None]
) -> Used:
    """Use the lines that are new, each for itself.

    Parameters
    ----------
    before : Used
        What came of those before.
    lines : tuple of Line
        All that were entered.
    use : callable
        Takes a line's text; raises ShadecoreError where it cannot be used.

    Returns
    -------
    Used
    """
    taken, refused = before
    for line in lines:
        if line.uid in taken:
            continue
        taken = taken | {line.uid}
        refused = tuple(each for each in refused if each.line.uid != line.mends)
        try:
            use(line.text)
        except ShadecoreError as error:
            again = Refused(line, str(error))
            refused = (again, *refused) if line.mends else (*refused, again)
    return Used(taken, refused)


def ask_lines(
    label: str,
    placeholder: str,
    key: str,
    back: Line | None,
    *,
    focus: bool = False,
) -> tuple[Line, ...]:
    """Show the box.

    Parameters
    ----------
    label : str
        Its name, for those who cannot see where it stands.
    placeholder : str
        Stands in it while it is empty.
    key : str
        Tells it from others on the page.
    back : Line or None
        A line that could not be used; stands in the box again, to be put right.
    focus : bool
        Whether typing goes into it as soon as it is there.

    Returns
    -------
    tuple of Line
        Every line entered since the box is on the page, those before as well.
    """
    data = {
        "label": label,
        "placeholder": placeholder,
        "focus": focus,
        "back": None if back is None else {"uid": back.uid, "text": back.text},
    }
    result = _component()(data=data, key=key, on_lines_change=lambda: None)
    return tuple(Line(*map(str, each)) for each in getattr(result, "lines", None) or ())


def _component() -> Any:  # noqa: ANN401 - Streamlit's renderer has no public type
    return st.components.v2.component(
        "shadecore_entry",
        html='<input class="sc-entry" type="text" autocomplete="off">',
        css=(_HERE / "entry.css").read_text("utf-8"),
        js=(_HERE / "entry.js").read_text("utf-8"),
    )
