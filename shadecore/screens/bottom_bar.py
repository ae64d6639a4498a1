"""The bar at a phone's lower edge: where a thumb reaches, in words."""

from typing import Final

import streamlit as st

from shadecore.screens import ways
from shadecore.screens.plan import views

_KEY: Final = "bottom_bar"
_PLACES: Final = (
    ("Pick", "pick", ""),
    ("Set up", "plan", views.SET_UP),
    ("Bench", "plan", views.BENCH),
    ("Sheet", "plan", views.SHEET),
)
_MORE: Final = (
    ("Start", "home"),
    ("Book", "book"),
    ("Photo", "photo"),
    ("Lesson", "lesson"),
    ("Guess", "guess"),
    ("Print", "handout"),
    ("Open on phone", "phone"),
)
_STYLE: Final = """
<style>
[data-testid="stLayoutWrapper"]:has(> .st-key-bottom_bar) {display: none;}
@media (max-width: 640px) {
  :root {--sc-bar-height: calc(56px + max(.25rem, env(safe-area-inset-bottom)));}
  [data-testid="stLayoutWrapper"]:has(> .st-key-bottom_bar) {display: block;
    position: fixed; left: 0; right: 0; bottom: 0; z-index: 999; width: 100vw;
    background: var(--sc-page); border-top: 2px solid var(--sc-ink);
    height: var(--sc-bar-height); box-sizing: border-box;
    padding: .25rem .25rem max(.25rem, env(safe-area-inset-bottom));}
  .st-key-bottom_bar {flex-wrap: nowrap; gap: .25rem; align-items: stretch;}
  .st-key-bottom_bar > div {flex: 1 1 0; min-width: 0; width: auto !important;}
  [data-testid="stMain"] .st-key-bottom_bar button {min-height: 50px; min-width: 0;
    width: 100%; padding: 0 .2rem;}
  [data-testid="stExpandSidebarButton"], [data-testid="stSidebar"] {display: none;}
  [data-testid="stMainBlockContainer"] {padding-top: 1rem; padding-bottom: 6rem;}
  [data-testid="stHeader"] {display: none;}
}
</style>
"""


def show_bottom_bar(here: str) -> None:
    """Show the bar; only a narrow screen draws it.

    Parameters
    ----------
    here : str
        Name of the page that is open.
    """
    st.html(_STYLE)
    view = views.chosen() if here == "plan" else ""
    with st.container(key=_KEY, horizontal=True, gap=None):
        for label, page, asked in _PLACES:
            at = (page, asked) == (here, view)
            clicked = st.button(
                label,
                key=f"{_KEY}_{label}",
                type="primary" if at else "tertiary",
                on_click=views.show if asked else None,
                args=(asked,) if asked else None,
            )
            if clicked and page != here:
                ways.go_to(page, {views.PARAMETER: asked} if asked else None)
        _show_more(here)


@st.fragment
def _show_more(here: str) -> None:
    """Offer the other pages; on each page anew, so that it is closed there.

    They are drawn once it is open: each page would have to wait for them otherwise.
    """
    among = here in [page for _, page in _MORE]
    with st.popover(
        "More",
        key=f"{_KEY}_more_{here}",
        type="primary" if among else "tertiary",
        on_change="rerun",
    ) as more:
        for label, page in _MORE if more.open else ():
            if st.button(
                label,
                key=f"{_KEY}_{page}",
                type="primary" if page == here else "secondary",
                width="stretch",
            ):
                ways.go_to(page)
