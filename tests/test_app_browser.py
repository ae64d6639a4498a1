"""The page in a real browser: a Lab value goes in, the pick is read off the page."""

from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from browser import ANSWER_MS, console_errors, opened
from playwright.sync_api import Locator, Page, expect

from shadecore.undercoats.shelf_table import demo_shelf

pytestmark = pytest.mark.browser


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


@pytest.mark.parametrize(("width", "height"), [(1280, 900), (390, 844)])
def test_the_pick_fits_one_screen(address: str, width: int, height: int) -> None:
    """Colour, shelf, answer, strip, and what comes next, without scrolling."""
    with opened(width, height) as page:
        page.goto(f"{address}/pick?colour=45+60+35")
        last = page.get_by_role("button", name="Plan this job")
        expect(last).to_be_visible(timeout=ANSWER_MS)
        for part in (
            page.get_by_role("textbox", name="Topcoat colour"),
            page.get_by_role("button", name="Add a grey"),
            page.get_by_role("img", name="Spray it over: White N 9"),
            page.get_by_role("region", name="Film coat by coat"),
            page.get_by_role("radio", name="More", exact=True),
            last,
        ):
            expect(part).to_be_in_viewport(ratio=1)


ANGLES = "15: 109 0 -1; 25: 80 0 -1.2; 45: 35 0 -1.5; 75: 20 0 -2; 110: 13 0 -2"
NINE = "name,L\n" + "\n".join(
    f"Invented grey {each},{each}" for each in range(20, 92, 8)
)
LONG = {
    "hard": {"colour": "25 20 -50"},
    "yellow": {"colour": "#ffff00"},
    "metallic": {"kind": "metallic", "angles": ANGLES},
    "pearl": {"kind": "pearl", "angles": "15: 80 10 -40; 45: 45 8 -30; 110: 25 5 -25"},
    "nine greys": {"colour": "25 20 -50", "shelf": NINE},
    "own": {"colour": "45 60 35", "shelf": "name,L\nMy white,92\nMy mid,57"},
    "photo": {"colour": "45 60 35", "photo": "45 60 35; 4 0 0 9 0 9"},
    "hard photo": {"colour": "25 20 -50", "photo": "25 20 -50; 4 0 0 9 0 9"},
}
"""What makes the answer long: warnings, angles, names, and a doubt, by a link."""


@pytest.mark.parametrize(("width", "height"), [(1280, 900), (390, 844)])
def test_long_answers_fit_one_screen_too(address: str, width: int, height: int) -> None:
    """And what is kept in the book, once another colour is typed."""
    with opened(width, height) as page:
        last = page.get_by_role("button", name="Plan this job")
        ends = {}
        for name, asked in LONG.items():
            page.goto(f"{address}/pick?{urlencode(asked)}")
            _settled(page)
            ends[name] = _bottom(last)
        page.goto(f"{address}/pick")
        _settled(page)
        _type_colour(page, "25 20 -48")
        expect(page.get_by_text("Kept as")).to_be_visible(timeout=ANSWER_MS)
        _settled(page)
        ends["kept"] = _bottom(last)
        bar = page.get_by_role("button", name="More", exact=True)
        box = bar.last.bounding_box() if width < 640 else None
        lower = height if box is None else box["y"]
    assert {name: end for name, end in ends.items() if end > lower} == {}


def _settled(page: Page) -> None:
    expect(page.get_by_role("button", name="Plan this job")).to_be_visible(
        timeout=ANSWER_MS
    )
    expect(page.get_by_test_id("stApp")).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=ANSWER_MS
    )


def _bottom(part: Locator) -> float:
    box = part.bounding_box()
    assert box is not None
    return box["y"] + box["height"]


SHIFTS = """() => {
  window.shifted = 0;
  new PerformanceObserver(list => {
    for (const each of list.getEntries()) window.shifted += each.value;
  }).observe({type: "layout-shift"});
}"""
MOST_SHIFTED = 0.05
"""Of a screen's height times the share that moved; 0.1 is held for good (web.dev,
"Cumulative Layout Shift"), and a new answer may have a line more or less."""


@pytest.mark.parametrize(("width", "height"), [(1280, 900), (390, 844)])
def test_what_is_shown_keeps_its_place_while_an_answer_comes(
    address: str, width: int, height: int
) -> None:
    with opened(width, height) as page:
        page.goto(f"{address}/pick")
        _settled(page)
        page.wait_for_timeout(1500)
        page.evaluate(SHIFTS)
        _type_colour(page, f"45 61 {width % 50}")
        expect(page.get_by_text("Kept as")).to_be_visible(timeout=ANSWER_MS)
        _settled(page)
        page.get_by_role("combobox", name="Kind").click()
        page.get_by_role("option", name="metallic").click()
        expect(page.get_by_text("It hides last")).to_be_visible(timeout=ANSWER_MS)
        _settled(page)
        assert page.evaluate("window.shifted") < MOST_SHIFTED


def test_a_first_answer_takes_one_field_and_enter(address: str) -> None:
    """The box has the focus and its text is chosen, so that typing replaces it."""
    with opened() as page:
        page.goto(f"{address}/pick?colour=45+60+34")
        box = page.get_by_role("textbox", name="Topcoat colour")
        expect(box).to_be_focused(timeout=ANSWER_MS)
        page.keyboard.type("26 0 0")
        page.keyboard.press("Enter")
        swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
        expect(swatch).to_be_visible(timeout=ANSWER_MS)


def _adding_greys(page: Page) -> Locator:
    """The box for new greys, opened; what is typed goes into it."""
    page.get_by_role("button", name="Add a grey").click(timeout=ANSWER_MS)
    line = page.get_by_role("textbox", name="Name, and L* or N")
    expect(line).to_be_focused(timeout=ANSWER_MS)
    return line


def test_an_own_shelf_of_three_takes_seven_actions(address: str) -> None:
    """One click, then three lines without a pause; taking it back brings all back."""
    with opened() as page:
        page.goto(f"{address}/pick?colour=45+60+33")
        _adding_greys(page)
        shelf = page.get_by_test_id("stButtonGroup").first
        for words in ("My white 92", "My mid, N 6", "N 3"):
            page.keyboard.type(words)
            page.keyboard.press("Enter")
        expect(shelf.locator("button")).to_have_count(3, timeout=ANSWER_MS)
        swatch = page.get_by_role("img", name="Spray it over: My white")
        expect(swatch).to_be_visible(timeout=ANSWER_MS)
        page.keyboard.press("Escape")
        # Lines that came while the page was busy are one change.
        while (now := shelf.locator("button").count()) != len(demo_shelf()):
            # Undo takes back the change that it was drawn for, and no other.
            _settled(page)
            page.get_by_role("button", name="Undo", exact=True).click()
            expect(shelf.locator("button")).not_to_have_count(now, timeout=ANSWER_MS)


def test_a_refused_grey_waits_until_nobody_types(address: str) -> None:
    """The line that comes back is not joined to the one that is being typed."""
    with opened() as page:
        page.goto(f"{address}/pick?colour=45+60+31")
        line = _adding_greys(page)
        for words in ("Snow 92", "no grey", "Coal N 2"):
            page.keyboard.type(words, delay=40)
            page.keyboard.press("Enter")
        expect(line).to_have_value("no grey", timeout=ANSWER_MS)
        shelf = page.get_by_test_id("stButtonGroup").first.locator("button")
        expect(shelf).to_have_text(["Snow", "Coal"], timeout=ANSWER_MS)
        line.fill("No grey 55")
        line.press("Enter")
        expect(shelf).to_have_text(["Snow", "Coal", "No grey"], timeout=ANSWER_MS)
        expect(line).to_have_value("")


def test_one_click_leads_from_the_pick_to_its_plan(address: str) -> None:
    with opened() as page:
        page.goto(f"{address}/pick?colour=26+0+0")
        page.get_by_role("button", name="Plan this job").click(timeout=ANSWER_MS)
        heading = page.get_by_role("heading", name="Plan the job")
        expect(heading).to_be_visible(timeout=ANSWER_MS)
        page.wait_for_url("**colour=26**")
        assert "/plan?" in page.url


def test_a_setting_is_said_by_its_button_and_stays_open(
    address: str, page: Page
) -> None:
    page.goto(f"{address}/pick?colour=45+60+32")
    button = page.get_by_role("button", name="10 µm a coat")
    button.click(timeout=ANSWER_MS)
    field = page.get_by_role("spinbutton", name="Dry film of one coat (µm)")
    expect(field).to_have_value("10.00", timeout=ANSWER_MS)
    field.fill("14")
    field.press("Enter")
    expect(page.get_by_role("button", name="14 µm a coat")).to_be_visible(
        timeout=ANSWER_MS
    )
    expect(field).to_be_visible()
    page.wait_for_url("**film_um=14**")


def test_what_a_button_opens_is_whole_on_a_phone(address: str) -> None:
    """Also below a button that stands just above the bar."""
    with opened(390, 844) as phone:
        phone.goto(f"{address}/pick?colour=45+60+32")
        phone.get_by_role("button", name="no records").click(timeout=ANSWER_MS)
        last = phone.get_by_role("button", name="Add this record")
        expect(last).to_be_in_viewport(ratio=1, timeout=ANSWER_MS)
        bar = phone.get_by_role("button", name="More", exact=True).last.bounding_box()
        assert bar is not None
        assert _bottom(last) <= bar["y"]


def test_a_wrong_colour_says_how_to_write_one(address: str, page: Page) -> None:
    page.goto(f"{address}/pick?colour=bluish")
    expect(page.get_by_text("'bluish' is not a colour")).to_be_visible(
        timeout=ANSWER_MS
    )
