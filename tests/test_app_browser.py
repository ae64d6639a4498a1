"""The page in a real browser: a Lab value goes in, the pick is read off the page."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
CHROMIUM = shutil.which("chromium")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
START_SECONDS = 60
ANSWER_MS = 60_000

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Address of the app, started as the README says."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "streamlit", "run", "app.py"]
    options = ["--server.port", str(port), "--server.headless", "true"]
    server = subprocess.Popen([*command, *options], cwd=ROOT)
    try:
        url = f"http://127.0.0.1:{port}"
        _wait(f"{url}/_stcore/health")
        yield url
    finally:
        server.terminate()
        server.wait()


def _wait(url: str) -> None:
    end = time.monotonic() + START_SECONDS
    while True:
        try:
            urllib.request.urlopen(url).close()  # noqa: S310 - our own server
        except urllib.error.URLError:
            if time.monotonic() > end:
                raise
            time.sleep(0.2)
        else:
            return


@pytest.fixture
def page() -> Iterator[Page]:
    """A page of headless Chromium; without one only a developer's run may skip."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("Chromium is missing; CI installs Debian's package.")
        pytest.skip("Chromium is not installed.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser.new_page(viewport={"width": 390, "height": 900})
        browser.close()


def _type_colour(page: Page, text: str) -> None:
    box = page.get_by_role("textbox", name="Topcoat colour")
    box.fill(text)
    box.press("Enter")


def test_a_lab_value_gives_the_pick(address: str, page: Page) -> None:
    problems: list[str] = []
    page.on(
        "console",
        lambda message: (
            problems.append(message.text) if message.type == "error" else None
        ),
    )
    page.goto(address)
    expect(page.get_by_text("to hide")).to_be_visible(timeout=ANSWER_MS)
    _type_colour(page, "26 0 0")
    swatch = page.get_by_role("img", name="Spray it over: Near-black N 2.5")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    _type_colour(page, "lab 88 0 1")
    swatch = page.get_by_role("img", name="Spray it over: White N 9")
    expect(swatch).to_be_visible(timeout=ANSWER_MS)
    assert problems == []


def test_the_link_reproduces_the_answer(address: str, page: Page) -> None:
    page.goto(f"{address}/?colour=26+0+0&tolerance=1")
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


def test_a_wrong_colour_says_how_to_write_one(address: str, page: Page) -> None:
    page.goto(f"{address}/?colour=bluish")
    expect(page.get_by_text("'bluish' is not a colour")).to_be_visible(
        timeout=ANSWER_MS
    )
