"""One look for all pages: what Streamlit's own theme leaves open."""

import streamlit as st

from shadecore.screens.chart_style import ink, page_colour

_COMMON = """
[data-testid="stMainBlockContainer"] {padding-top: 3.6rem; padding-bottom: 3rem;}
/* A thumb in a glove hits 44 px (WCAG 2.2, 2.5.5). */
[data-testid="stButtonGroup"] button, [data-testid="stButton"] button,
[data-testid="stDownloadButton"] button, [data-testid="stFileUploader"] button,
[data-testid="stPopover"] button, [data-testid="stExpander"] summary,
[data-testid="stCheckbox"] label, [data-testid="stTabs"] button,
[data-testid="stTopNavLink"] {min-height: 44px; min-width: 44px;}
[data-testid="stCheckbox"] label, [data-testid="stTopNavLink"] {align-items: center;}
[data-testid="stTextInput"] input, [data-testid="stNumberInput"] input,
[data-testid="stNumberInput"] button {min-height: 44px;}
[data-testid="stSlider"] div:has(> div > input[type="range"]) {
  height: 28px; width: 28px;}
[role="spinbutton"] {display: inline-block; min-width: 24px; min-height: 24px;}
/* Words stand out from the page by 4.5:1 at least, small ones too. */
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] p {
  color: inherit; opacity: 1;}
[data-testid="stSliderThumbValue"], [data-testid="stButtonGroup"] button p {
  color: var(--sc-ink);}
/* What must be seen first has the heaviest edge; no hue tells messages apart. */
[data-testid="stAlert"] > div {border-left: 2px solid currentColor;}
[data-testid="stAlert"]:has([data-testid="stAlertContentWarning"]) > div {
  border-left-width: 6px;}
[data-testid="stAlert"]:has([data-testid="stAlertContentError"]) > div {
  border: 3px solid currentColor; border-left-width: 12px; font-weight: 600;}
"""


def show_style() -> None:
    """Put the common look on the page."""
    theme = f":root {{--sc-ink: {ink()}; --sc-page: {page_colour()};}}"
    st.html(f"<style>{theme}{_COMMON}</style>")
