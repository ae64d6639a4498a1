"""Sets of the shop's own steps: taken in, renamed, given out, removed."""

from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.shop_records import BookSteps
from shadecore.book.step_sets import set_of_file
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.step_files import write_steps
from shadecore.screens import say, shop
from shadecore.screens.book import named
from shadecore.screens.open_book import done
from shadecore.telling.set_up_words import changes_words

_FILE: Final = "steps_upload"


def show(book: Book) -> None:
    """Show the sets.

    Parameters
    ----------
    book : Book
        The book.
    """
    sets = book.list(BookSteps)
    if not sets:
        st.markdown(
            "None yet. Change the steps of a job on page Plan, part Steps, and keep "
            "them there as a set for other jobs."
        )
    for kept in sets:
        thing = kept.thing
        with st.container(horizontal=True, vertical_alignment="center"):
            st.markdown(f"**{say.plain(thing.name)}**")
            st.download_button(
                "Save as a file",
                write_steps(thing.name, thing.changes),
                "steps.toml",
                "application/toml",
                key=f"steps_file_{kept.uid}",
                on_click="ignore",
            )
            named.show_menu(kept, kept.uid)
        told = changes_words(thing.changes)
        st.caption(say.plain(f"{told[:1].upper()}{told[1:]}."))
    st.file_uploader(
        "Add a set of steps (TOML)",
        type=["toml"],
        key=_FILE,
        on_change=_take,
        args=(book,),
    )


def _take(book: Book) -> None:
    upload = st.session_state[_FILE]
    if upload is None:
        return
    try:
        thing = set_of_file(decode(upload.getvalue(), upload.name), upload.name)
    except ShadecoreError as error:
        shop.tell(error)
        return
    done(lambda: book.add(thing))
