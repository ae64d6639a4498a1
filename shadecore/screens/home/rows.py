"""Rows of the first page: a colour or a job to go on with, and its menu."""

from datetime import UTC, datetime
from typing import Final

import streamlit as st

from shadecore.book.asked import asked_of
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob
from shadecore.book.working import is_named
from shadecore.colour.display import hex_from_lab
from shadecore.screens import say, shop, shop_things, ways
from shadecore.screens.kept_bar import ask_words
from shadecore.telling.book_words import job_words, when_changed_words

_MENU: Final = ":material/more_vert:"
STYLE: Final = """
[class*="st-key-sc_row_"] {gap: 0 !important; flex-wrap: nowrap !important;}
[class*="st-key-sc_open_"] {flex: 1 1 auto; min-width: 0;}
[class*="st-key-sc_open_"] button {justify-content: flex-start; text-align: left;
  min-height: 56px !important; padding: 4px 10px; border: 0;
  border-top: 1px solid var(--sc-line, #8a8a8a); border-radius: 0;
  background: transparent;}
[class*="st-key-sc_open_"] button::before {content: ""; flex: 0 0 44px; height: 44px;
  margin-right: 12px; border: 1px solid #8a8a8a; background: var(--sc-swatch, none);}
[class*="st-key-sc_open_"] button > div {flex: 1 1 auto; min-width: 0;
  justify-content: flex-start;}
[class*="st-key-sc_open_"] button p {text-align: left; line-height: 1.35;
  overflow-wrap: anywhere; white-space: normal;}
[class*="st-key-sc_menu_"] {flex: 0 0 auto;}
[class*="st-key-sc_menu_"] button {border: 0; border-top: 1px solid #8a8a8a;
  border-radius: 0; background: transparent; min-height: 56px !important;}
[class*="st-key-sc_menu_"] button > div > [aria-hidden="true"] {display: none;}
.st-key-sc_colours h3, .st-key-sc_jobs h3 {font-size: 1.15rem; padding: 0;}
.st-key-sc_colours [data-testid="stMarkdownContainer"]:has(h3),
.st-key-sc_jobs [data-testid="stMarkdownContainer"]:has(h3) {margin: 0 0 .4rem;}
/* The menu's name is for those who cannot see its dots. */
[class*="st-key-sc_menu_"] button [data-testid="stMarkdownContainer"] {
  position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%);}
"""


def show_colour(kept: Kept[BookColour], pick: str | None) -> None:
    """Show a colour; one tap goes on with it.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour.
    pick : str or None
        Its pick in words; None where it is not worked out yet.
    """
    thing = kept.thing
    beside = _listed(thing.code, thing.car)
    under = _listed(pick or "", _kind(thing), _day(kept))
    if _row(kept, thing.name, beside, under, hex_from_lab([thing.lab])[0]):
        shop.open_colour(kept)
        ways.go_to("pick")


def show_job(kept: Kept[BookJob], swatch: str) -> None:
    """Show a job; one tap goes back to it.

    Parameters
    ----------
    kept : Kept of BookJob
        The job.
    swatch : str
        Colour of its topcoat for a screen; empty where it is not known.
    """
    thing = kept.thing
    # A job that nobody named is called after its colour and its car.
    car = "" if thing.car in thing.name else thing.car
    beside = _listed(car, thing.code)
    if _row(kept, thing.name, beside, job_words(thing), swatch) and shop.open_job(kept):
        ways.go_to("plan")


def job_swatch(kept: Kept[BookJob]) -> str:
    """Colour of a job's topcoat for a screen.

    Parameters
    ----------
    kept : Kept of BookJob
        The job.

    Returns
    -------
    str
        Empty where the job names no colour of the book.
    """
    book = shop.book()
    if book is None or not kept.thing.colour:
        return ""
    return hex_from_lab([book.show(BookColour, kept.thing.colour).thing.lab])[0]


def _row(
    kept: Kept[BookColour] | Kept[BookJob],
    name: str,
    beside: str,
    under: str,
    swatch: str,
) -> bool:
    """Show a row; whether it was tapped."""
    key = kept.uid
    colour = f".st-key-sc_open_{key} button {{--sc-swatch: {swatch};}}"
    label = f"**{say.plain(name)}** {say.plain(beside)}"
    if under:
        label += f"  \n:small[{say.plain(under)}]"
    with st.container(key=f"sc_row_{key}", horizontal=True):
        if swatch:
            st.html(f"<style>{colour}</style>")
        tapped = st.button(label, key=f"sc_open_{key}", width="stretch")
        # Another one after each change, so that it is closed once its words are kept.
        menu = st.popover(
            f"Menu of {say.plain(name)}",
            icon=_MENU,
            key=f"sc_menu_{key}_{kept.version}",
        )
        with menu:
            _menu(kept)
    return tapped


def _menu(kept: Kept[BookColour] | Kept[BookJob]) -> None:
    key = f"sc_words_{kept.uid}"
    named = not isinstance(kept.thing, BookColour) or is_named(kept)
    ask_words(kept, key, named=named)
    st.button(
        "Remove",
        key=f"sc_remove_{kept.uid}",
        help="Into the bin of the book; Undo brings it back.",
        on_click=shop_things.remove,
        args=(kept,),
    )


def _kind(thing: BookColour) -> str:
    kind = asked_of(thing).question.kind
    return kind if thing.kind != "solid" else ""


def _day(kept: Kept[BookColour]) -> str:
    return when_changed_words(kept.changed, datetime.now(UTC).astimezone())


def _listed(*words: str) -> str:
    return " · ".join(filter(None, words))
