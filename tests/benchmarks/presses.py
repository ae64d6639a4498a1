# ruff: noqa: T201 - what is measured is printed
"""How long one press takes to what it changes in a real browser, beside a trivial app.

``python tests/benchmarks/presses.py`` prints median and 95th percentile of Done on the
bench until the next step is seen, and of a key on the lesson's slider until the panels
are. The trivial app has one button that counts presses, and one slider that is
repeated. Both are driven turn by turn in the same run, so that the ratio says what the
page adds. Done is taken back after each press, which is not counted.
"""

import sys
import time
from pathlib import Path
from typing import Final

from playwright.sync_api import Page
from screens import AIM, beside, told

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from browser import ANSWER_MS

ROUNDS: Final = 20
TRIVIAL: Final = """
import streamlit as st
def press():
    st.session_state["n"] = st.session_state.get("n", 0) + 1
st.button(f"Done: {st.session_state.get('n', 0)}", on_click=press)
coats = st.slider("Coats", 0, 6, 2)
st.html(f'<b role="img" aria-label="after {coats} coats">said</b>')
"""
_ANOTHER: Final = """label => [...document.querySelectorAll('button')].some(
    each => each.innerText.startsWith('Done:') && each.innerText !== label)"""
_PAINTED: Final = """coats => document.querySelector(
    '[role="img"][aria-label*="after ' + coats + ' coat"]') !== null"""


def pressed(page: Page) -> float:
    """Seconds from a press of Done to the next one seen."""
    done = page.get_by_role("button", name="Done:")
    label = done.inner_text(timeout=ANSWER_MS)
    start = time.perf_counter()
    done.click()
    page.wait_for_function(_ANOTHER, arg=label, timeout=ANSWER_MS)
    return time.perf_counter() - start


def slid(page: Page, coats: int) -> float:
    """Seconds from a key on the slider to what stands for that many coats."""
    slider = page.get_by_role("slider").first
    key = "ArrowRight" if coats > int(slider.input_value()) else "ArrowLeft"
    start = time.perf_counter()
    slider.press(key)
    page.wait_for_function(_PAINTED, arg=coats, timeout=ANSWER_MS)
    return time.perf_counter() - start


def main() -> None:
    """Time both apps in turn."""
    with beside(TRIVIAL) as (browser, own_url, trivial_url):
        own, lesson, trivial = (browser.new_page() for _ in range(3))
        own.goto(f"{own_url}/plan?view=bench")
        lesson.goto(f"{own_url}/lesson")
        trivial.goto(trivial_url)
        for page in (own, trivial):
            pressed(page)
        for page in (lesson, trivial):
            page.wait_for_function(_PAINTED, arg=2, timeout=ANSWER_MS)
        presses, slides = [], []
        for turn in range(ROUNDS):
            presses.append((pressed(own), pressed(trivial)))
            back = own.get_by_role("button", name="Take the last step back")
            label = own.get_by_role("button", name="Done:").inner_text()
            back.click()
            own.wait_for_function(_ANOTHER, arg=label, timeout=ANSWER_MS)
            coats = 2 + (turn + 1) % 2
            slides.append((slid(lesson, coats), slid(trivial, coats)))
    print(f"{'':24} {'own: median 95 %':18} {'trivial':18} ratio (aim {AIM:g})")
    told("next step seen", *([each[n] for each in presses] for n in (0, 1)))
    told("panels painted", *([each[n] for each in slides] for n in (0, 1)))


if __name__ == "__main__":
    main()
