"""The app served for a test, and headless Chromium to look at it."""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import ConsoleMessage, Page, sync_playwright

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


@contextmanager
def served(script: Path | str = ROOT / "app.py") -> Iterator[str]:
    """Address of the app, started as the README says, or of another script."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "streamlit", "run", str(script)]
    options = ["--server.port", str(port), "--server.headless", "true"]
    folder = tempfile.TemporaryDirectory()
    own = {**os.environ, "SHADECORE_BOOK": str(Path(folder.name) / "book.sqlite")}
    server = subprocess.Popen([*command, *options], cwd=ROOT, env=own)
    try:
        url = f"http://127.0.0.1:{port}"
        _wait(f"{url}/_stcore/health")
        yield url
    finally:
        server.terminate()
        server.wait()
        folder.cleanup()


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
