"""Print which changed lines the tests catch: ``python -m mutation`` from ``tests``."""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter, defaultdict
from pathlib import Path

from .mapping import ROOT, files_that_test
from .mutants import sample
from .running import CAUGHT, SURVIVED, TIMEOUT, load_libraries, run

_LONGEST_S = 600.0
_TIMES_SLOWER, _LATER_S = 3.0, 30.0
"""A changed module may take so many times as long as the unchanged one, and more."""
_WIDEST = 100


def main() -> int:
    """Sample, run and print; exit status 1 where the unchanged tests fail."""
    options = _options()
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    load_libraries()
    paths = [path for name in options.folders for path in _modules(ROOT / name)]
    mutants = sample(paths, options.count, options.seed)
    mutants.sort(key=lambda each: (each.path, each.line))
    limits: dict[tuple[Path, ...], float] = {}
    outcomes: defaultdict[Path, Counter[str]] = defaultdict(Counter)
    for mutant in mutants:
        tests = tuple(files_that_test(mutant.path))
        if tests not in limits:
            outcome, taken = run(tests, _LONGEST_S)
            if tests and outcome != SURVIVED:
                _say(f"Without a change, pytest fails on {' '.join(map(str, tests))}")
                return 1
            limits[tests] = _TIMES_SLOWER * taken + _LATER_S
        outcome, taken = SURVIVED, 0.0
        if tests:
            outcome, taken = run(tests, limits[tests], mutant.path, mutant.source)
        outcomes[mutant.path.parent][outcome] += 1
        place = f"{mutant.path.relative_to(ROOT)}:{mutant.line}"
        change = f"{mutant.before}  ->  {mutant.after}"
        _say(f"{outcome:<8}  {taken:5.1f} s  {place}  {change[:_WIDEST]}")
    for folder, counts in outcomes.items():
        _say(_share(str(folder.relative_to(ROOT)), counts))
    _say(_share("all", sum(outcomes.values(), Counter())))
    return 0


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m mutation", description=__doc__)
    parser.add_argument("folders", nargs="+", help="folders or files to change")
    parser.add_argument("--count", type=int, default=200, help="changed lines")
    parser.add_argument("--seed", type=int, default=1, help="of the sample")
    return parser.parse_args()


def _modules(place: Path) -> list[Path]:
    return [place] if place.is_file() else sorted(place.rglob("*.py"))


def _share(name: str, counts: Counter[str]) -> str:
    total = counts.total()
    caught = counts[CAUGHT] + counts[TIMEOUT]
    share = caught / total if total else 0.0
    return f"{name}: {caught} of {total} changed lines caught ({share:.0%})"


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
