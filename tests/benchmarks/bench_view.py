# ruff: noqa: T201 - what is measured is printed
"""How long Done takes to the next step in a real browser, beside a trivial app.

``python tests/benchmarks/bench_view.py`` prints median and 95th percentile of a press
of Done until the next step is seen. The trivial app has one button and counts presses.
Both are driven turn by turn in the same run, so that the ratio says what the page adds.
Done is taken back after each press, which is not counted.
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
"""
_ANOTHER: Final = """label => [...document.querySelectorAll('button')].some(
    each => each.innerText.startsWith('Done:') && each.innerText !== label)"""


def pressed(page: Page) -> float:
    """Seconds from a press of Done to the next one seen."""
    done = page.get_by_role("button", name="Done:")
    label = done.inner_text(timeout=ANSWER_MS)
    start = time.perf_counter()
    done.click()
    page.wait_for_function(_ANOTHER, arg=label, timeout=ANSWER_MS)
    return time.perf_counter() - start


def main() -> None:
    """Time both apps in turn."""
    with beside(TRIVIAL) as (browser, own_url, trivial_url):
        own, trivial = browser.new_page(), browser.new_page()
        own.goto(f"{own_url}/plan?view=bench")
        trivial.goto(trivial_url)
        for page in (own, trivial):
            pressed(page)
        times = []
        for _ in range(ROUNDS):
            times.append((pressed(own), pressed(trivial)))
            back = own.get_by_role("button", name="Take the last step back")
            label = own.get_by_role("button", name="Done:").inner_text()
            back.click()
            own.wait_for_function(_ANOTHER, arg=label, timeout=ANSWER_MS)
    print(f"{'':24} {'bench: median 95 %':18} {'trivial':18} ratio (aim {AIM:g})")
    told("next step seen", *([each[n] for each in times] for n in (0, 1)))


if __name__ == "__main__":
    main()
