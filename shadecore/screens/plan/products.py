"""The painter's own product sheet: uploaded or in the link; else the invented one."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.echo import brief
from shadecore.formats.table import decode
from shadecore.job.job_link import products_parameters, read_products_link
from shadecore.products.sheet_file import parse_sheet
from shadecore.screens import say, session
from shadecore.screens.plan.job import PRODUCTS
from shadecore.screens.plan.planning import products_of

_LEFT: Final = "products_left"
"""Upload of a product sheet that was laid aside."""


def begin_products() -> None:
    """Take the product sheet of the link at first; keep it in the link."""
    if PRODUCTS not in st.session_state:
        text = None
        try:
            found = read_products_link(session.parameters())
            text = None if found is None else found[1]
        except ShadecoreError as error:
            say.error(f"{error} The invented line is used meanwhile.")
        st.session_state[PRODUCTS] = text
    _link()


def ask_products() -> None:
    """Ask for a product sheet."""
    upload = st.file_uploader(
        "Product sheet (TOML); an invented line unless given",
        type=["toml"],
        key="product_file",
    )
    if upload is not None and upload.file_id != st.session_state.get(_LEFT):
        st.session_state[_LEFT] = upload.file_id
        try:
            text = decode(upload.getvalue(), upload.name)
            parse_sheet(text, upload.name)
            st.session_state[PRODUCTS] = text
            _link()
        except ShadecoreError as error:
            before = st.session_state[PRODUCTS]
            used = "The invented line" if before is None else "The sheet before it"
            say.error(f"{error} {used} is used meanwhile.")
    text = st.session_state[PRODUCTS]
    if text is not None:
        kept = (
            "This page's link holds it, so a reload keeps it."
            if any(products_parameters(text).values())
            else "It is too long for this page's link: after a reload, upload it again."
        )
        st.caption(f"Planned from your sheet. {kept}")
        st.button("Plan from the invented line again", on_click=_leave)


def products_words() -> str:
    """The product sheet in brief.

    Returns
    -------
    str
    """
    sheet = products_of(st.session_state.get(PRODUCTS))
    told = " (invented)" if sheet.invented and "invented" not in sheet.name else ""
    return f"{brief(sheet.name)}{told}"


def _link() -> None:
    session.keep(session.question(), products_parameters(st.session_state[PRODUCTS]))


def _leave() -> None:
    st.session_state[PRODUCTS] = None
    _link()
