"""The app served for a test, and headless Chromium to look at it."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from app_server import ROOT, started
from playwright.sync_api import ConsoleMessage, Page, sync_playwright

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
ANSWER_MS = 60_000


@contextmanager
def served(script: Path | str = ROOT / "app.py") -> Iterator[str]:
    """Address of the app, started as the README says, or of another script."""
    with started(script) as server:
        yield server.url


@contextmanager
def opened(
    width: int = 1200, height: int = 900, *, touch: bool = False
) -> Iterator[Page]:
    """A page of headless Chromium; without one only a developer's run may skip."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("Chromium is missing; CI installs Debian's package.")
        pytest.skip("Chromium is not installed.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        context = browser.new_context(
            viewport={"width": width, "height": height},
            accept_downloads=True,
            has_touch=touch,
        )
        yield context.new_page()
        browser.close()


def console_errors(page: Page) -> list[str]:
    """Errors that a page will write to its console, as they come.

    A page opened by its own address asks once for what only the first page has; that
    the server says so is no error of the page.
    """
    errors: list[str] = []

    def note(message: ConsoleMessage) -> None:
        if message.type == "error" and "404" not in message.text:
            errors.append(message.text)

    page.on("console", note)
    return errors
