"""The first page in a real browser: actions counted, one tap back to a job."""

import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from browser import ANSWER_MS, console_errors, opened
from playwright.sync_api import Locator, Page, expect

from shadecore.job.job_file import write_job
from shadecore.job.request import JobRequest

pytestmark = pytest.mark.browser

MOST_FOR_A_SHELF = 9
"""Clicks, fields and keys for an own shelf of three."""


@pytest.fixture
def page() -> Iterator[Page]:
    """As wide as a phone."""
    with opened(390, 844) as one:
        yield one


class Counted:
    """A page's user, who counts."""

    def __init__(self) -> None:
        self.actions = 0

    def click(self, what: Locator) -> None:
        """Click or tap."""
        self.actions += 1
        what.click()

    def type(self, box: Locator, text: str) -> None:
        """Fill a field, and press Enter."""
        self.actions += 2
        box.fill(text)
        box.press("Enter")


def test_an_own_shelf_takes_few_actions_and_is_used(address: str, page: Page) -> None:
    problems = console_errors(page)
    user = Counted()
    page.goto(address)
    box = page.get_by_role("textbox", name="Grey")
    expect(box).to_be_visible(timeout=ANSWER_MS)
    # Without a wait, while the page still mixes its example.
    for name in ("Snow 92", "Mid N 5.5", "Slate 35"):
        user.type(box, name)
    for name in ("Snow", "Mid", "Slate"):
        chip = page.get_by_role("button", name=name)
        expect(chip).to_be_visible(timeout=ANSWER_MS)
    expect(box).to_have_value("")
    # What cannot be used stands in the box again, with what is wrong.
    box.fill("Slate 20")
    box.press("Enter")
    expect(page.get_by_text("Two sealers are called")).to_be_visible(timeout=ANSWER_MS)
    expect(box).to_have_value("Slate 20")
    box.fill("")
    user.click(page.get_by_role("button", name="Use this shelf"))
    expect(box).to_be_hidden(timeout=ANSWER_MS)
    assert user.actions <= MOST_FOR_A_SHELF
    page.goto(f"{address}/pick")
    expect(page.get_by_text("Slate").first).to_be_visible(timeout=ANSWER_MS)
    assert problems == []


def test_last_weeks_job_is_one_action_away(
    address: str, page: Page, tmp_path: Path
) -> None:
    start = datetime(2026, 3, 2, 8)  # noqa: DTZ001 - the shop's own time
    job = tmp_path / "job.toml"
    job.write_text(write_job(JobRequest(start, name="Invented wing")))
    page.goto(f"{address}/book")
    page.get_by_role("radio", name="In and out").click(timeout=ANSWER_MS)
    page.locator("input[type=file]").set_input_files(job)
    page.get_by_role("button", name="Take it in").click(timeout=ANSWER_MS)
    expect(page.get_by_text("Last: imported")).to_be_visible(timeout=ANSWER_MS)

    page.goto(address)
    user = Counted()
    row = page.get_by_role("button", name=re.compile("^Invented wing"))
    expect(row).to_be_visible(timeout=ANSWER_MS)
    user.click(row)
    page.wait_for_url("**/plan?**job_id=**", timeout=ANSWER_MS)
    assert user.actions == 1
