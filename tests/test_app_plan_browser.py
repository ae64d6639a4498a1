"""The plan's page in a real browser: what hangs by the booth is what was planned."""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from browser import ANSWER_MS, ROOT, console_errors, opened
from icalendar import Calendar
from playwright.sync_api import Error, Page, expect
from pypdf import PdfReader

from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan, plan_job
from shadecore.job.planned import planned as plan_request
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.html_layout import document_html
from shadecore.products.sheet_file import demo_sheet

DEMO = ROOT / "data" / "demo-job.toml"

SETTLE_MS = 10_000
STEPS = 17
"""Of the longest job: past its longest names, its mixes and its first coats."""

pytestmark = pytest.mark.browser


@pytest.fixture
def page() -> Iterator[Page]:
    with opened() as page:
        yield page


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_request(parse_job(DEMO.read_text("utf-8"), DEMO.name), demo_sheet())


def _download(page: Page, label: str, folder: Path) -> Path:
    with page.expect_download(timeout=ANSWER_MS) as waiting:
        page.get_by_role("button", name=label, exact=True).click()
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    return path


def _text(path: Path) -> str:
    return " ".join(
        " ".join(each.extract_text().split()) for each in PdfReader(path).pages
    )


def _turn(page: Page, view: str) -> None:
    page.get_by_role("radio", name=view, exact=True).click(timeout=ANSWER_MS)


def _part(page: Page, label: str) -> None:
    page.locator("summary", has_text=label).click(timeout=ANSWER_MS)


def _open_demo(page: Page, address: str, plan: Plan) -> None:
    page.goto(f"{address}/plan")
    _part(page, "Job file and units")
    page.locator("input[type=file]").first.set_input_files(DEMO, timeout=ANSWER_MS)
    name = page.get_by_role("textbox", name="Job", exact=True)
    expect(name).to_have_value(plan.request.name, timeout=ANSWER_MS)


def test_the_downloads_are_those_of_the_opened_job(
    address: str, page: Page, plan: Plan, tmp_path: Path
) -> None:
    problems = console_errors(page)
    _open_demo(page, address, plan)
    _turn(page, "Sheet")
    expect(page.get_by_text("Fill and shape").first).to_be_visible(timeout=ANSWER_MS)

    sheet = _download(page, "Sheet (PDF)", tmp_path)
    assert sheet.suffix == ".pdf"
    assert len(PdfReader(sheet).pages) <= 2
    text = _text(sheet)
    for wanted in (
        plan.request.name,
        f"Seal with {plan.answer.recommended.undercoat.name}",
    ):
        assert wanted in text, wanted
    cautions = _text(_download(page, "Cautions (PDF)", tmp_path))
    assert [each for _, each in plan.cautions if each not in cautions] == []

    events = Calendar.from_ical(
        _download(page, "Calendar", tmp_path).read_bytes()
    ).walk("VEVENT")
    assert [str(each["SUMMARY"]) for each in events] == [
        each.step.title for each in plan.timeline
    ]

    job = _download(page, "Job file", tmp_path)
    read = parse_job(job.read_text("utf-8"), job.name)
    # The book gave it a name that tells it from others.
    assert replace(read, uid=plan.request.uid) == plan.request

    html = _download(page, "Sheet (HTML)", tmp_path)
    assert html.read_text("utf-8") == document_html(booth_sheet(plan))
    assert problems == []


def test_a_sheet_is_printed_in_two_actions(
    address: str, page: Page, tmp_path: Path
) -> None:
    """From the plan of a pick: turn to the sheet, press the first button."""
    page.goto(f"{address}/plan?colour=26+0+0&view=setup")
    _turn(page, "Sheet")
    # A print asked for while the page is still being drawn is broken off by it.
    expect(page.get_by_test_id("stApp")).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=ANSWER_MS
    )
    expect(page.get_by_text("Near-black N 2.5").first).to_be_visible(timeout=ANSWER_MS)
    text = _text(_download(page, "Sheet (PDF)", tmp_path))
    assert "Seal with Near-black N 2.5" in text


def test_from_the_pick_to_its_plan(address: str, page: Page) -> None:
    page.goto(f"{address}/pick?colour=26+0+0")
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Plan").click()
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    expect(page.get_by_role("radio", name="Set up")).to_be_visible(timeout=ANSWER_MS)


def test_the_html_sheet_prints(page: Page, plan: Plan, tmp_path: Path) -> None:
    """Printed to PDF it says the same, on paper and without the network."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    text = ""
    for name, document in (
        ("sheet", booth_sheet(plan)),
        ("cautions", cautions_sheet(plan)),
    ):
        source = tmp_path / f"{name}.html"
        source.write_text(document_html(document), "utf-8")
        page.goto(source.as_uri())
        assert plan.request.name in page.title()
        assert asked.pop() == source.as_uri()
        assert not asked
        printed = tmp_path / f"{name}.pdf"
        page.pdf(path=printed, format="A4", print_background=True)
        text += _text(printed)
    best = plan.answer.recommended.undercoat
    for wanted in (
        plan.request.name,
        best.name,
        f"L* {best.lightness:.1f}, N ",
        *(each.step.title for each in plan.timeline),
        *(each.product.name for each in plan.materials),
        *(caution for _, caution in plan.cautions),
        "rule of thumb",
        "data sheet",
    ):
        assert wanted in text, wanted


def test_a_reload_keeps_the_job(address: str, page: Page) -> None:
    page.goto(f"{address}/plan?colour=26+0+0")
    name = page.get_by_role("textbox", name="Job", exact=True)
    name.fill("Not saved", timeout=ANSWER_MS)
    name.press("Enter")
    _turn(page, "At the bench")
    page.get_by_role("button", name="Done: Wash").click(timeout=ANSWER_MS)
    done = page.get_by_role("button", name="Done: Wipe with cleaner")
    expect(done).to_be_visible(timeout=ANSWER_MS)
    page.wait_for_url(re.compile("job_id="))
    page.reload()
    expect(done).to_be_visible(timeout=ANSWER_MS)
    _turn(page, "Set up")
    expect(name).to_have_value("Not saved", timeout=ANSWER_MS)


def test_a_reload_of_the_picks_page_keeps_the_job(address: str, page: Page) -> None:
    page.goto(f"{address}/plan?colour=26+0+0")
    name = page.get_by_role("textbox", name="Job", exact=True)
    name.fill("Not saved either", timeout=ANSWER_MS)
    name.press("Enter")
    page.wait_for_url(re.compile("job_id="))
    page.get_by_role("link", name="Pick").click()
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.wait_for_url(re.compile(r"/pick\?.*job="))
    page.reload()
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Plan").click()
    expect(name).to_have_value("Not saved either", timeout=ANSWER_MS)


def test_done_is_large_and_on_the_first_screen_of_a_phone(address: str) -> None:
    """72 px high, as the timer's figures: read and hit at arm's length in a glove.

    That size is common practice for signs (a 25 mm letter to 6 m), no source.
    """
    with opened(390, 844) as page:
        page.goto(f"{address}/plan?view=bench")
        for step in ("Wash", "Wipe", "Sand", "Mask", "Blow off", "coat 1 of 3"):
            done = page.get_by_role("button", name=f"Done: {step}")
            expect(done).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
            box = done.bounding_box()
            assert box is not None
            assert box["height"] >= 72
            done.click()
        figures = page.get_by_role("timer").locator("b")
        expect(figures).to_have_text(re.compile(r"^2:\d\d$"), timeout=ANSWER_MS)
        assert figures.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= 72
        bar = page.get_by_role("button", name="Bench", exact=True).bounding_box()
        assert bar is not None
        assert bar["height"] >= 44
        assert bar["y"] + bar["height"] <= 844


def _buttons_below(page: Page, height: int) -> list[str]:
    """Buttons of the bench that a thumb in a glove misses; the views' aside."""
    found: list[str] = page.evaluate(
        """height => [...document.querySelectorAll('[data-testid="stMain"] button')]
        .filter(each => !each.closest('.st-key-plan_view, .st-key-bottom_bar'))
        .map(each => [each.innerText, each.getBoundingClientRect().height])
        .filter(([_, tall]) => tall > 0 && tall < height).map(String)""",
        height,
    )
    return found


def test_done_keeps_its_place_through_a_job(address: str) -> None:
    """With long names, broken windows, a mix, and the question whether it covers."""
    with opened(390, 844) as page:
        page.goto(f"{address}/plan?view=setup")
        _part(page, "Job file and units")
        page.locator("input[type=file]").first.set_input_files(
            ROOT / "data" / "job-red-car.toml", timeout=ANSWER_MS
        )
        name = page.get_by_role("textbox", name="Job", exact=True).last
        expect(name).to_have_value(re.compile("grey to red"), timeout=ANSWER_MS)
        _turn(page, "At the bench")
        done = page.get_by_role("button", name="Done:")
        bar = page.get_by_role("button", name="Bench", exact=True)
        places = set()
        for _ in range(STEPS):
            expect(done).to_be_visible(timeout=ANSWER_MS)
            box, below = done.bounding_box(), bar.bounding_box()
            assert box is not None
            assert below is not None
            assert box["height"] >= 72
            assert box["y"] + box["height"] <= below["y"]
            places.add(round(box["y"] + box["height"]))
            heading = page.get_by_role("heading", level=3).first
            for part in (heading, page.get_by_role("timer")):
                expect(part).to_be_in_viewport(ratio=1.0, timeout=ANSWER_MS)
                shown = part.bounding_box()
                assert shown is not None
                assert shown["y"] + shown["height"] <= box["y"]
            assert _buttons_below(page, 72) == []
            before = page.locator("[data-testid=stMain]").inner_text()
            done.click()
            page.wait_for_function(
                "before => document.querySelector('[data-testid=stMain]').innerText "
                "!== before",
                arg=before,
            )
            expect(page.get_by_test_id("stApp")).to_have_attribute(
                "data-test-script-state", "notRunning", timeout=ANSWER_MS
            )
        assert len(places) == 1


def test_the_timer_is_right_after_a_sleep(address: str) -> None:
    """A phone's clock runs on while its screen is dark and no page is drawn."""
    with opened(390, 844) as page:
        page.clock.install()
        page.goto(f"{address}/plan?view=bench")
        for step in ("Wash", "Wipe", "Sand", "Mask", "Blow off", "coat 1 of 3"):
            page.get_by_role("button", name=f"Done: {step}").click(timeout=ANSWER_MS)
        timer = page.get_by_role("timer")
        expect(timer).to_contain_text("until coat 2", timeout=ANSWER_MS)
        page.clock.fast_forward("02:00")
        expect(timer.locator("b")).to_have_text(re.compile(r"^0:\d\d$"), timeout=5000)
        page.clock.fast_forward("05:00")
        expect(timer.locator("b")).to_have_text("Coat 2", timeout=5000)
        expect(timer).to_contain_text("may be sprayed since 4:")


def test_two_phones_see_each_other_within_two_seconds(address: str) -> None:
    """And a little for the way; the second phone is not touched."""
    with opened(390, 844) as page:
        page.goto(f"{address}/plan?view=bench&colour=30+10+10")
        page.get_by_role("button", name="Done: Wash").click(timeout=ANSWER_MS)
        page.wait_for_url(re.compile("job_id="))
        wipe = page.get_by_role("button", name="Done: Wipe with cleaner")
        expect(wipe).to_be_visible(timeout=ANSWER_MS)
        other = page.context.new_page()
        other.goto(page.url)
        theirs = other.get_by_role("button", name="Done: Wipe with cleaner")
        expect(theirs).to_be_visible(timeout=ANSWER_MS)
        wipe.click()
        sand = other.get_by_role("button", name="Done: Sand for surfacer")
        expect(sand).to_be_visible(timeout=SETTLE_MS)


def test_on_a_phone_nothing_scrolls_sideways_and_fingers_hit(address: str) -> None:
    """Targets of 44 px by WCAG 2.2, 2.5.5; a label of a field is none."""
    with opened(390, 5000) as page:
        for view, there in (
            ("setup", "Job file and units"),
            ("bench", "Then"),
            ("sheet", "Cautions sheet"),
        ):
            page.goto(f"{address}/plan?units=us&view={view}")
            expect(page.get_by_text(there, exact=True).first).to_be_visible(
                timeout=ANSWER_MS
            )
            if view == "setup":
                _part(page, "Shop hours")
                expect(page.get_by_text("Opens")).to_be_visible(timeout=ANSWER_MS)
            if view == "sheet":
                _part(page, "Cautions sheet")
                cautions = page.get_by_text("Cautions", exact=True).first
                expect(cautions).to_be_visible(timeout=ANSWER_MS)
            wide = page.evaluate(
                "[document.documentElement, "
                "...document.querySelectorAll('.sc-scroll')]"
                ".filter(each => each.scrollWidth > each.clientWidth).length"
            )
            assert wide == 0
            small = (
                "[...document.querySelectorAll('[data-testid=stMain] :is(button, "
                "input:not([type=file]), [data-testid=stRadioOption], "
                "[data-testid=stCheckbox] label)')].filter(each => "
                "{const box = each.getBoundingClientRect();"
                " return box.width > 1 && box.height > 1 && box.height < 44;})"
                ".map(each => each.outerHTML.slice(0, 99))"
            )
            # Buttons grow to their height in the first moments of a page.
            with suppress(Error):
                page.wait_for_function(f"() => {small}.length === 0", timeout=SETTLE_MS)
            assert page.evaluate(small) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_html_sheet_prints_on_two_pages(
    page: Page, plan: Plan, paper: str, tmp_path: Path
) -> None:
    """The plain job and the longest ones, in good weather and under a stop."""
    cold = {"air_c": 5.0, "panel_c": 4.0, "humidity": 0.95}
    longest = {"bare_metal": True, "filler": True, "flattest": True, "cure": "air"}
    for fields in ({}, cold, longest, {**longest, "panel_c": 14.0}, longest | cold):
        for units in ("metric", "us"):
            question = replace(plan.request.question, units=units)
            request = replace(plan.request, question=question, **fields)
            page.set_content(
                document_html(booth_sheet(plan_job(request, demo_sheet(), plan.answer)))
            )
            printed = tmp_path / "printed.pdf"
            page.pdf(path=printed, format=paper, print_background=True)
            assert len(PdfReader(printed).pages) <= 2


def test_the_html_sheet_fits_its_paper(page: Page, plan: Plan) -> None:
    """Nothing is cut off at the right on A4 less its margins, 703 CSS pixels."""
    page.set_viewport_size({"width": 703, "height": 900})
    page.set_content(document_html(booth_sheet(plan)))
    page.emulate_media(media="print")
    widths = "[document.documentElement.scrollWidth, window.innerWidth]"
    scrolled, shown = page.evaluate(widths)
    assert scrolled <= shown


def test_swatches_of_the_html_sheet_show_their_colour(page: Page, plan: Plan) -> None:
    page.set_content(document_html(booth_sheet(plan)))
    for label in ("Topcoat", "Sealer"):
        swatch = page.get_by_role("img", name=label)
        box = swatch.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) > 50
    colours = [
        page.get_by_role("img", name=label).evaluate(
            "each => getComputedStyle(each).backgroundColor"
        )
        for label in ("Topcoat", "Sealer")
    ]
    assert len(set(colours)) == 2
    # The sealer is a near-white grey: its three numbers are alike and high.
    grey = [int(each) for each in colours[1].removeprefix("rgb(")[:-1].split(",")]
    assert min(grey) > 200
    assert max(grey) - min(grey) < 12
