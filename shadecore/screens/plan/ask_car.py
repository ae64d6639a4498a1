"""The part of the form that asks whose car it is: kept in the book, in no link."""

from dataclasses import fields, replace
from typing import Final

import streamlit as st

from shadecore.book.shop_records import BookJob
from shadecore.formats.echo import brief
from shadecore.screens import say, shop
from shadecore.screens.plan import job
from shadecore.screens.plan.fields import Key

_ASKED: Final = {
    "car": "Car",
    "plate": "Plate",
    "customer": "Customer",
    "code": "Paint code",
    "who": "Painter",
}


def ask_car(key: Key) -> None:
    """Ask for what only the book keeps.

    Parameters
    ----------
    key : callable
        Key of a widget by its name.
    """
    book = shop.book()
    if book is None or book.read_only:
        say.warning("The book cannot be written, so this cannot be kept.")
        return
    kept = job.synced()
    record = BookJob("Job", "") if kept is None else kept.thing
    with st.form(key("car_form"), border=False):
        row = st.columns(len(known_fields()))
        told = {}
        for column, name in zip(row, known_fields(), strict=True):
            with column:
                told[name] = st.text_input(
                    _ASKED[name], getattr(record, name), max_chars=100
                ).strip()
        note = st.text_area("Note", record.note, max_chars=2000)
        st.caption("This stays in the shop's book; links and files do not carry it.")
        if st.form_submit_button("Keep", type="primary"):
            job.change_record(lambda now: replace(now, **told, note=note.strip()))
            st.rerun()


def known_fields() -> tuple[str, ...]:
    """What of it the book has fields for.

    Returns
    -------
    tuple of str
    """
    there = {each.name for each in fields(BookJob)}
    return tuple(name for name in _ASKED if name in there)


def told_of_car() -> dict[str, str]:
    """What the book keeps of the car, by what it is called on the sheet.

    Returns
    -------
    dict of str to str
        Empty where the job is in no book.
    """
    kept = job.synced()
    if kept is None:
        return {}
    return {_ASKED[name]: getattr(kept.thing, name) for name in known_fields()}


def car_words() -> str:
    """Whose car it is, in brief.

    Returns
    -------
    str
        Empty where nobody said.
    """
    kept = job.synced()
    if kept is None:
        return ""
    told = (getattr(kept.thing, name) for name in known_fields())
    return ", ".join(brief(each) for each in told if each)
