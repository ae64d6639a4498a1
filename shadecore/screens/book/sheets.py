"""Product sheets of the book: taken in, renamed, given out, removed."""

from pathlib import PurePath
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.shop_records import BookSheet
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.products.sheet_file import parse_sheet
from shadecore.screens import say, shop
from shadecore.screens.book import named
from shadecore.screens.open_book import done

_FILE: Final = "sheet_upload"


def show(book: Book) -> None:
    """Show the sheets.

    Parameters
    ----------
    book : Book
        The book.
    """
    sheets = book.list(BookSheet)
    if not sheets:
        st.markdown(
            "None yet. Jobs are planned from an invented product line until you keep "
            "the data of your own product here."
        )
    for kept in sheets:
        with st.container(horizontal=True, vertical_alignment="center"):
            st.markdown(f"**{say.plain(kept.thing.name)}**")
            st.download_button(
                "Save as a file",
                kept.thing.text,
                "sheet.toml",
                "application/toml",
                key=f"sheet_file_{kept.uid}",
                on_click="ignore",
            )
            named.show_menu(kept, kept.uid)
    st.file_uploader(
        "Add a product sheet (TOML)",
        type=["toml"],
        key=_FILE,
        on_change=_take,
        args=(book,),
    )
    st.download_button(
        "An example to fill in",
        data_file("product-line.toml").read_text("utf-8"),
        "product-line.toml",
        "application/toml",
        on_click="ignore",
    )


def _take(book: Book) -> None:
    upload = st.session_state[_FILE]
    if upload is None:
        return
    try:
        text = decode(upload.getvalue(), upload.name)
        parse_sheet(text, upload.name)
    except ShadecoreError as error:
        shop.tell(error)
        return
    done(lambda: book.add(BookSheet(PurePath(upload.name).stem, text)))
