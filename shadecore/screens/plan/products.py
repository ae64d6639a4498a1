"""The painter's own product sheet: uploaded or in the link; else the invented one."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.job_link import products_parameters, read_products_link
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet, parse_sheet
from shadecore.screens import say, session

_PRODUCTS: Final = "products_text"
"""TOML of the product sheet of the painter's own; None for none."""
_LEFT: Final = "products_left"
"""Upload of a product sheet that was laid aside."""


def ask_products() -> ProductSheet:
    """Ask for a product sheet.

    Returns
    -------
    ProductSheet
        The painter's own; the invented one where there is none that can be used.
    """
    upload = st.file_uploader(
        "Product sheet (TOML); an invented line unless given",
        type=["toml"],
        key="product_file",
    )
    sheet, text = _own_products() or (demo_sheet(), None)
    if upload is not None and upload.file_id != st.session_state.get(_LEFT):
        try:
            text = decode(upload.getvalue(), upload.name)
            sheet = parse_sheet(text, upload.name)
        except ShadecoreError as error:
            _, text = _own_products() or (None, None)
            used = "The invented line" if text is None else "The sheet before it"
            say.error(f"{error} {used} is used meanwhile.")
    st.session_state[_PRODUCTS] = text
    session.keep(session.question(), products_parameters(text))
    if text is not None:
        kept = (
            "This page's link holds it, so a reload keeps it."
            if any(products_parameters(text).values())
            else "It is too long for this page's link: after a reload, upload it again."
        )
        st.caption(f"Planned from your sheet. {kept}")
        st.button(
            "Plan from the invented line again",
            on_click=_leave_products,
            args=(None if upload is None else upload.file_id,),
        )
    return sheet


def _own_products() -> tuple[ProductSheet, str] | None:
    """The painter's own sheet, of this session or of the link, and its TOML."""
    if _PRODUCTS in st.session_state:
        text = st.session_state[_PRODUCTS]
        return None if text is None else (parse_sheet(text, "Product sheet"), text)
    try:
        return read_products_link(session.parameters())
    except ShadecoreError as error:
        say.error(f"{error} The invented line is used meanwhile.")
        return None


def _leave_products(upload: str | None) -> None:
    st.session_state[_PRODUCTS] = None
    st.session_state[_LEFT] = upload
