"""The plan's page in a real browser: what hangs by the booth is what was planned."""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from browser import ANSWER_MS, ROOT, console_errors, opened, served
from icalendar import Calendar
from playwright.sync_api import Error, Page, expect
from pypdf import PdfReader

from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan, plan_job
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.html_layout import document_html
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.from_state import plan_request

DEMO = ROOT / "data" / "demo-job.toml"

SETTLE_MS = 10_000

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served() as url:
        yield url


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


def _open_demo(page: Page, address: str, plan: Plan) -> None:
    page.goto(f"{address}/plan")
    expect(page.get_by_text("Cautions", exact=True)).to_be_visible(timeout=ANSWER_MS)
    page.locator("input[type=file]").first.set_input_files(DEMO)
    name = page.get_by_role("textbox", name="Job", exact=True)
    expect(name).to_have_value(plan.request.name, timeout=ANSWER_MS)
    expect(page.get_by_text("Fill and shape").first).to_be_visible(timeout=ANSWER_MS)


def test_the_downloads_are_those_of_the_opened_job(
    address: str, page: Page, plan: Plan, tmp_path: Path
) -> None:
    problems = console_errors(page)
    _open_demo(page, address, plan)

    sheet = _download(page, "Sheet (PDF)", tmp_path)
    assert sheet.suffix == ".pdf"
    assert len(PdfReader(sheet).pages) <= 2
    text = _text(sheet)
    for wanted in (
        plan.request.name,
        f"Seal with {plan.answer.recommended.undercoat.name}",
        *(caution for _, caution in plan.cautions),
    ):
        assert wanted in text, wanted

    events = Calendar.from_ical(
        _download(page, "Calendar", tmp_path).read_bytes()
    ).walk("VEVENT")
    assert [str(each["SUMMARY"]) for each in events] == [
        each.step.title for each in plan.timeline
    ]

    job = _download(page, "Job file", tmp_path)
    assert parse_job(job.read_text("utf-8"), job.name) == plan.request

    html = _download(page, "Sheet (HTML)", tmp_path)
    assert html.read_text("utf-8") == document_html(booth_sheet(plan))
    assert problems == []


def test_the_link_of_a_colour_is_planned(address: str, page: Page) -> None:
    page.goto(f"{address}/plan?colour=26+0+0")
    step = page.get_by_text("Seal with Near-black N 2.5").first
    expect(step).to_be_visible(timeout=ANSWER_MS)


def test_from_the_pick_to_its_plan(address: str, page: Page) -> None:
    page.goto(f"{address}/pick?colour=26+0+0")
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Plan").click()
    step = page.get_by_text("Seal with Near-black N 2.5").first
    expect(step).to_be_visible(timeout=ANSWER_MS)


def test_the_html_sheet_prints(page: Page, plan: Plan, tmp_path: Path) -> None:
    """Printed to PDF it says the same, on paper and without the network."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    source = tmp_path / "sheet.html"
    source.write_text(document_html(booth_sheet(plan)), "utf-8")
    page.goto(source.as_uri())
    assert page.title() == plan.request.name
    assert asked == [source.as_uri()]
    printed = tmp_path / "printed.pdf"
    page.pdf(path=printed, format="A4", print_background=True)
    text = _text(printed)
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
    step = page.get_by_text("Seal with Near-black N 2.5").first
    expect(step).to_be_visible(timeout=ANSWER_MS)
    name = page.get_by_role("textbox", name="Job", exact=True)
    name.fill("Not saved")
    name.press("Enter")
    page.get_by_role("button", name="Done now: Wash").click()
    done = page.get_by_role("button", name="Done now: Wipe with cleaner")
    expect(done).to_be_visible(timeout=ANSWER_MS)
    page.reload()
    expect(done).to_be_visible(timeout=ANSWER_MS)
    expect(step).to_be_visible(timeout=ANSWER_MS)
    expect(name).to_have_value("Not saved")


def test_a_reload_of_the_picks_page_keeps_the_job(address: str, page: Page) -> None:
    page.goto(f"{address}/plan?colour=26+0+0")
    name = page.get_by_role("textbox", name="Job", exact=True)
    expect(name).to_be_visible(timeout=ANSWER_MS)
    name.fill("Not saved")
    name.press("Enter")
    page.wait_for_url(re.compile("job="))
    expect(page.get_by_text("Cautions", exact=True)).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Pick").click()
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.wait_for_url(re.compile(r"/pick\?.*job="))
    page.reload()
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    page.get_by_role("link", name="Plan").click()
    expect(name).to_have_value("Not saved", timeout=ANSWER_MS)


def test_the_timer_counts_and_a_phone_shows_it_first(address: str) -> None:
    """The surfacer has three coats; figures of 72 px are read at arm's length.

    That size is common practice for signs (a 25 mm letter to 6 m), no source.
    """
    with opened(390, 844) as page:
        page.goto(f"{address}/plan")
        for step in ("Wash", "Wipe", "Sand", "Blow off"):
            page.get_by_role("button", name=f"Done now: {step}").click(
                timeout=ANSWER_MS
            )
        page.get_by_role("button", name="Coat sprayed: 1 of 3").click(timeout=ANSWER_MS)
        timer = page.get_by_role("timer")
        expect(timer).to_be_in_viewport(timeout=ANSWER_MS)
        figures = timer.locator("b")
        assert figures.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= 72
        shown = figures.inner_text()
        expect(figures).not_to_have_text(shown, timeout=5000)
        page.reload()
        expect(timer).to_contain_text("Coat 1 of 3 sprayed", timeout=ANSWER_MS)


def test_on_a_phone_nothing_scrolls_sideways_and_fingers_hit(address: str) -> None:
    """Targets of 44 px by WCAG 2.2, 2.5.5; a label of a field is none."""
    with opened(390, 5000) as page:
        page.goto(f"{address}/plan?units=us")
        expect(page.get_by_text("Cautions", exact=True)).to_be_visible(
            timeout=ANSWER_MS
        )
        wide = page.evaluate(
            "[document.documentElement, ...document.querySelectorAll('.sc-scroll')]"
            ".filter(each => each.scrollWidth > each.clientWidth).length"
        )
        assert wide == 0
        page.get_by_text("Shop hours and losses").click()
        expect(page.get_by_text("Left in cup and gun")).to_be_visible(timeout=ANSWER_MS)
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
            pick = replace(plan.request.pick, units=units)
            request = replace(plan.request, pick=pick, **fields)
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
