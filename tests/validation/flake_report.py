"""Print how effect picks and counts do on paints of discrete flakes.

Run ``python -m validation.flake_report --keep FOLDER`` in ``tests``. Tracing takes some
ten seconds a paint; traced paints are kept in the folder. Seeds from 5000 are there to
look at while the engine is worked on; figures are quoted from 7000 on alone.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.angles import STANDARD_ANGLES_DEG, angle_readings
from shadecore.colour.appearance import colour_difference
from shadecore.effects.likely import likely_effect_paints

from .flake_paints import TracedPaint, traced_set
from .flake_score import (
    CAP,
    FINE,
    Likely,
    chances,
    full_lab,
    grey_inside,
    hides_at,
    rule_regret,
    score,
    true_difference,
)
from .truth import NINE_GREYS

FloatArray = NDArray[np.float64]

HELD_OUT = 7000
"""First seed of the paints that figures are quoted from."""
RAYS = 6000
FILMS_UM = np.geomspace(2.0, 240.0, 36)
TOLERANCES = (1.0, 2.0)
SPREAD_ALONE, SPREAD_SEEN = 0.15, 0.30
ANGLES = (STANDARD_ANGLES_DEG, (15.0, 45.0, 110.0), (45.0,))
_RECORD_SEED = 3


def asked(lab: FloatArray, angles: tuple[float, ...]) -> tuple[FloatArray, FloatArray]:
    """Return differences to the full colour of the likely paints, and their weights."""
    readings = angle_readings(
        (angle, tuple(each))
        for angle, each in zip(STANDARD_ANGLES_DEG, lab, strict=True)
        if angle in angles
    )
    paints = likely_effect_paints(readings)
    backing = np.repeat(grey_inside(np.array(NINE_GREYS))[:, None], 31, axis=1)
    films = paints.lab_over(backing, FILMS_UM)
    left = colour_difference(films, paints.full_lab()[:, None, None])
    return np.asarray(left.max(axis=-1), dtype=np.float64), paints.weight


def report(paints: Sequence[TracedPaint]) -> Iterator[str]:
    """Yield the figures of a set, line by line."""
    full = np.array([full_lab(each) for each in paints])
    apart = np.array([true_difference(each) for each in paints])
    for angles in ANGLES:
        said = [asked(lab, angles) for lab in full]
        for tolerance in TOLERANCES:
            truth = np.minimum(np.ceil(hides_at(apart, FINE, tolerance)), CAP + 1)
            likely = [Likely(hides_at(d, FILMS_UM, tolerance), w) for d, w in said]
            rng = np.random.default_rng(_RECORD_SEED)
            alone, seen = [], []
            for each, real in zip(likely, truth, strict=True):
                alone.append(chances(each, SPREAD_ALONE))
                grey = int(rng.integers(len(NINE_GREYS)))
                count = int(np.clip(real[grey] + rng.integers(-1, 2), 1, CAP))
                seen.append(chances(each, SPREAD_SEEN, seen=(grey, count)))
            yield f"{len(angles)} angles, tolerance {tolerance:g}, {len(paints)} paints"
            yield f"  angles alone       {score(truth, alone)}"
            yield f"  one record, off 1  {score(truth, seen)}"
            for name, lightness in (
                ("closest to L* at 45", full[:, 2, 0]),
                ("closest to L* at 110", full[:, 4, 0]),
                ("always L* 40", np.full(len(full), 40.0)),
            ):
                yield f"  {name}: regret {rule_regret(truth, lightness):.2f}"


def main() -> None:
    """Trace, ask and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", type=Path, required=True)
    parser.add_argument("--first", type=int, default=HELD_OUT)
    parser.add_argument("--count", type=int, default=50)
    parser.add_argument("--kind", choices=("aluminium", "pearl", "mixed"))
    given = parser.parse_args()
    paints = traced_set(given.first, given.count, RAYS, given.keep)
    chosen = [each for each in paints if given.kind in (None, each.kind)]
    for line in report(chosen):
        sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
