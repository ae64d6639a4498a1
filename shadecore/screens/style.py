"""One look for all pages: what Streamlit's own theme leaves open."""

import streamlit as st

from shadecore.screens.chart_style import ink, page_colour

_PAGE = """
[data-testid="stMainBlockContainer"] {padding-top: 4.4rem; padding-bottom: 3rem;}
@media (max-width: 640px) {
  [data-testid="stMain"] h1 {font-size: 1.6rem; padding: 0 0 .4rem;}
  /* What a button opens would get the strip that is left below it, often too low to
     use: it comes up from the bar instead. */
  [data-testid="stPopoverBody"] {transform: none !important; top: auto !important;
    left: 0 !important; right: 0; bottom: var(--sc-bar-height, 0);
    width: auto !important; min-width: 0 !important; max-width: none !important;
    max-height: 70vh !important; border-top: 2px solid var(--sc-ink);}
}
/* A button that says more than a word is a card: its first line stands out. */
[class*="st-key-sc_card_"] button {justify-content: flex-start; padding: .8rem 1rem;
  height: 100%;}
[class*="st-key-sc_card_"] button > div {justify-content: flex-start; width: 100%;}
[class*="st-key-sc_card_"] button p {text-align: left; white-space: normal;
  line-height: 1.4;}
/* A thumb in a glove hits 44 px (WCAG 2.2, 2.5.5). */
[data-testid="stMain"] :where(button, input, [data-baseweb="select"] > div,
[data-baseweb="tag"], [data-testid="stRadioOption"], [data-testid="stCheckbox"] label),
[data-testid="stCheckbox"], [data-testid="stExpander"] summary,
[data-testid="stTopNavLink"], [data-testid="stSidebarNavLink"],
[data-testid="stExpandSidebarButton"] {min-height: 44px; align-items: center;}
[data-testid="stMain"] :where(button), [data-testid="stExpandSidebarButton"] {
  min-width: 44px;}
[data-testid="stPopoverBody"] :where(button, input) {min-height: 44px;}
[data-testid="stMain"] :where([data-testid="stNumberInputContainer"],
[data-testid="stTextInputRootElement"]) {height: 46px;}
[data-baseweb="tag"] [role="presentation"] {min-width: 44px; min-height: 44px;
  display: flex; align-items: center; justify-content: center;}
[data-testid="stSlider"] div:has(> div > input[type="range"]) {
  height: 28px; width: 28px;}
[data-testid="stSlider"] [role="group"] {padding-top: .6rem;}
[data-testid="stSlider"] {padding: 0 .8rem;}
[role="spinbutton"] {display: inline-block; min-width: 24px; min-height: 24px;}
/* A fragment's button lies in a box of its own, which would be as wide as the row. */
:is(.st-key-kept_bar, .st-key-pick_shelf) > [data-testid="stLayoutWrapper"],
:is(.st-key-kept_bar, .st-key-pick_shelf) > [data-testid="stLayoutWrapper"]
  > [data-testid="stVerticalBlock"] {flex: 0 0 auto; width: auto;}
/* A page's headings have no addresses of their own. */
[data-testid="stHeaderActionElements"] {display: none;}
/* Streamlit's cross that removes a file is too small for a thumb. */
[data-testid="stFileChip"] {min-height: 44px;}
[data-testid="stFileChipDeleteBtn"] button {min-width: 44px; min-height: 44px;}
/* Why a file was not taken is written for screen readers only. */
[data-testid="stFileChip"]:has(> [role="alert"]) {flex-wrap: wrap; height: auto;}
[data-testid="stFileChip"] > [role="alert"] {position: static; width: auto;
  height: auto; margin: 0; clip: auto; clip-path: none; overflow: visible;
  white-space: normal; flex: 1 0 100%; font-size: .875rem;}
/* The chart library's own menu leads nowhere that a painter needs. */
.vega-embed details,
[data-testid="stFullScreenFrame"]:has([data-testid="stVegaLiteChart"])
  [data-testid="stElementToolbar"],
[data-testid="stVegaLiteChart"] [data-testid="stElementToolbar"] {display: none;}
/* Whoever goes by keyboard sees where they are: by 3:1 (WCAG 2.2, 2.4.13). */
[data-testid="stApp"] :is(a, button, summary, [tabindex], [role="slider"],
[data-testid="stRadioOption"], [data-testid="stCheckbox"] label):focus-visible,
[data-testid="stApp"] :is([data-testid="stRadioOption"],
[data-testid="stCheckbox"] label, [data-testid="stTextInputRootElement"],
[data-testid="stTextAreaRootElement"], [data-testid="stNumberInputContainer"],
[data-testid="stSelectbox"] [role="group"]):has(:focus-visible) {
  outline: 3px solid var(--sc-ink) !important; outline-offset: 1px;}
/* Where the whole field is framed, what is typed into gets no frame of its own. */
[data-testid="stApp"] :is([data-testid="stTextInputRootElement"],
[data-testid="stTextAreaRootElement"], [data-testid="stNumberInputContainer"],
[data-testid="stSelectbox"] [role="group"]) :is(input, textarea):focus-visible {
  outline: none !important;}
[data-testid="stApp"] :is([data-testid="stTopNavLink"], [data-testid="stMain"],
.st-key-bottom_bar button, [data-testid="stButtonGroup"] button):focus-visible {
  outline-offset: -3px;}
[data-testid="stApp"] :is(.st-key-bottom_bar button,
[data-testid="stButtonGroup"] button[data-selected="true"],
button[kind^="primary"]):focus-visible {
  box-shadow: inset 0 0 0 5px var(--sc-page);}
/* Words stand out from the page by 4.5:1 at least, small ones too. */
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] p {
  color: inherit; opacity: 1;}
[data-testid="stSliderThumbValue"], [data-testid="stButtonGroup"] button p {
  color: var(--sc-ink);}
/* Of a row of choices the chosen one stands out most, in light and dark. */
[data-testid="stButtonGroup"] button[data-selected="true"] {
  background: var(--sc-ink) !important;
  border-color: var(--sc-ink) !important;}
[data-testid="stButtonGroup"] button[data-selected="true"] p {color: var(--sc-page);}
/* What must be seen first has the heaviest edge; no hue tells messages apart. */
[data-testid="stAlert"] > div {border-left: 2px solid currentColor;}
[data-testid="stAlert"]:has([data-testid="stAlertContentWarning"]) > div {
  border-left-width: 6px;}
[data-testid="stAlert"]:has([data-testid="stAlertContentError"]) > div {
  border: 3px solid currentColor; border-left-width: 12px; font-weight: 600;}
"""
_DRAWN = """
.sc-hero {display: flex; flex-wrap: wrap; gap: 1rem; align-items: stretch;}
.sc-hero figure {margin: 0; flex: 1 1 9rem; min-width: 8.5rem;}
.sc-hero figcaption {padding-top: .35rem; line-height: 1.35;}
.sc-patch {height: 8rem; border: 1px solid #8a8a8a;}
.sc-count {flex: 1 1 9rem; min-width: 8.5rem; line-height: 1.25;}
.sc-count b {font-size: 4.2rem; line-height: 1; display: block;}
.sc-photo {width: 100%; max-width: 480px; height: auto; display: block;
  border: 1px solid #8a8a8a;}
.sc-scroll {overflow-x: auto;}
.sc-table {border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums;}
.sc-table th {text-align: left; font-weight: 600;}
.sc-table td, .sc-table th {padding: .3rem .6rem .3rem 0; vertical-align: top;}
.sc-table tbody tr {border-top: 1px solid #8a8a8a;}
.sc-table .num {text-align: right;}
.sc-table .brief {white-space: nowrap;}
.sc-strip th, .sc-strip td {padding: .15rem .1rem; text-align: center; min-width: 3rem;}
.sc-strip th[scope=row] {text-align: left; min-width: 6.5rem; padding-right: .5rem;}
.sc-strip i {display: block; height: 2.6rem; border: 1px solid #8a8a8a;}
.sc-strip .hides i {border: 3px double currentColor;}
.sc-small {font-size: .875rem; line-height: 1.4;}
.sc-table small {display: block; font-weight: 400;}
.sc-table td b {font-weight: inherit;}
.sc-table .box {display: inline-block; width: 1em; height: 1em; line-height: 1em;
  border: 2px solid currentColor; text-align: center; font-weight: 700;}
/* On a phone each row of a table becomes a card, headings beside its cells. */
@media (max-width: 640px) {
  .sc-strip th, .sc-strip td {min-width: 1.6rem; font-size: .75rem;}
  .sc-strip th[scope=row] {min-width: 4.6rem;}
  .sc-strip i {height: 2rem;}
  .sc-cards thead {display: none;}
  .sc-cards table, .sc-cards tbody, .sc-cards tr, .sc-cards th, .sc-cards td {
    display: block; width: 100%;}
  .sc-cards tr {padding: .4rem 0;}
  .sc-cards td:empty, .sc-cards th:empty {display: none;}
  .sc-cards td, .sc-cards th {padding: .1rem 0; text-align: left !important;
    overflow-wrap: anywhere;}
  .sc-cards td::before {content: attr(data-label) ": "; font-weight: 600;}
  .sc-cards th, .sc-cards td[data-label="Step"] {display: inline; font-weight: 600;}
  .sc-cards td[data-label="Step"]::before {content: " ";}
}
"""


def show_style() -> None:
    """Put the common look on the page."""
    theme = f":root {{--sc-ink: {ink()}; --sc-page: {page_colour()};}}"
    st.html(f"<style>{theme}{_PAGE}{_DRAWN}</style>")
