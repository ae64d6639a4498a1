"""The product sheet that the plan is made from, where somebody chose one."""

from functools import lru_cache
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.job_link import PRODUCTS, read_products_link
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import parse_sheet
from shadecore.screens import session
from shadecore.screens.plan.job import PRODUCTS as PLAN_TEXT

_REMEMBERED: Final = 8


def own_sheet() -> ProductSheet | None:
    """The product sheet in use.

    Returns
    -------
    ProductSheet or None
        None where nobody chose one, or it cannot be read; the plan's page says so.
    """
    if PLAN_TEXT in st.session_state:
        return _of_text(st.session_state[PLAN_TEXT])
    return _of_link(session.parameters().get(PRODUCTS))


@lru_cache(maxsize=_REMEMBERED)
def _of_text(text: str | None) -> ProductSheet | None:
    return None if text is None else parse_sheet(text, "Product sheet")


@lru_cache(maxsize=_REMEMBERED)
def _of_link(packed: str | None) -> ProductSheet | None:
    if packed is None:
        return None
    try:
        read = read_products_link({PRODUCTS: packed})
    except ShadecoreError:
        return None
    return None if read is None else read[0]
