"""Each page by axe-core's rules for WCAG 2.2 AA, light and dark, in a real browser."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import ANSWER_MS, console_errors, opened, served
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

PAGES = {
    "": "Which undercoat, and how many coats?",
    "pick": "Which undercoat?",
    "photo": "Colour from a photo",
    "plan": "Plan the job",
    "book": "The shop's book",
    "lesson": "Why the undercoat matters",
    "guess": "Guess the undercoat",
    "handout": "Print it",
}
"""Pages by their address, and their headings."""
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served() as url:
        yield url


def settled(page: Page, heading: str) -> None:
    """Wait until a page stands: its heading is there and nothing is being drawn."""
    expect(page.get_by_role("heading", name=heading, exact=True)).to_be_visible(
        timeout=ANSWER_MS
    )
    app = page.get_by_test_id("stApp")
    expect(app).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=ANSWER_MS
    )


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pages_have_no_serious_finding(address: str, scheme: str) -> None:
    found = []
    with opened(1280, 1600) as page:
        problems = console_errors(page)
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for name, heading in PAGES.items():
            page.goto(f"{address}/{name}")
            settled(page, heading)
            answer = Axe().run(
                page, options={"runOnly": {"type": "tag", "values": RULES}}
            )
            found += [
                (name, each["id"], [node["html"] for node in each["nodes"]])
                for each in answer.response["violations"]
                if each["impact"] in {"serious", "critical"}
            ]
        assert problems == []
    assert found == []


@pytest.mark.parametrize("name", PAGES)
def test_nothing_scrolls_sideways_on_a_phone(address: str, name: str) -> None:
    with opened(390, 844) as page:
        page.goto(f"{address}/{name}")
        settled(page, PAGES[name])
        assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_nothing_is_loaded_from_outside(address: str) -> None:
    asked: list[str] = []
    with opened() as page:
        page.on("request", lambda request: asked.append(request.url))
        for name, heading in PAGES.items():
            page.goto(f"{address}/{name}")
            settled(page, heading)
    strangers = [
        url
        for url in asked
        if not url.startswith(
            (address, address.replace("http", "ws"), "data:", "blob:")
        )
    ]
    assert strangers == []


def test_the_first_page_leads_to_the_three_starts(address: str) -> None:
    with opened() as page:
        for button, heading in (
            ("Pick the undercoat", "Which undercoat?"),
            ("Measure the photo", "Colour from a photo"),
            ("Open the lesson", "Why the undercoat matters"),
        ):
            page.goto(address)
            page.get_by_role("button", name=button).click(timeout=ANSWER_MS)
            settled(page, heading)


def test_an_old_link_of_a_pick_still_opens_it(address: str) -> None:
    with opened() as page:
        page.goto(f"{address}/?colour=26+0+0")
        swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
        expect(swatch).to_be_visible(timeout=ANSWER_MS)
