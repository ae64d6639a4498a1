"""Print the validation: ``python -m validation`` from ``tests``."""

import sys

from .report import TOLERANCES, lines, simulated_truth, validate

PAINTS = 1000
SEED = 20_270_101

truths = simulated_truth(PAINTS, SEED)
results = {
    geometry: [validate(truth, tolerance) for tolerance in TOLERANCES]
    for geometry, truth in truths.items()
}
sys.stdout.write(f"{PAINTS} simulated paints, seed {SEED}\n")
sys.stdout.write("\n".join(lines(results)) + "\n")
