"""Greys as chips: a swatch with its name, a tap takes it away."""

from collections.abc import Callable
from typing import Final

import streamlit as st

from shadecore.colour.display import hex_from_lab
from shadecore.screens import say
from shadecore.telling.names import grey_words
from shadecore.undercoats.shelf import Shelf

_STYLE: Final = """
[class*="st-key-sc_chip_"] button {min-height: 44px; padding: 2px 10px 2px 6px;}
[class*="st-key-sc_chip_"] button::before {content: ""; width: 28px; height: 28px;
  margin-right: 8px; border: 1px solid #8a8a8a; background: var(--sc-swatch);}
"""


def show_greys(greys: Shelf, drop: Callable[[str], None]) -> None:
    """Show greys as chips; a tap on one takes it away.

    Parameters
    ----------
    greys : tuple of Undercoat
        The greys; nothing is shown where there are none.
    drop : callable
        Called with a grey's name.
    """
    if not greys:
        return
    colours = hex_from_lab([each.lab for each in greys])
    rules = "".join(
        f".st-key-sc_chip_{place} button {{--sc-swatch: {colour};}}"
        for place, colour in enumerate(colours)
    )
    st.html(f"<style>{_STYLE}{rules}</style>")
    with st.container(horizontal=True, gap="small"):
        for place, each in enumerate(greys):
            value = say.plain(grey_words(each.lightness))
            st.button(
                f"{say.plain(each.name)} :small[{value}]",
                key=f"sc_chip_{place}",
                icon=":material/close:",
                icon_position="right",
                help="Take it off the shelf",
                on_click=drop,
                args=(each.name,),
            )
