# ruff: noqa: T201 - what is measured is printed
"""How long a click on the pick takes in a real browser, beside a trivial app.

``python tests/benchmarks/screens.py`` prints median and 95th percentile of a colour
typed until its answer is seen and until the page stands still, and of the page opened
by a browser that has seen nothing yet. The trivial app has one box and one line that
repeats it. Both are served and driven in the same way, turn by turn in the same run, so
the ratio says what the page adds whatever else the machine does.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, NamedTuple

from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from browser import ANSWER_MS, CHROMIUM, FLAGS, served

ROUNDS: Final = 20
COLD_ROUNDS: Final = 8
AIM: Final = 2.0
"""Times the trivial app's median that a page may take."""
TRIVIAL: Final = """
import streamlit as st
st.title("Trivial")
st.html(f'<b aria-label="{st.text_input("Topcoat colour", "45 60 35")}">said</b>')
"""
_STILL: Final = """() => document.querySelector(
    '[data-testid="stApp"][data-test-script-state="notRunning"]') !== null
    && document.querySelector('[data-stale="true"]') === null"""
_SEEN: Final = """label => document.querySelector(
    '[aria-label^="' + label + '"]') !== null"""


class App(NamedTuple):
    """An app to be timed: where it is, and what stands on it once it has answered."""

    address: str
    label: Callable[[tuple[int, int, int]], str]


def typed(app: App, page: Page, colour: tuple[int, int, int]) -> tuple[float, float]:
    """Seconds from Enter to the answer seen, and to the page standing still."""
    box = page.get_by_role("textbox", name="Topcoat colour")
    box.fill(" ".join(map(str, colour)))
    start = time.perf_counter()
    box.press("Enter")
    page.wait_for_function(_SEEN, arg=app.label(colour), timeout=ANSWER_MS)
    seen = time.perf_counter() - start
    page.wait_for_function(_STILL, timeout=ANSWER_MS)
    return seen, time.perf_counter() - start


def opened_cold(app: App, browser: Browser) -> float:
    """Seconds until a browser without a cache shows the answer of the page."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    start = time.perf_counter()
    page.goto(app.address)
    page.wait_for_function(_SEEN, arg=app.label((45, 60, 35)), timeout=ANSWER_MS)
    took = time.perf_counter() - start
    context.close()
    return took


def told(name: str, own: list[float], trivial: list[float]) -> None:
    """Print both apps' times and what their medians are to each other."""
    columns = []
    for times in (own, trivial):
        ends = statistics.quantiles(times, n=20)
        columns.append(f"{statistics.median(times):6.3f} s {ends[-1]:6.3f} s")
    ratio = statistics.median(own) / statistics.median(trivial)
    print(f"{name:24} {columns[0]:18} {columns[1]:18} {ratio:5.2f}")


@contextmanager
def beside(trivial: str) -> Iterator[tuple[Browser, str, str]]:
    """A browser, and the addresses of the app and of a trivial script, both served."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        script = Path(folder) / "trivial.py"
        script.write_text(trivial, "utf-8")
        with served() as own_url, served(str(script)) as trivial_url:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            yield browser, own_url, trivial_url
            browser.close()


def main() -> None:
    """Time both apps in turn."""
    with beside(TRIVIAL) as (browser, own_url, trivial_url):
        pick = App(
            f"{own_url}/pick",
            lambda lab: "Topcoat: L* {}.0, a* {}.0, b* {}.0".format(*lab),
        )
        trivial = App(trivial_url, lambda lab: " ".join(map(str, lab)))
        # The first visit of all loads the code on the server.
        for app in (pick, trivial):
            opened_cold(app, browser)
        cold = [
            [opened_cold(app, browser) for app in (pick, trivial)]
            for _ in range(COLD_ROUNDS)
        ]
        pages = [browser.new_page(), browser.new_page()]
        for page, app in zip(pages, (pick, trivial), strict=True):
            page.goto(app.address)
            page.wait_for_function(_STILL, timeout=ANSWER_MS)
        clicks = []
        for number in range(ROUNDS):
            colour = (30 + number, 10 + 2 * number, 5 + number)
            clicks.append(
                [
                    typed(app, page, colour)
                    for page, app in zip(pages, (pick, trivial), strict=True)
                ]
            )
    print(f"{'':24} {'pick: median 95 %':18} {'trivial':18} ratio (aim {AIM:g})")
    told("answer seen", *([each[n][0] for each in clicks] for n in (0, 1)))
    told("page stands still", *([each[n][1] for each in clicks] for n in (0, 1)))
    told("opened cold", *([each[n] for each in cold] for n in (0, 1)))


if __name__ == "__main__":
    main()
