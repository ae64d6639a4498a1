"""Sets of the shop's own steps: used from the book, kept there, and as a file."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.shop_records import BookSteps
from shadecore.book.step_sets import find_steps, keep_steps
from shadecore.errors import ShadecoreError
from shadecore.formats.echo import brief
from shadecore.formats.table import decode
from shadecore.job.own_steps import MOST_TITLE, StepChange
from shadecore.job.request import JobRequest
from shadecore.job.step_files import parse_steps, write_steps
from shadecore.screens import say, shop
from shadecore.screens.plan.fields import Key
from shadecore.screens.plan.job import act
from shadecore.telling.set_up_words import changes_words

_LAST_FILE: Final = "plan_steps_file"
_SAID: Final = "plan_steps_said"


def ask_step_sets(job: JobRequest, key: Key) -> JobRequest:
    """Ask for a set of steps to use, and keep the job's own as one.

    Parameters
    ----------
    job : JobRequest
        As it stands.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    JobRequest
    """
    book = shop.book()
    if book is not None:
        _ask_kept(book, job, key)
    if job.details.changes:
        _ask_to_keep(book, job, key)
    if said := st.session_state.pop(_SAID, ""):
        say.words(said)
    return _ask_file(job, key)


def _ask_kept(book: Book, job: JobRequest, key: Key) -> None:
    """Take a set that the book holds."""
    sets = {each.uid: each.thing for each in book.list(BookSteps)}
    if not sets:
        return
    st.markdown("**A set of steps from the book**")
    chosen = st.selectbox(
        "Set of steps",
        list(sets),
        format_func=lambda uid: brief(sets[uid].name),
        key=key("steps_set"),
        label_visibility="collapsed",
    )
    thing = sets[chosen]
    told = changes_words(thing.changes)
    st.caption(say.plain(f"{told[:1].upper()}{told[1:]}."))
    own = job.details.changes
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Use it instead of the changes above" if own else "Use it",
            key=key("steps_use"),
            on_click=_use,
            args=(thing.changes,),
        )
        if own:
            st.button(
                "Add it to the changes above",
                key=key("steps_use_too"),
                on_click=_use,
                args=((*own, *thing.changes),),
            )


def _use(changes: tuple[StepChange, ...]) -> None:
    act(lambda job: replace(job, details=replace(job.details, changes=changes)))


def _ask_to_keep(book: Book | None, job: JobRequest, key: Key) -> None:
    """Keep the job's own steps in the book, or give them out as a file."""
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        if book is not None and not book.read_only:
            name = st.text_input(
                "Keep these steps in the book as",
                job.name[:MOST_TITLE],
                max_chars=MOST_TITLE,
                key=key("steps_name"),
            )
            there = find_steps(book, name)
            st.button(
                "Keep" if there is None else "Replace the one in the book",
                key=key("steps_book"),
                on_click=_keep,
                args=(book, name, job.details.changes),
            )
        st.download_button(
            "Save them as a file (TOML)",
            write_steps(job.name[:MOST_TITLE], job.details.changes).encode(),
            "steps.toml",
            "application/toml",
            on_click="ignore",
            key=key("steps_keep"),
        )


def _keep(book: Book, name: str, changes: tuple[StepChange, ...]) -> None:
    try:
        kept = keep_steps(book, name, changes, over=True)
    except ShadecoreError as error:
        st.session_state[_SAID] = str(error)
        return
    st.session_state[_SAID] = (
        f"The book keeps these steps as {kept.thing.name!r}; page Book, part Steps, "
        "renames or removes them."
    )


def _ask_file(job: JobRequest, key: Key) -> JobRequest:
    """Take a set from a file."""
    upload = st.file_uploader(
        "A set of steps from a file (TOML)", type=["toml"], key=key("steps_file")
    )
    if upload is None or st.session_state.get(_LAST_FILE) == upload.file_id:
        return job
    st.session_state[_LAST_FILE] = upload.file_id
    try:
        text = decode(upload.getvalue(), upload.name)
        _, changes = parse_steps(text, upload.name)
    except ShadecoreError as error:
        say.error(error)
        return job
    return replace(job, details=replace(job.details, changes=changes))
