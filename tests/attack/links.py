"""Every page of the app with damaged parameters in its link.

The pages are those that :mod:`shadecore.screens.start` shows, whatever they are; each
is run by the app's own test harness, without a browser.
"""

import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from operator import attrgetter
from pathlib import Path
from typing import Any, Final

from streamlit.logger import set_log_level
from streamlit.testing.v1 import AppTest

import shadecore.screens

from .doors import damaged_link
from .judge import MOST_CPU_S, faults_of_message
from .running import Alone, rng_of

SCRIPT: Final = Path(shadecore.screens.__file__).with_name("start.py")
_TIMEOUT_S: Final = 240.0
_LONG: Final = 300
_ROUNDS: Final = 3


@dataclass(frozen=True)
class Link:
    """One link that was opened.

    Attributes
    ----------
    number : int
        Which of the run.
    page : str
        Name of the page.
    took_s : float
        Processor time. [s]
    length : int
        Characters of its parameters.
    told : int
        Sentences on what cannot be used.
    """

    number: int
    page: str
    took_s: float
    length: int
    told: int


@dataclass
class Opened:
    """What damaged links led to.

    Attributes
    ----------
    pages : Counter of str
        Links opened, by their page.
    refused : int
        Pages that said what of the link could not be used.
    faults : list of str
        What was not as it should be.
    slowest_s : float
        Processor time of the slowest page. [s]
    links : list of Link
        Each of them, for a choice of the worst.
    """

    pages: Counter[str] = field(default_factory=Counter)
    refused: int = 0
    faults: list[str] = field(default_factory=list)
    slowest_s: float = 0.0
    links: list[Link] = field(default_factory=list)

    def add(self, other: "Opened") -> None:
        """Take in what another process found."""
        self.pages += other.pages
        self.refused += other.refused
        self.faults += other.faults
        self.slowest_s = max(self.slowest_s, other.slowest_s)
        self.links += other.links

    def worst(self, count: int) -> list[Link]:
        """Links to look at again: in turn the slowest, longest and most refused.

        Parameters
        ----------
        count : int
            How many.

        Returns
        -------
        list of Link
            As many, or all where there are fewer.
        """
        orders = [
            iter(sorted(self.links, key=each, reverse=True))
            for each in (_took, _length, _told)
        ]
        worst: dict[int, Link] = {}
        while len(worst) < min(count, len(self.links)):
            for order in orders:
                link = next(one for one in order if one.number not in worst)
                worst[link.number] = link
                if len(worst) == min(count, len(self.links)):
                    break
        return list(worst.values())


_took, _length, _told = (attrgetter(name) for name in ("took_s", "length", "told"))


def said(found: Opened) -> Iterator[str]:
    """A report in lines.

    Parameters
    ----------
    found : Opened
        The report.

    Yields
    ------
    str
    """
    for page, count in found.pages.items():
        yield f"{page or 'the first page':16} {count:6} links"
    yield (
        f"{found.pages.total()} links, {found.refused} with a message, "
        f"{len(found.faults)} faults; slowest {found.slowest_s:.2f} s of processor"
    )


def pages_of_the_app() -> dict[str, str]:
    """The app's pages by their names, with what the harness knows each by.

    Returns
    -------
    dict of str to str
    """
    first = AppTest.from_file(str(SCRIPT), default_timeout=_TIMEOUT_S).run()
    known: dict[str, Any] = first._registered_pages  # the harness tells no other way
    return {each["url_pathname"]: key for key, each in known.items()}


def open_links(seed: int, numbers: Sequence[int], *, clock: bool = True) -> Opened:
    """Open pages in turn, each by a damaged link.

    Parameters
    ----------
    seed : int
        Of the whole run.
    numbers : sequence of int
        Which links; the same seed and number give the same link.
    clock : bool
        Whether each page is opened once before, and the time of each link is judged.

    Returns
    -------
    Opened
    """
    found = Opened()
    set_log_level("ERROR")
    with Alone():
        pages = pages_of_the_app()
        if clock:
            _open_each_once(tuple(pages.values()))
        for number in numbers:
            name = list(pages)[number % len(pages)]
            query = link_of(seed, number, name)
            begun = time.process_time()
            try:
                faults, said = _opened(pages[name], query)
            except Exception:
                faults, said = [traceback.format_exc()[-_LONG * 5 :]], 0
            took = time.process_time() - begun
            if clock and took > MOST_CPU_S:
                faults.append(f"takes {took:.1f} s of processor")
            found.pages[name] += 1
            found.refused += bool(said)
            found.slowest_s = max(found.slowest_s, took)
            length = sum(map(len, (*query, *query.values())))
            found.links.append(Link(number, name, took, length, said))
            shown = {key: text[:_LONG] for key, text in query.items()}
            found.faults += [
                f"link {number} of seed {seed}, page {name!r}: {each}\n    {shown}"
                for each in faults
            ]
    return found


@cache
def _open_each_once(pages: tuple[str, ...]) -> None:
    """What a process's first visitor waits for is no link's fault."""
    for key in pages:
        _opened(key, {})


def link_of(seed: int, number: int, page: str) -> dict[str, str]:
    """Parameters of a link of a run.

    Parameters
    ----------
    seed, number : int
        Of the run and of the link.
    page : str
        Name of the page.

    Returns
    -------
    dict of str to str
    """
    return damaged_link(rng_of(seed, number, page), _ROUNDS)


def _opened(page: str, query: dict[str, str]) -> tuple[list[str], int]:
    """What is wrong with a page, and how many problems it names."""
    app = AppTest.from_file(str(SCRIPT), default_timeout=_TIMEOUT_S)
    app._page_hash = page
    for name, text in query.items():
        app.query_params[name] = text
    app.run()
    faults = [f"shows a traceback: {each.value[:_LONG]}" for each in app.exception]
    told = [str(each.value) for each in (*app.error, *app.warning)]
    # What begins as a list names what a plan must not do; nothing was refused there.
    for each in (one for one in told if not one.startswith("- ")):
        # Marks that keep Markdown from reading it are no part of the sentence.
        faults += faults_of_message(each.replace("\\", ""))
    return faults, len(told)
