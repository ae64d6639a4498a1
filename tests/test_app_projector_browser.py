"""Lesson, exercise and class on a projector: all on the screen, read from afar."""

from collections.abc import Iterator

import pytest
from browser import ANSWER_MS, opened
from playwright.sync_api import Page, expect

from shadecore.serving.addresses import own_addresses

pytestmark = pytest.mark.browser

SMALLEST_PX = 24
SCREENS = ((1280, 900), (1920, 1080))
FITS = """() => {
  const main = document.querySelector('[data-testid="stMain"]');
  return main.scrollHeight <= main.clientHeight && main.scrollWidth <= main.clientWidth;
}"""
SMALL = """least => [...document.querySelectorAll('[data-testid="stMain"] *')]
  .filter(each => [...each.childNodes].some(
      child => child.nodeType === 3 && child.textContent.trim())
    && each.getBoundingClientRect().height > 1
    && parseFloat(getComputedStyle(each).fontSize) < least)
  .map(each => each.textContent.trim().slice(0, 40))"""


@pytest.fixture(params=SCREENS, ids=lambda size: f"{size[0]}x{size[1]}")
def page(request: pytest.FixtureRequest) -> Iterator[Page]:
    with opened(*request.param) as one:
        yield one


def _seen_from_afar(page: Page) -> None:
    expect(page.get_by_role("button", name="Leave full screen")).to_be_visible(
        timeout=ANSWER_MS
    )
    page.wait_for_function(FITS, timeout=ANSWER_MS)
    assert page.evaluate(SMALL, SMALLEST_PX) == []


def test_a_lesson_fits_with_its_conclusion(address: str, page: Page) -> None:
    for coats in (0, 3, 12):
        page.goto(f"{address}/lesson?large=True&coats={coats}")
        status = page.get_by_role("status")
        expect(status).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
        _seen_from_afar(page)


def test_an_exercise_fits_before_and_after_an_answer(address: str, page: Page) -> None:
    page.goto(f"{address}/guess?large=True")
    choices = page.locator('[class*="st-key-guess_choice_"] button')
    expect(choices.last).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
    _seen_from_afar(page)
    choices.first.click()
    costs = page.locator(".sc-costs")
    expect(costs).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
    _seen_from_afar(page)


def test_a_class_fits_and_survives_a_reload(address: str, page: Page) -> None:
    if not own_addresses():
        pytest.skip("This computer is on no network.")
    page.goto(f"{address}/guess?large=False")
    page.get_by_role("button", name="Let the class answer").click(timeout=ANSWER_MS)
    code = page.locator('[data-code="class"]')
    expect(code).to_be_visible(timeout=ANSWER_MS)
    told = code.inner_text()
    page.get_by_role("button", name="Full screen").click()
    _seen_from_afar(page)
    page.reload()
    expect(code).to_have_text(told, timeout=ANSWER_MS)
    _seen_from_afar(page)
    page.get_by_role("button", name="Show the results").click()
    tally = page.locator(".sc-tally")
    expect(tally).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
    _seen_from_afar(page)
    page.get_by_role("button", name="End the class").click()
    expect(code).to_be_hidden(timeout=ANSWER_MS)
