"""The photo's page in a real browser: upload, mark by mouse and key, read the pick."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import ANSWER_MS, console_errors, opened
from photo_scenes import encoded, scene, stored
from playwright.sync_api import Locator, Page, expect

from shadecore.telling.photo_words import SURE_OF_ONE

pytestmark = pytest.mark.browser

RED = (45.0, 55.0, 30.0)


@pytest.fixture
def page() -> Iterator[Page]:
    with opened(1200, 1400) as one:
        yield one


@pytest.fixture(scope="module")
def swatch_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("photo") / "swatch.jpg"
    path.write_bytes(stored(encoded(scene(RED))[:300], "JPEG", quality=92))
    return path


def _colour(page: Page) -> Locator:
    return page.get_by_text(re.compile(r"± [\d.]+ \(95 %\)$"))


def _upload(page: Page, swatch_file: Path) -> None:
    """Upload a photo and say that the card lies where it was guessed."""
    page.locator("input[type=file]").set_input_files(swatch_file)
    sure = page.get_by_role("button", name=SURE_OF_ONE)
    expect(sure).to_be_visible(timeout=ANSWER_MS)
    expect(_colour(page)).to_be_hidden()
    sure.click()


def _lightness(page: Page) -> float:
    found = re.search(r"L\* ([\d.]+) ±", _colour(page).inner_text())
    assert found
    return float(found[1])


def _drag(page: Page, mark: Locator, across: float, down: float) -> None:
    box = mark.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across / 2, y + down / 2)
    page.mouse.move(x + across, y + down)
    page.mouse.up()


def test_two_areas_are_marked_and_the_pick_is_read(
    address: str, page: Page, swatch_file: Path
) -> None:
    problems = console_errors(page)
    page.goto(f"{address}/photo")
    _upload(page, swatch_file)
    expect(_colour(page)).to_be_visible(timeout=ANSWER_MS)
    assert abs(_lightness(page) - RED[0]) < 4.0

    # The swatch's mark is pulled onto the bench, whose L* is 40.
    swatch = page.get_by_role("application", name=re.compile("^Swatch"))
    picture = page.get_by_role("img", name=re.compile("^Photo swatch.jpg"))
    frame = picture.bounding_box()
    assert frame is not None
    before = _colour(page).inner_text()
    _drag(page, swatch, 0.55 * frame["width"], 0.0)
    expect(_colour(page)).not_to_have_text(before, timeout=ANSWER_MS)
    assert abs(_lightness(page) - 40.0) < 3.0

    # And back, by keys: the mark is moved to the left until it lies on the swatch.
    swatch.focus()
    for _ in range(110):
        page.keyboard.press("ArrowLeft")
    expect(_colour(page)).to_contain_text(re.compile(r"a\* 5\d"), timeout=ANSWER_MS)
    expect(page.get_by_role("img", name=re.compile("^Spray it over"))).to_be_visible(
        timeout=ANSWER_MS
    )
    page.get_by_role("button", name="Take this colour to the pick").click()
    expect(page.get_by_role("heading", name="Which sealer?")).to_be_visible(
        timeout=ANSWER_MS
    )
    page.wait_for_url("**photo=**")
    expect(page.get_by_text("95 %, read off a photo")).to_be_visible(timeout=ANSWER_MS)

    # Back on the photo's page, picture and marks are as they were left.
    page.get_by_role("link", name="Photo").click()
    expect(_colour(page)).to_contain_text(re.compile(r"a\* 5\d"), timeout=ANSWER_MS)
    page.get_by_role("button", name="Remove the photos").click()
    expect(page.get_by_text("Lay a grey card")).to_be_visible(timeout=ANSWER_MS)
    assert problems == []


def test_marks_stay_when_another_thing_is_marked(
    address: str, page: Page, swatch_file: Path
) -> None:
    page.goto(f"{address}/photo")
    _upload(page, swatch_file)
    expect(_colour(page)).to_be_visible(timeout=ANSWER_MS)
    swatch = page.get_by_role("application", name=re.compile("^Swatch"))
    before = _colour(page).inner_text()
    picture = page.get_by_role("img", name=re.compile("^Photo swatch.jpg"))
    frame = picture.bounding_box()
    assert frame is not None
    _drag(page, swatch, 0.55 * frame["width"], 0.0)
    expect(_colour(page)).not_to_have_text(before, timeout=ANSWER_MS)
    moved = _colour(page).inner_text()
    page.get_by_text("A second one lies on the other side").click()
    second = page.get_by_role("application", name=re.compile("^Second grey card"))
    expect(second).to_be_visible(timeout=ANSWER_MS)
    page.get_by_text("A second one lies on the other side").click()
    expect(second).to_be_hidden(timeout=ANSWER_MS)
    expect(_colour(page)).to_have_text(moved, timeout=ANSWER_MS)


def test_a_finger_marks_on_a_phone(address: str, swatch_file: Path) -> None:
    """A tap puts the chosen mark where the finger is, and nothing scrolls sideways."""
    with opened(390, 1400, touch=True) as page:
        page.goto(f"{address}/photo")
        _upload(page, swatch_file)
        expect(_colour(page)).to_be_visible(timeout=ANSWER_MS)
        button = page.get_by_role("button", name="Swatch", exact=True)
        size = button.bounding_box()
        assert size is not None
        assert size["height"] >= 44
        button.tap()
        picture = page.get_by_role("img", name=re.compile("^Photo swatch.jpg"))
        frame = picture.bounding_box()
        assert frame is not None
        before = _colour(page).inner_text()
        page.touchscreen.tap(
            frame["x"] + 0.8 * frame["width"], frame["y"] + 0.5 * frame["height"]
        )
        expect(_colour(page)).not_to_have_text(before, timeout=ANSWER_MS)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_a_phone_reads_why_a_file_was_not_taken_and_begins_the_pick_at_its_top(
    address: str, swatch_file: Path, tmp_path: Path
) -> None:
    note = tmp_path / "note.txt"
    note.write_text("no picture")
    with opened(390, 844, touch=True) as page:
        page.goto(f"{address}/photo")
        page.locator("input[type=file]").set_input_files(note)
        refused = page.get_by_role("alert").filter(has_text="not allowed")
        expect(refused).to_be_in_viewport(ratio=1, timeout=ANSWER_MS)
        size = refused.bounding_box()
        assert size is not None
        assert size["width"] > 100
        _upload(page, swatch_file)
        page.get_by_role("button", name="Take this colour to the pick").click(
            timeout=ANSWER_MS
        )
        expect(page.get_by_role("button", name="Plan this job")).to_be_in_viewport(
            ratio=1, timeout=ANSWER_MS
        )
        assert page.get_by_test_id("stMain").evaluate("each => each.scrollTop") == 0
