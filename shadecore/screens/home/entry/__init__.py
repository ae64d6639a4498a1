"""A box for one line after another that loses none, however fast they are typed.

The server clears a field of Streamlit's own some time after Enter: what was typed until
then is joined to the line before, or wiped. This box clears itself and sends all that
was entered, so that a line which comes while the page is busy is not lost either.
"""

from pathlib import Path
from typing import Any, Final, NamedTuple

import streamlit as st

_HERE: Final = Path(__file__).parent


class Line(NamedTuple):
    """A line that was entered.

    Attributes
    ----------
    uid : str
        Tells it from others of the same text.
    text : str
        What was typed.
    """

    uid: str
    text: str


def ask_lines(
    label: str, placeholder: str, key: str, back: Line | None
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

    Returns
    -------
    tuple of Line
        Every line entered since the box is on the page, those before as well.
    """
    data = {
        "label": label,
        "placeholder": placeholder,
        "back": None if back is None else back._asdict(),
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
