"""Run an attack; see ``python -m attack --help``."""

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from .doors import DOORS
from .running import Report, attack, said

_BLOCK = 50


def _doors(options: argparse.Namespace) -> int:
    doors = [options.door] if options.door else list(DOORS)
    if options.number is not None:
        report = attack(options.seed, [options.number], doors)
        return _ended(report)
    total = Report()
    blocks = [
        (options.seed, range(start, min(start + _BLOCK, options.count)), doors)
        for start in range(0, options.count, _BLOCK)
    ]
    spawn = get_context("spawn")
    with ProcessPoolExecutor(options.workers, spawn) as pool:
        for number, report in enumerate(pool.map(attack, *zip(*blocks)), start=1):
            total.inputs += report.inputs
            total.refused += report.refused
            total.faults += report.faults
            total.memory = max(total.memory, report.memory)
            if report.slowest_s > total.slowest_s:
                total.slowest_s, total.slowest = report.slowest_s, report.slowest
            for each in report.faults:
                sys.stdout.write(f"{each}\n")
            if number % 10 == 0:
                sys.stdout.write(f"... {total.inputs.total()}\n")
            sys.stdout.flush()
    return _ended(total)


def _ended(report: Report) -> int:
    for line in said(report):
        sys.stdout.write(f"{line}\n")
    return 1 if report.faults else 0


def main() -> int:
    """Run what is asked for; 1 where something was found."""
    parser = argparse.ArgumentParser(prog="python -m attack")
    kinds = parser.add_subparsers(required=True)
    doors = kinds.add_parser("doors", help="damaged inputs at all that reads")
    doors.add_argument("--count", type=int, default=10_000)
    doors.add_argument("--seed", type=int, default=1)
    doors.add_argument("--workers", type=int, default=2)
    doors.add_argument("--door", choices=list(DOORS), help="only this one")
    doors.add_argument("--number", type=int, help="only this input of a finding")
    doors.set_defaults(run=_doors)
    options = parser.parse_args()
    status: int = options.run(options)
    return status


if __name__ == "__main__":
    sys.exit(main())
