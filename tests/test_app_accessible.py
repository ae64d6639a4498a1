"""Each page by axe-core's rules for WCAG 2.2 AA, light and dark, in a real browser."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import ANSWER_MS, console_errors, opened
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

PAGES = {
    "": "Which sealer, and how many coats?",
    "pick": "Which sealer?",
    "photo": "Colour from a photo",
    "plan": "Plan the job",
    "book": "The shop's book",
    "lesson": "Why the sealer matters",
    "guess": "Guess the sealer",
    "handout": "Print it",
    "phone": "Open on phone",
}
"""Pages by their address, and their headings."""
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def settled(page: Page, heading: str) -> None:
    """Wait until a page stands: its heading is there and nothing is being drawn."""
    expect(page.get_by_role("heading", name=heading, exact=True)).to_be_visible(
        timeout=ANSWER_MS
    )
    app = page.get_by_test_id("stApp")
    expect(app).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=ANSWER_MS
    )
    # What was drawn anew fades in, and pale letters would be held against it.
    page.wait_for_function(
        "document.getAnimations().every(each => each.playState !== 'running')",
        timeout=ANSWER_MS,
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
            found += _serious(page, name)
        assert problems == []
    assert found == []


def _serious(page: Page, state: str) -> list[tuple[str, str, list[str]]]:
    """What axe-core holds against a page as it stands."""
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}})
    return [
        (state, each["id"], [node["html"] for node in each["nodes"]])
        for each in answer.response["violations"]
        if each["impact"] in {"serious", "critical"}
    ]


def _small(page: Page) -> list[str]:
    """Buttons and fields that a thumb in a glove misses: below 44 px (WCAG 2.5.5)."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('[data-testid="stMain"] button')]
        .filter(each => {const box = each.getBoundingClientRect();
            return box.height > 0 && (box.height < 43.9 || box.width < 43.9)})
        .map(each => each.innerText || each.ariaLabel || each.outerHTML.slice(0, 90))"""
    )
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_the_pick_has_no_serious_finding_in_any_state(
    address: str, scheme: str, width: int
) -> None:
    """With a chip, a setting, the reasons and each part of More opened."""
    found = []
    with opened(width, 900) as page:
        problems = console_errors(page)
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        page.goto(f"{address}/pick?colour=45+60+35")
        settled(page, PAGES["pick"])
        further = page.get_by_test_id("stButtonGroup")
        states = (
            ("chip", further.first.locator("button").first),
            ("why", page.get_by_role("radio", name="Why")),
            ("more", page.get_by_role("radio", name="More", exact=True)),
            *(
                (part, page.get_by_text(part, exact=True))
                for part in ("Cost", "Sand-throughs", "Ground coat", "Shelf as a table")
            ),
            ("film", page.get_by_role("button", name="10 µm a coat")),
        )
        for state, button in states:
            button.click()
            page.wait_for_timeout(500)
            settled(page, PAGES["pick"])
            found += _serious(page, state)
            assert (state, _small(page)) == (state, [])
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert problems == []
    assert found == []


STOPS = 40
"""Of a page at most, from its first to the end."""
FOCUS = """() => {
  let at = document.activeElement;
  while (at && at.shadowRoot && at.shadowRoot.activeElement)
    at = at.shadowRoot.activeElement;
  if (!at || at === document.body) return null;
  const box = at.getBoundingClientRect();
  const seen = box.right > 0 && box.left < innerWidth && at.checkVisibility(
    {checkOpacity: true, checkVisibilityCSS: true});
  let ringed = false;
  for (let each = at; each && each !== document.body; each = each.parentElement) {
    const style = getComputedStyle(each);
    ringed = ringed || (style.outlineStyle !== "none"
      && parseFloat(style.outlineWidth) >= 1);
  }
  const said = at.innerText || at.ariaLabel || at.outerHTML;
  return {said: said.slice(0, 60), seen, ringed};
}"""


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("name", ["", "pick", "plan?view=bench"])
def test_the_keyboard_shows_where_it_is(address: str, name: str, width: int) -> None:
    """Each stop of Tab can be seen and has a ring around it."""
    lost = []
    with opened(width, 844) as page:
        page.goto(f"{address}/{name}")
        settled(page, PAGES[name.partition("?")[0]])
        page.wait_for_timeout(1000)
        page.evaluate("document.activeElement.blur()")
        stops = 0
        while stops < STOPS:
            page.keyboard.press("Tab")
            page.wait_for_timeout(20)
            at = page.evaluate(FOCUS)
            if at is None:
                break
            stops += 1
            if not (at["seen"] and at["ringed"]):
                lost.append(at)
    assert stops > 5
    assert lost == []


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
            ("New colour", "Which sealer?"),
            ("From a photo", "Colour from a photo"),
            ("Teach", "Why the sealer matters"),
        ):
            page.goto(address)
            page.get_by_role("button", name=button).click(timeout=ANSWER_MS)
            settled(page, heading)


def test_an_old_link_of_a_pick_still_opens_it(address: str) -> None:
    with opened() as page:
        page.goto(f"{address}/?colour=26+0+0")
        swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
        expect(swatch).to_be_visible(timeout=ANSWER_MS)
