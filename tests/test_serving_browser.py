"""Phones in a real browser; and a served app that never looks outside."""

import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from app_server import noting, started, strangers
from browser import ANSWER_MS, opened, served
from playwright.sync_api import Browser, Page, expect

from shadecore.lesson.guess import draw_exercise
from shadecore.serving.addresses import own_addresses

pytestmark = pytest.mark.browser


def _asked(url: str, origin: str, kind: str) -> int:
    headers = {"Origin": origin}
    if kind == "websocket":
        headers |= {
            "Connection": "Upgrade",
            "Upgrade": "websocket",
            "Sec-WebSocket-Version": "13",
            "Sec-WebSocket-Key": "AAAAAAAAAAAAAAAAAAAAAA==",
        }
    path = "/_stcore/stream" if kind == "websocket" else "/_stcore/health"
    request = urllib.request.Request(f"{url}{path}", headers=headers)  # noqa: S310
    try:
        return int(urllib.request.urlopen(request).status)  # noqa: S310
    except urllib.error.HTTPError as error:
        return error.code


def test_a_foreign_page_makes_the_server_look_up_nothing(tmp_path: Path) -> None:
    with started(more=noting(tmp_path)) as server:
        for kind in ("http", "websocket"):
            for origin in ("http://evil.example", "null", "http://10.1.2.3"):
                assert _asked(server.url, origin, kind) == 403
    assert strangers(tmp_path) == []


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    if not own_addresses():
        pytest.skip("This computer is on no network.")
    with served() as url:
        yield url


def _phone(page: Page) -> Page:
    browser = page.context.browser
    assert isinstance(browser, Browser)
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True
    )
    return context.new_page()


def test_a_phone_comes_in_by_the_device_code_once(address: str) -> None:
    with opened() as page:
        page.goto(f"{address}/phone")
        page.get_by_text("Let phones on this network in").click(timeout=ANSWER_MS)
        code = page.locator('[data-code="device"]')
        expect(code).to_be_visible(timeout=ANSWER_MS)
        lan = page.locator(".sc-url").inner_text()
        phone = _phone(page)
        phone.goto(f"{lan}/pick?colour=26+0+0")
        phone.get_by_label("Device code").fill(code.inner_text())
        phone.get_by_role("button").click()
        expect(phone.get_by_test_id("stApp")).to_be_visible(timeout=ANSWER_MS)
        assert phone.url == f"{lan}/pick?colour=26+0+0"
        phone.goto(f"{lan}/phone")
        expect(phone.get_by_text("This device is in")).to_be_visible(timeout=ANSWER_MS)
        page.get_by_text("Let phones on this network in").click()


def test_two_phones_join_a_class_and_see_its_results(address: str) -> None:
    best = min(draw_exercise(1).questions[0].best)
    with opened() as page:
        page.goto(f"{address}/guess")
        start = page.get_by_role("button", name="Let the class answer")
        start.click(timeout=ANSWER_MS)
        expect(page.locator(".sc-url")).to_be_visible(timeout=ANSWER_MS)
        where = page.locator(".sc-url").inner_text()
        code = page.locator('[data-code="class"]').inner_text()
        phones = [_phone(page), _phone(page)]
        for place, phone in enumerate(phones):
            if place:
                phone.goto(f"{where}#{code.replace(' ', '')}")
            else:
                phone.goto(where)
                phone.get_by_label("Class code").fill(code)
                phone.get_by_role("button", name="Join").click()
            buttons = phone.locator("#choices button")
            expect(buttons).to_have_count(5, timeout=ANSWER_MS)
            box = buttons.first.bounding_box()
            assert box is not None
            assert box["height"] >= 44
            buttons.nth(best).click()
            expect(phone.get_by_text("your choice")).to_be_visible()
            assert buttons.first.bounding_box() == box
        expect(page.locator("[data-answers]")).to_have_text(
            "2 of 2 phones answered", timeout=ANSWER_MS
        )
        # The class's code opens the exercise and nothing of the shop.
        answer = phones[0].request.get(where.replace("/class", "/pick"))
        assert answer.status == 403
        page.get_by_role("button", name="Show the results").click()
        for phone in phones:
            expect(phone.get_by_text("Right: no coat too many")).to_be_visible(
                timeout=ANSWER_MS
            )
        page.get_by_role("button", name="End the class").click()
        expect(start).to_be_visible(timeout=ANSWER_MS)


def test_a_wrong_code_a_late_phone_and_the_end_are_told(address: str) -> None:
    with opened() as page:
        page.goto(f"{address}/guess")
        start = page.get_by_role("button", name="Let the class answer")
        start.click(timeout=ANSWER_MS)
        expect(page.locator(".sc-url")).to_be_visible(timeout=ANSWER_MS)
        where = page.locator(".sc-url").inner_text()
        code = page.locator('[data-code="class"]').inner_text().replace(" ", "")
        late = _phone(page)
        late.goto(where)
        late.get_by_label("Class code").fill("0")
        late.get_by_role("button", name="Join").click()
        expect(late.get_by_text("That is not the code; type")).to_be_visible()
        # The class goes on while the teacher's page is loaded again.
        page.reload()
        page.get_by_role("button", name="Show the results").click(timeout=ANSWER_MS)
        late.get_by_label("Class code").fill(code)
        late.get_by_role("button", name="Join").click()
        expect(late.get_by_text("No answer from this phone.")).to_be_visible(
            timeout=ANSWER_MS
        )
        page.get_by_role("button", name="End the class").click()
        expect(late.get_by_text("The class has ended")).to_be_visible(timeout=ANSWER_MS)
        expect(start).to_be_visible(timeout=ANSWER_MS)
