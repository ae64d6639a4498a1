"""The estimate for the customer: the shop's rates, and the page to print."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Document
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.screens import say
from shadecore.screens.plan import job
from shadecore.screens.plan.fields import part

_RATES: Final = "estimate_rates"
_USUAL: Final = ShopRates(60.0)
"""To begin with; invented."""
_MIN_PER_H: Final = 60.0


def show_estimate(plan: Plan) -> None:
    """Ask for the shop's rates and offer the page.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    with part("Estimate for the customer", "estimate") as is_open:
        if not is_open:
            return
        try:
            page = _page(plan, _ask_rates(plan.sheet.currency))
        except ShadecoreError as error:
            say.error(error)
            return
        with st.container(horizontal=True, gap="small"):
            units = plan.request.question.units
            st.download_button(
                "Estimate (PDF)",
                lambda: document_pdf(page, units),
                "estimate.pdf",
                "application/pdf",
                on_click="ignore",
            )
            st.download_button(
                "Estimate (HTML)",
                lambda: document_html(page).encode(),
                "estimate.html",
                "text/html",
                on_click="ignore",
            )


def _page(plan: Plan, rates: ShopRates) -> Document:
    kept = job.synced()
    minutes = None if kept is None else kept.thing.took_minutes
    return estimate_page(plan, rates, None if minutes is None else minutes / _MIN_PER_H)


def _ask_rates(currency: str) -> ShopRates:
    before: ShopRates = st.session_state.get(_RATES, _USUAL)
    first, second, third, fourth = st.columns(4)
    rates = ShopRates(
        first.number_input(f"An hour of work ({currency})", 0.0, None, before.hour),
        second.number_input(
            "Added to the cans (%)", 0.0, None, before.materials_percent
        ),
        third.number_input(f"Extras ({currency})", 0.0, None, before.extras),
        fourth.number_input("Tax (%)", 0.0, None, before.tax_percent),
    )
    st.session_state[_RATES] = rates
    return rates
