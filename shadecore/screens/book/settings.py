"""How the shop works: units, paper, name, hours, rates, and whether photos are kept."""

from datetime import time
from typing import Any, Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.shop_records import PAPERS, UNITS, ShopSettings
from shadecore.errors import JobError
from shadecore.job.estimate import ShopRates
from shadecore.job.shop_hours import ShopHours
from shadecore.screens import say
from shadecore.screens.as_read import as_read
from shadecore.screens.book.change import keep_edits

_UNITS: Final = {"metric": "Metric", "us": "US"}
_DAYS: Final = (
    *("Monday", "Tuesday", "Wednesday", "Thursday", "Friday"),
    *("Saturday", "Sunday"),
)
_USUAL: Final = ShopHours(time(8), time(18))
_PAUSE: Final = (time(12), time(12, 30))


def show(book: Book) -> None:
    """Show the settings; each is kept as it is changed.

    Parameters
    ----------
    book : Book
        The book.
    """
    kept = book.settings()
    read = as_read(kept)
    now, key = read.thing, f"settings_{read.version}"
    left, right = st.columns(2, gap="medium")
    with left:
        asked: dict[str, Any] = {
            "shop": st.text_input(
                "Name of the shop", now.shop, key=f"{key}_shop", help="For prints."
            ).strip(),
            "units": st.segmented_control(
                "Units",
                list(UNITS),
                default=now.units,
                format_func=_UNITS.__getitem__,
                key=f"{key}_units",
                required=True,
            ),
            "paper": st.segmented_control(
                "Paper",
                ["", *PAPERS],
                default=now.paper,
                format_func=lambda paper: paper or "By the units",
                key=f"{key}_paper",
                required=True,
            ),
            "keep_photos": st.toggle(
                "Keep photos beside their colours",
                now.keep_photos,
                key=f"{key}_photos",
                help="A smaller copy, without where and when it was taken.",
            ),
        }
        asked["rates"] = _ask_rates(now, key)
    with right:
        asked["hours"] = _ask_hours(now, key)
    wanted = {name: each for name, each in asked.items() if each != getattr(now, name)}
    keep_edits(kept, read, **wanted)


def _ask_rates(now: ShopSettings, key: str) -> ShopRates | None:
    """What an estimate begins with; as it was while that cannot be used."""
    st.markdown(
        "What the estimate for a customer begins with, in the currency of its product "
        "sheet."
    )
    before = now.rates or ShopRates(0.0)
    with st.container(horizontal=True):
        hour = st.number_input(
            "An hour of work",
            0.0,
            None,
            None if now.rates is None else before.hour,
            key=f"{key}_hour",
            placeholder="Not said",
        )
        cans = st.number_input(
            "Added to the cans (%)",
            0.0,
            None,
            before.materials_percent,
            key=f"{key}_cans",
        )
        extras = st.number_input(
            "Usual extras", 0.0, None, before.extras, key=f"{key}_extras"
        )
        tax = st.number_input(
            "Tax (%)", 0.0, None, before.tax_percent, key=f"{key}_tax"
        )
    if hour is None:
        return None
    try:
        return ShopRates(hour, cans, extras, tax)
    except JobError as error:
        say.error(error)
        return now.rates


def _ask_hours(now: ShopSettings, key: str) -> ShopHours | None:
    """The shop's hours; as they were while what is asked for cannot be used."""
    if not st.toggle("The shop has hours", now.hours is not None, key=f"{key}_hours"):
        return None
    usual = now.hours or _USUAL
    start, end = usual.pause or _PAUSE
    with st.container(horizontal=True):
        opens = st.time_input("Opens", usual.opens, key=f"{key}_opens")
        closes = st.time_input("Closes", usual.closes, key=f"{key}_closes")
    pause = None
    if st.toggle("A break every day", usual.pause is not None, key=f"{key}_pause"):
        with st.container(horizontal=True):
            pause = (
                st.time_input("Break from", start, key=f"{key}_from"),
                st.time_input("Break to", end, key=f"{key}_to"),
            )
    closed = st.pills(
        "Closed on",
        range(len(_DAYS)),
        default=sorted(usual.closed),
        format_func=lambda day: _DAYS[day][:3],
        selection_mode="multi",
        key=f"{key}_closed",
    )
    try:
        return ShopHours(opens, closes, pause, frozenset(closed), usual.holidays)
    except JobError as error:
        say.error(error)
        return now.hours
