"""The clock at the bench, drawn by the browser.

A page that is drawn anew each second by the server stands still while a phone sleeps;
this one gets moments and counts from the clock. Its script and style load nothing from
elsewhere.
"""

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, Final, NamedTuple

import streamlit as st

_HERE: Final = Path(__file__).parent
_MS: Final = 1000.0


class Clock(NamedTuple):
    """One time that is counted.

    Attributes
    ----------
    until : datetime or None
        To which it counts down and from which it counts up, in the shop's own time;
        None for words that stand.
    before, after : str
        What is shown until then and from then on; ``{t}`` stands for the time.
    title : str
        Above it; of the first clock only.
    note, since : str
        Under it until then and from then on; of the first clock only.
    alarm : bool
        Whether it rings.
    """

    until: datetime | None
    before: str
    after: str = ""
    title: str = ""
    note: str = ""
    since: str = ""
    alarm: bool = False


def clock_data(
    clocks: tuple[Clock, ...], now: datetime, texts: Mapping[str, str]
) -> dict[str, Any]:
    """What the browser's part gets.

    Parameters
    ----------
    clocks : tuple of Clock
        The first one is drawn large.
    now : datetime
        In the shop's own time.
    texts : mapping of str to str
        Labels of its buttons.

    Returns
    -------
    dict of str to value
        Moments as milliseconds since 1970 UTC, which a phone's clock has too.
    """
    return {
        "now": _ms(now),
        "clocks": [
            {**each._asdict(), "until": None if each.until is None else _ms(each.until)}
            for each in clocks
        ],
        "texts": dict(texts),
    }


def show_clocks(
    clocks: tuple[Clock, ...], now: datetime, texts: Mapping[str, str], key: str
) -> None:
    """Show times that count.

    Parameters
    ----------
    clocks, now, texts
        As for :func:`clock_data`.
    key : str
        Tells it from others on the page.
    """
    _component()(data=clock_data(clocks, now, texts), key=key)


def _component() -> Any:  # noqa: ANN401 - Streamlit's renderer has no public type
    return st.components.v2.component(
        "shadecore_timer",
        html='<div class="sc-clock"></div>',
        css=(_HERE / "timer.css").read_text("utf-8"),
        js=(_HERE / "timer.js").read_text("utf-8"),
    )


def _ms(moment: datetime) -> float:
    return moment.timestamp() * _MS
