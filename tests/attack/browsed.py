"""Damaged links in a browser: what the app's own test harness does not show."""

import urllib.request
from collections.abc import Iterator, Sequence
from http.client import HTTPException
from typing import Final
from urllib.parse import urlencode

from browser import console_errors, opened, served
from playwright.sync_api import Error, Page

from shadecore.telling.phone_words import BROKEN

from .links import Link, link_of

_DONE: Final = "[data-testid=stApp][data-test-script-state=notRunning]"
_DONE_MS: Final = 120_000
_SETTLED_MS: Final = 300
_LONGEST: Final = 60_000
"""Characters of an address that the server always takes: a head of 64 kB."""
_REFUSED_FROM: Final = 400_000
"""Characters that it always refuses; in between that depends on how they come."""
_BROKEN: Final = ("Traceback (most recent call last)", BROKEN)
_REFUSED_S: Final = 60.0
_LIVE: Final = "[data-testid=stException], [data-testid=stAlert] :is(a, img, iframe)"
"""What no message may hold."""


def open_worst(seed: int, links: Sequence[Link]) -> Iterator[str]:
    """Open links in Chromium, one after another.

    Parameters
    ----------
    seed : int
        Of their run.
    links : sequence of Link
        Which.

    Yields
    ------
    str
        What is not as it should be, with the words that bring it back.
    """
    with served() as address, opened() as page:
        errors = console_errors(page)
        page.on("pageerror", lambda error: errors.append(str(error)))
        for link in links:
            query = urlencode(
                link_of(seed, link.number, link.page), errors="surrogatepass"
            )
            errors.clear()
            try:
                faults = [
                    *_opened(page, f"{address}/{link.page}?{query}"),
                    *(f"the console says {each[:200]}" for each in errors),
                ]
            except Error as error:
                faults = [f"does not open: {error.message[:200]}"]
            for each in faults:
                yield f"link {link.number} of seed {seed}, page {link.page!r}: {each}"


def _opened(page: Page, address: str) -> Iterator[str]:
    """What is wrong with a page; a head that is too long is the server's to refuse."""
    if len(address) > _LONGEST:
        # Not by the browser: what it shows of a refusal breaks off the next page, too.
        refused = _is_refused(address)
        if len(address) > _REFUSED_FROM and not refused:
            yield f"takes an address of {len(address)} characters"
        return
    page.goto(address)
    page.wait_for_selector(_DONE, timeout=_DONE_MS)
    page.wait_for_timeout(_SETTLED_MS)
    shown = page.inner_text("body")
    yield from (f"shows {each!r}" for each in _BROKEN if each in shown)
    if page.locator(_LIVE).count():
        yield "shows a traceback, or a message with a link or a picture in it"


def _is_refused(address: str) -> bool:
    """Whether the server answers with an error, or hangs up while it is asked."""
    try:
        urllib.request.urlopen(address, timeout=_REFUSED_S).close()  # noqa: S310 - own
    except (OSError, HTTPException):
        return True
    return False
