"""Open on phone: the address, its QR code, the device code, and the shop's network."""

from typing import Final

import streamlit as st

from shadecore.screens import say
from shadecore.screens.qr import qr_html
from shadecore.serving.addresses import own_addresses
from shadecore.serving.state import Serving
from shadecore.serving.store import serving
from shadecore.telling import phone_words as words

_ON, _ADDRESS = "phone_on", "phone_address"
_HERE: Final = "phone_from_here"
_LOOK_S: Final = 1.0
STYLE: Final = """
<style>
.sc-code {font-size: 2.6rem; font-weight: 700; letter-spacing: .08em; line-height: 1.2;
  font-variant-numeric: tabular-nums;}
.sc-url {font-size: 1.3rem; font-weight: 600; overflow-wrap: anywhere;}
</style>
"""


def page() -> None:
    """Run the page from top to bottom."""
    st.html(STYLE)
    st.title("Open on phone", anchor=False)
    shared = serving()
    if not from_here():
        st.markdown(words.ON_DEVICE)
        return
    st.markdown(words.PHONE_INTRO)
    known = own_addresses()
    st.session_state.setdefault(_ON, shared.sharing.devices)
    st.toggle(words.PHONE_SWITCH, key=_ON, on_change=_switch)
    if len(known) > 1:
        st.selectbox(
            "Network", known, key=_ADDRESS, on_change=_switch, help=words.WHICH_NETWORK
        )
    if shared.sharing.devices:
        _show(shared)
    with st.expander(words.NOT_FOUND_TITLE):
        port = shared.door.port or int(st.get_option("server.port"))
        st.markdown(words.not_found_help(port))
    st.caption(words.PHONE_CAUTION)


def from_here() -> bool:
    """Whether this page is looked at on the computer that serves it.

    Returns
    -------
    bool
    """
    if _HERE not in st.session_state:
        st.session_state[_HERE] = st.context.ip_address is None
    return bool(st.session_state[_HERE])


def _switch() -> None:
    state = st.session_state
    serving().share(on=state[_ON], address=state.get(_ADDRESS, ""))


def _renew() -> None:
    serving().renew()


@st.fragment(run_every=_LOOK_S)
def _show(shared: Serving) -> None:
    """The address and the codes, as soon as the door is open."""
    door = shared.door
    if door.problem:
        say.error(door.problem)
        return
    if not door.url:
        st.markdown(words.OPENING)
        return
    picture, text = st.columns([1, 2])
    with picture:
        st.html(qr_html(door.url))
    with text:
        st.html(
            f'<p>{words.SCAN}</p><p class="sc-url">{door.url}</p>'
            f'<p>{words.ASK_TITLE}</p><p class="sc-code" data-code="device">'
            f"{words.grouped(shared.keys.code)}</p><p>{words.ONCE}</p>"
        )
        st.button(words.NEW_CODE, on_click=_renew, help=words.NEW_CODE_HELP)
