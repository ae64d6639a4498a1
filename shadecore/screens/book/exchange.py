"""Colours, shelves, records and jobs in from files, and out into files."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.exchange import write_colours
from shadecore.book.file_export import (
    colours_table,
    job_times_table,
    shelf_table,
)
from shadecore.book.file_import import import_file
from shadecore.book.import_plan import ImportPlan
from shadecore.book.kinds import folded
from shadecore.book.names import SHORT_UID
from shadecore.book.records import BookColour, BookShelf
from shadecore.book.seen_file import records_table
from shadecore.book.shop_records import BookJob
from shadecore.errors import ShadecoreError
from shadecore.formats.file_names import file_stem
from shadecore.screens import say
from shadecore.screens.open_book import done
from shadecore.telling.book_words import import_words

_TYPES: Final = ["csv", "txt", "cgats", "cxf", "xml", "toml"]
_UPLOADS: Final = "book_import_edition"
_JOBS: Final = 50
"""Jobs whose times are offered, those worked on last."""


def show(book: Book) -> None:
    """Show what can be taken in and given out.

    Parameters
    ----------
    book : Book
        The book.
    """
    left, right = st.columns(2, gap="medium")
    with left:
        _show_import(book)
    with right:
        _show_export(book)


def _show_import(book: Book) -> None:
    edition = st.session_state.get(_UPLOADS, 0)
    upload = st.file_uploader(
        "Take in a file",
        type=_TYPES,
        key=f"book_import_{edition}",
        help="Colours as CSV, CGATS text or CxF3; a shelf or records as CSV; a job, a "
        "product sheet or a set of steps as TOML.",
    )
    if upload is None:
        return
    try:
        plan = import_file(book, upload.getvalue(), upload.name)
    except ShadecoreError as error:
        say.error(error)
        return
    for words in import_words(plan):
        say.words(words)
    if not (plan.add or plan.change):
        return
    if st.button("Take it in", type="primary") and done(
        lambda: book.apply(ImportPlan(plan.add, plan.change))
    ):
        st.session_state[_UPLOADS] = edition + 1
        st.rerun()


def _show_export(book: Book) -> None:
    now = datetime.now().astimezone()

    def colours() -> tuple[BookColour, ...]:
        return tuple(each.thing for each in book.list(BookColour))

    files: dict[str, tuple[str, Callable[[], bytes]]] = {
        "All colours (CSV)": ("colours.csv", lambda: colours_table(colours())),
        "All colours (CGATS)": (
            "colours.txt",
            lambda: write_colours(colours(), "cgats", now),
        ),
        "All colours (CxF)": (
            "colours.cxf",
            lambda: write_colours(colours(), "cxf", now),
        ),
        "All records (CSV)": ("records.csv", lambda: records_table(book)),
    }
    for shelf in book.list(BookShelf):
        text = shelf_table(shelf.thing)
        stem = file_stem(shelf.thing.name, "shelf")
        files[f"Shelf {shelf.thing.name} (CSV)"] = (
            f"{stem}.csv",
            partial(bytes, text),
        )
    jobs = book.list(BookJob, limit=_JOBS)
    names = [folded(job.thing.name) for job in jobs]
    for job in jobs:
        thing = job.thing
        # Jobs of earlier books may share a name, which their uid does not.
        shared = names.count(folded(thing.name)) > 1
        which = f", {job.uid[:SHORT_UID]}" if shared else ""
        stem = file_stem(f"{thing.name}{which}", "job")
        files[f"Times of the job {thing.name}{which} (CSV)"] = (
            f"{stem}-times.csv",
            partial(job_times_table, thing),
        )
    if not book.list(BookColour, limit=1):
        files = {name: each for name, each in files.items() if "colours" not in name}
    chosen = st.selectbox("Give out", list(files))
    name, content = files[chosen]
    st.download_button("Save as a file", content, name, on_click="ignore")
