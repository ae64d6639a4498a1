"""The book as a whole: a backup, a restored backup, a check."""

import tempfile
from pathlib import Path
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.screens import say, shop
from shadecore.screens.book.change import sure
from shadecore.screens.open_book import done

_UPLOADS: Final = "book_restore_edition"
_CHECKED: Final = "book_checked"
_RESTORED: Final = "book_restored"


def show(book: Book) -> None:
    """Show what can be done with the whole book.

    Parameters
    ----------
    book : Book
        The book.
    """
    st.caption(f"The book is the file {say.plain(book.path)}.")
    left, right = st.columns(2, gap="medium")
    with left:
        st.markdown("Everything in one file: keep it on another disk.")
        st.download_button(
            "Save a backup",
            lambda: _backup(book),
            "shadecore-book.sqlite",
            "application/vnd.sqlite3",
            type="primary",
            on_click="ignore",
        )
        st.button("Check the book", on_click=_check, args=(book,))
        for told in st.session_state.get(_CHECKED, ()):
            say.words(told)
    with right:
        # Of any name, as older copies end in other ways: what is no book is refused.
        edition = st.session_state.get(_UPLOADS, 0)
        upload = st.file_uploader("Put a backup back", key=f"restore_{edition}")
        if upload is not None:
            st.markdown("It takes the place of **everything** that the book holds now.")
            yes = "Yes, take its place"
            if sure("Put it back", yes, "restore_sure") and done(
                lambda: _restore(book, upload.getvalue())
            ):
                shop.new_colour()
                # The same file is not offered once more.
                st.session_state[_UPLOADS] = edition + 1
                st.rerun()
        if st.session_state.get(_RESTORED):
            say.words(st.session_state[_RESTORED])


def _backup(book: Book) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "backup.sqlite"
        book.backup(path)
        return path.read_bytes()


def _restore(book: Book, content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "backup.sqlite"
        path.write_bytes(content)
        before = book.restore(path)
    st.session_state[_RESTORED] = (
        f"The backup is in its place; what the book held before is in {before}."
    )


def _check(book: Book) -> None:
    st.session_state[_CHECKED] = book.check() or ("The book is whole.",)
