"""The estimate for the customer: the shop's rates, and the page to print."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Document
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.screens import say, shop
from shadecore.screens.plan import job
from shadecore.screens.plan.fields import part

_RATES: Final = "estimate_rates"
_EXTRAS: Final = "estimate_extras"
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
            page = _page(plan, _ask_rates(plan))
        except ShadecoreError as error:
            say.error(error)
            return
        with st.container(horizontal=True, gap="small"):
            letterhead = shop.letterhead()
            page = letterhead.on(page)
            paper = letterhead.paper_for(plan.request.question.units)
            st.download_button(
                "Estimate (PDF)",
                lambda: document_pdf(page, paper),
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


def _ask_rates(plan: Plan) -> ShopRates:
    """The shop's rates, kept as they are changed; extras are those of this job."""
    currency, uid = plan.sheet.currency, plan.request.uid
    kept = _kept()
    of_job, extras = st.session_state.get(_EXTRAS, ("", 0.0))
    first, second, third, fourth = st.columns(4)
    asked = ShopRates(
        first.number_input(f"An hour of work ({currency})", 0.0, None, kept.hour),
        second.number_input("Added to the cans (%)", 0.0, None, kept.materials_percent),
        third.number_input(
            f"Extras ({currency})",
            0.0,
            None,
            extras if of_job == uid else kept.extras,
            help="Of this job, such as parts and waste. Page Book, part Settings, "
            "keeps what the next one begins with.",
        ),
        fourth.number_input("Tax (%)", 0.0, None, kept.tax_percent),
    )
    st.session_state[_EXTRAS] = (uid, asked.extras)
    rates = replace(asked, extras=kept.extras)
    if rates != kept:
        _keep(rates)
    return asked


def _kept() -> ShopRates:
    """What the book keeps; else what the session has, or invented to begin with."""
    own: ShopRates = st.session_state.get(_RATES, _USUAL)
    return shop.settings().rates or own


def _keep(rates: ShopRates) -> None:
    book = shop.book()
    if book is None or book.read_only:
        st.session_state[_RATES] = rates
    else:
        shop.change_settings(rates=rates)
