"""What the book keeps, in a real browser at a phone's width: steps and photos."""

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import ANSWER_MS, console_errors, opened, served
from PIL import Image
from playwright.sync_api import Page, expect

from shadecore.book.asking import colour_of
from shadecore.book.book import open_book
from shadecore.book.records import BookPhoto
from shadecore.book.shop_records import BookSteps
from shadecore.job.own_steps import StepChange
from shadecore.question.question import Question

pytestmark = pytest.mark.browser

WIDTH = 390


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served() as url:
        yield url


@pytest.fixture
def page() -> Iterator[Page]:
    with opened(WIDTH, 844) as one:
        yield one


def _backup(folder: Path) -> Path:
    """A book with a colour, a photo of it and a set of steps."""
    picture = io.BytesIO()
    Image.new("RGB", (1200, 900), (200, 40, 40)).save(picture, "JPEG")
    with open_book(folder / "other.sqlite") as book:
        red = book.add(colour_of("Deep red", Question("45 60 35")))
        book.add_photo(BookPhoto(red.uid, "Wing"), picture.getvalue())
        book.add(BookSteps("Our way", (StepChange("wash", drop=True),)))
        book.backup(folder / "backup.sqlite")
    return folder / "backup.sqlite"


def _part(page: Page, name: str) -> None:
    page.get_by_role("radio", name=name, exact=True).click(timeout=ANSWER_MS)


def _no_wider_than_the_phone(page: Page) -> None:
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= WIDTH


def test_photos_and_steps_of_a_backup_are_shown_and_used(
    address: str, page: Page, tmp_path: Path
) -> None:
    problems = console_errors(page)
    page.goto(f"{address}/book")
    _part(page, "Backup")
    page.locator("input[type=file]").set_input_files(_backup(tmp_path))
    page.get_by_role("button", name="Put it back").click(timeout=ANSWER_MS)
    page.get_by_role("button", name="Yes, take its place").click(timeout=ANSWER_MS)
    expect(page.get_by_text("The backup is in its place")).to_be_visible(
        timeout=ANSWER_MS
    )

    _part(page, "Photos")
    photo = page.get_by_role("img", name="Photo of Deep red: Wing")
    expect(photo).to_be_visible(timeout=ANSWER_MS)
    assert photo.evaluate("each => each.naturalWidth") == 480
    _no_wider_than_the_phone(page)

    page.goto(address)
    row = page.get_by_role("button", name=re.compile("^Deep red"))
    row.click(timeout=ANSWER_MS)
    page.get_by_role("button", name="1 photo").click(timeout=ANSWER_MS)
    expect(photo).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("button", name="Remove").last.click(timeout=ANSWER_MS)
    expect(page.get_by_role("button", name="1 photo")).to_be_hidden(timeout=ANSWER_MS)

    page.goto(f"{address}/plan")
    page.get_by_text("Steps", exact=True).first.click(timeout=ANSWER_MS)
    page.get_by_role("button", name="Use it").click(timeout=ANSWER_MS)
    expect(page.get_by_text("left out: Wash with soap")).to_be_visible(
        timeout=ANSWER_MS
    )
    expect(page.get_by_role("button", name="As usual")).to_be_visible(timeout=ANSWER_MS)
    _no_wider_than_the_phone(page)
    assert problems == []
