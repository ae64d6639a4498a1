"""One test card fitted, beside scipy's general least squares on the same problem.

Run it by ``python tests/benchmarks/card.py``. The peer bends one recipe to the same
readings with the same prior, where the engine bends 128 of them at once.
"""

import sys

import numpy as np
from scipy.optimize import least_squares
from timing import seconds

from shadecore.card.fit import fit_card, problem_of
from shadecore.card.reading import Card, Step
from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.library import recipe_library

RED = Topcoat((45.0, 60.0, 35.0), "invented red")
CARD = Card((Step(2, (38.4, 48.1, 27.0), (47.6, 62.4, 37.6)),))
FILM_UM = 10.0


def main() -> None:
    """Time both."""
    library = recipe_library()
    own = seconds(lambda: fit_card(RED, CARD, FILM_UM, library))
    problem = problem_of(RED, CARD, FILM_UM, library)
    one = problem.only(0)

    def residuals(place: np.ndarray) -> np.ndarray:
        return np.concatenate([one.missed(place[None])[0], place])

    peer = seconds(lambda: least_squares(residuals, np.zeros(one.size)))
    sys.stdout.write(
        f"one card, 128 recipes bent        {own:8.3f} s\n"
        f"one recipe by scipy least_squares {peer:8.3f} s\n"
        f"peer for 128 recipes over own     {128 * peer / own:8.1f}\n"
    )


if __name__ == "__main__":
    main()
