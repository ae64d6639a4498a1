"""Run an attack; see ``python -m attack --help``."""

import argparse
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any, Final

from . import kills, links, running
from .doors import DOORS

_BLOCK: Final = 25
_TOLD: Final = 10


def _doors(options: argparse.Namespace) -> int:
    doors = [options.door] if options.door else list(DOORS)
    total = running.Report()
    for each in _in_blocks(options, running.attack, doors):
        total.add(each)
    return _ended(running.said(total), total.faults)


def _links(options: argparse.Namespace) -> int:
    total = links.Opened()
    for each in _in_blocks(options, links.open_links):
        total.add(each)
    if options.browser:
        # Only who asks for a browser needs one.
        from . import browsed  # noqa: PLC0415

        for line in browsed.open_worst(options.seed, total.worst(options.browser)):
            _say(line)
            total.faults.append(line)
        _say(f"{options.browser} of them opened in the browser")
    return _ended(links.said(total), total.faults)


def _kills(options: argparse.Namespace) -> int:
    found = kills.kill_many(options.seed, options.count)
    return _ended(kills.said(found), found.faults)


def _in_blocks(
    options: argparse.Namespace, work: Callable[..., Any], *more: object
) -> Iterator[Any]:
    """Reports of some inputs at a time, worked out by several processes."""
    if options.number is not None:
        yield work(options.seed, [options.number], *more)
        return
    starts = range(0, options.count, _BLOCK)
    blocks = [range(each, min(each + _BLOCK, options.count)) for each in starts]
    # A process for each worker that starts anew: what one leaves, none other meets.
    with ProcessPoolExecutor(options.workers, get_context("spawn")) as pool:
        waiting = [pool.submit(work, options.seed, each, *more) for each in blocks]
        for number, each in enumerate(waiting, start=1):
            report = each.result()
            for fault in report.faults:
                _say(fault)
            if number % _TOLD == 0:
                _say(f"... {number * _BLOCK}")
            yield report


def _ended(lines: Iterator[str], faults: list[str]) -> int:
    for line in lines:
        _say(line)
    return 1 if faults else 0


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main() -> int:
    """Run what is asked for; 1 where something was found."""
    parser = argparse.ArgumentParser(prog="python -m attack")
    kinds = parser.add_subparsers(required=True)
    for name, about, count, run in (
        ("doors", "damaged inputs at all that reads", 10_000, _doors),
        ("links", "every page by damaged links", 1_000, _links),
        ("kills", "commands that write, killed in the middle", 200, _kills),
    ):
        kind = kinds.add_parser(name, help=about, description=about)
        kind.add_argument("--count", type=int, default=count)
        kind.add_argument("--seed", type=int, default=1)
        kind.add_argument("--workers", type=int, default=2)
        kind.add_argument("--number", type=int, help="only this one of a finding")
        kind.set_defaults(run=run)
        if run is _doors:
            kind.add_argument("--door", choices=list(DOORS), help="only this one")
        if run is _links:
            words = "open so many of the worst in Chromium, too"
            kind.add_argument("--browser", type=int, default=0, help=words)
    options = parser.parse_args()
    status: int = options.run(options)
    return status


if __name__ == "__main__":
    sys.exit(main())
