"""The trainer's pages in a real browser: the class sees what the engine says."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import ANSWER_MS, console_errors, opened
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import contrast_card
from shadecore.lesson.guess import POINTS, draw_exercise
from shadecore.lesson.panels import lesson
from shadecore.pages.handout import handout
from shadecore.pages.html_layout import document_html
from shadecore.undercoats.shelf_table import demo_shelf

PALETTE = b"code,L,a,b\nTile red,48,62,40\nSea blue,34,0,-34\nbroken,x,0,0\n"
SMALLEST_TARGET = 44
"""Height of a target for a thumb, CSS pixels; WCAG 2.2 success criterion 2.5.5."""

pytestmark = pytest.mark.browser


@pytest.fixture
def page() -> Iterator[Page]:
    with opened() as one:
        yield one


@pytest.fixture
def phone() -> Iterator[Page]:
    with opened(390, 844) as one:
        yield one


def _background(page: Page, name: str) -> list[int]:
    shown = page.locator(f'[data-panel="{name}"]').evaluate(
        "each => getComputedStyle(each).backgroundColor"
    )
    return [int(level) for level in re.findall(r"\d+", shown)]


def _levels(code: str) -> list[int]:
    return [int(code[i : i + 2], 16) for i in (1, 3, 5)]


def test_the_slider_paints_the_panels(address: str, page: Page) -> None:
    """By keys alone; displayed within 1/255 of the engine's sRGB."""
    problems = console_errors(page)
    page.goto(f"{address}/lesson")
    found = lesson(examples()[0].topcoat)
    slider = page.get_by_role("slider", name="Coats on the panels")
    expect(slider).to_have_value("2", timeout=ANSWER_MS)
    for coats in (3, 4):
        slider.press("ArrowRight")
        label = f"{found.panels[0].undercoat.name} after {coats} coats"
        expect(page.get_by_role("img", name=re.compile(label))).to_be_visible(
            timeout=ANSWER_MS
        )
        for panel in found.panels:
            wanted = _levels(panel.film[coats].hex)
            shown = _background(page, panel.undercoat.name)
            assert shown == pytest.approx(wanted, abs=1)
    assert _background(page, "full") == _levels(found.full.hex)
    hidden = sum(each.hides(4) for each in found.panels)
    expect(page.get_by_text("✓ hides", exact=True)).to_have_count(hidden)
    page.wait_for_url("**coats=4**")
    assert problems == []


def test_a_phone_needs_no_sideways_scrolling(address: str, phone: Page) -> None:
    for name in ("lesson", "lesson?large=True", "guess", "handout"):
        phone.goto(f"{address}/{name}")
        button = phone.get_by_test_id("stMain").get_by_role("button").first
        expect(button).to_be_visible(timeout=ANSWER_MS)
        widths = phone.get_by_test_id("stMain").evaluate(
            "each => [each.scrollWidth, each.clientWidth]"
        )
        assert widths[0] <= widths[1]


def test_targets_are_large_enough_for_a_thumb(address: str, phone: Page) -> None:
    phone.goto(f"{address}/lesson")
    expect(phone.locator('[data-panel="full"]')).to_be_visible(timeout=ANSWER_MS)
    for label in ("One coat less", "One coat more", "Yellow"):
        box = phone.get_by_role("button", name=label).or_(
            phone.get_by_role("radio", name=label)
        )
        size = box.first.bounding_box()
        assert size is not None
        assert min(size["height"], size["width"]) >= SMALLEST_TARGET


def test_the_exercise_scores(address: str, page: Page) -> None:
    problems = console_errors(page)
    exercise = draw_exercise(2)
    first, second = exercise.questions[:2]
    page.goto(f"{address}/guess?seed=2")
    names = [each.name for each in exercise.undercoats]
    best, worst = min(first.best), second.coats.index(max(second.coats))
    page.get_by_role("button", name=names[best]).click(timeout=ANSWER_MS)
    score = page.locator("[data-score]")
    expect(score).to_contain_text(f"{POINTS} of {POINTS} points", timeout=ANSWER_MS)
    page.get_by_role("button", name="Next colour").click()
    page.get_by_role("button", name=names[worst]).click(timeout=ANSWER_MS)
    points = POINTS + second.points(worst)
    expect(score).to_contain_text(f"{points} of {2 * POINTS} points", timeout=ANSWER_MS)
    page.wait_for_url(f"**answers={best}-{worst}**")
    assert problems == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_html_handout_prints_on_one_page(
    page: Page, tmp_path: Path, paper: str
) -> None:
    """With the yellow, which takes the most words."""
    found = lesson(examples()[2].topcoat)
    card = contrast_card(found.answer)
    source, printed = tmp_path / "handout.html", tmp_path / "printed.pdf"
    source.write_text(document_html(handout(found, card)), "utf-8")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(source.as_uri())
    assert asked == [source.as_uri()]
    page.pdf(path=printed, format=paper, print_background=True)
    pages = PdfReader(printed).pages
    assert len(pages) == 1
    text = " ".join(pages[0].extract_text().split())
    for panel in found.panels:
        assert panel.undercoat.name in text
    assert "data sheet" in text


def test_a_wall_chart_of_an_uploaded_palette(
    address: str, page: Page, tmp_path: Path
) -> None:
    problems = console_errors(page)
    page.goto(f"{address}/handout")
    upload = page.locator("input[type=file]")
    upload.set_input_files(
        {"name": "palette.csv", "mimeType": "text/csv", "buffer": PALETTE},
        timeout=ANSWER_MS,
    )
    expect(page.get_by_text("Left out: line 4")).to_be_visible(timeout=ANSWER_MS)
    with page.expect_download(timeout=ANSWER_MS) as waiting:
        page.get_by_role("button", name="Wall chart (PDF)").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    text = " ".join(PdfReader(path).pages[0].extract_text().split())
    for wanted in ("Tile red", "Sea blue", "BEST", *(u.name for u in demo_shelf())):
        assert wanted in text
    assert "broken" not in text
    assert problems == []


def test_from_the_pick_to_the_lesson(address: str, page: Page) -> None:
    page.goto(f"{address}/?colour=34+0+-34")
    expect(page.get_by_text("to hide")).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Lesson").click()
    page.get_by_text("From the pick").click(timeout=ANSWER_MS)
    box = page.get_by_role("textbox", name="Or any colour")
    expect(box).to_have_value("34 0 -34", timeout=ANSWER_MS)
