"""The page in a real browser: a Lab value goes in, the pick is read off the page."""

from collections.abc import Iterator

import pytest
from browser import ANSWER_MS, console_errors, opened, served
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served() as url:
        yield url


@pytest.fixture
def page() -> Iterator[Page]:
    """As wide as a phone."""
    with opened(390, 900) as one:
        yield one


def _type_colour(page: Page, text: str) -> None:
    box = page.get_by_role("textbox", name="Topcoat colour")
    box.fill(text)
    box.press("Enter")


def test_a_lab_value_gives_the_pick(address: str, page: Page) -> None:
    problems = console_errors(page)
    page.goto(f"{address}/pick")
    expect(page.get_by_text("to hide")).to_be_visible(timeout=ANSWER_MS)
    _type_colour(page, "26 0 0")
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    _type_colour(page, "lab 88 0 1")
    swatch = page.get_by_role("img", name="Spray it over: White N 9")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    assert problems == []


def test_the_link_reproduces_the_answer(address: str, page: Page) -> None:
    page.goto(f"{address}/pick?colour=26+0+0&tolerance=1")
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    # Typing writes the link; opening that link elsewhere gives the same page.
    _type_colour(page, "#f2f2f2")
    swatch = page.get_by_role("img", name="Spray it over: White N 9")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.wait_for_url("**colour=%23f2f2f2**")
    link = page.url
    page.goto("about:blank")
    page.goto(link)
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    assert "tolerance=1" in link


def test_a_wrong_colour_says_how_to_write_one(address: str, page: Page) -> None:
    page.goto(f"{address}/pick?colour=bluish")
    expect(page.get_by_text("'bluish' is not a colour")).to_be_visible(
        timeout=ANSWER_MS
    )
