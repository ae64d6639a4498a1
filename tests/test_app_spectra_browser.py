"""A shelf known by spectra keeps them in a browser: pages, reload, link, file."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from urllib.parse import parse_qsl, urlencode, urlsplit

import numpy as np
import pytest
from browser import ANSWER_MS, opened
from playwright.sync_api import Page, expect

from shadecore.question.answer import answer
from shadecore.question.link import from_link, to_link
from shadecore.question.question import Mixing, Question
from shadecore.undercoats.shelf import undercoat_from_reflectance
from shadecore.undercoats.shelf_table import parse_shelf

pytestmark = pytest.mark.browser

_STEPS = np.arange(31)
# Waves, which no smooth spectrum of the same Lab has.
_WAVES = 0.06 * np.sin(_STEPS * 1.3)
SHELF = tuple(
    undercoat_from_reflectance(name, [round(float(each), 4) for each in spectrum])
    for name, spectrum in (
        ("Yellow", 0.08 + 0.62 / (1 + np.exp(11 - _STEPS)) + _WAVES),
        ("Rose", 0.45 + 0.008 * _STEPS - _WAVES),
        ("Slate", 0.2 + _WAVES / 2),
    )
)
ASKED = Question(colour="72 30 80", shelf=SHELF, mixing=Mixing(allowed=False))


@pytest.fixture
def page() -> Iterator[Page]:
    """One page for the whole way."""
    with opened() as one:
        yield one


def _asked(page: Page) -> Question:
    """The question that the address holds."""
    read = from_link(dict(parse_qsl(urlsplit(page.url).query)))
    assert read.problems == ()
    return read.question


def test_spectra_survive_pages_reloads_links_and_files(
    address: str, page: Page, tmp_path: Path
) -> None:
    found = answer(ASKED).recommended
    picked = page.get_by_role("img", name=f"Spray it over: {found.undercoat.name}")
    page.goto(f"{address}/pick?{urlencode(to_link(ASKED))}")
    expect(picked).to_be_visible(timeout=ANSWER_MS)
    page.reload()
    expect(picked).to_be_visible(timeout=ANSWER_MS)
    assert _asked(page).shelf == SHELF

    page.get_by_role("radio", name="More", exact=True).click(timeout=ANSWER_MS)
    page.get_by_text("Shelf as a table").click(timeout=ANSWER_MS)
    with page.expect_download(timeout=ANSWER_MS) as download:
        page.get_by_role("button", name="Save the shelf as CSV").click()
    file = tmp_path / "shelf.csv"
    download.value.save_as(file)
    assert parse_shelf(file.read_text("utf-8"), "shelf.csv") == (SHELF, ())

    page.get_by_role("button", name="Plan this job").click()
    page.wait_for_url("**/plan?**", timeout=ANSWER_MS)
    page.reload()
    heading = page.get_by_role("heading", name="Plan the job")
    expect(heading).to_be_visible(timeout=ANSWER_MS)
    planned = page.get_by_text(found.undercoat.name).locator("visible=true").first
    expect(planned).to_be_visible(timeout=ANSWER_MS)
    assert replace(_asked(page), mixing=ASKED.mixing) == ASKED
    assert answer(_asked(page)).recommended == found
