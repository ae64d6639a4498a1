"""Speed of the engine beside peers measured in the same run.

Run it by ``python tests/benchmarks/engine.py``. Times vary from machine to machine;
the ratios are what to read.
"""

import os
import sys
import time
from collections.abc import Callable

os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")

import colour
import numpy as np

from shadecore import demo_shelf, parse_topcoat, pick, pick_many
from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    tristimulus_weights,
)
from shadecore.film.table import FilmTable, film_table
from shadecore.film.transport import solve_films
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.draw import draw_recipes
from shadecore.recipes.library import LIBRARY_SEED, RecipeLibrary

COLOURS = 2_000
RECIPES = 60_000
FILMS = 2_000
REPEATS = 3


def seconds(work: Callable[[], object]) -> float:
    """Best of some runs, after one that does not count.

    Parameters
    ----------
    work : callable
        What to time.

    Returns
    -------
    float
    """
    work()
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def row(name: str, own: float, peer_name: str, peer: float) -> None:
    """Print one comparison.

    Parameters
    ----------
    name, peer_name : str
        What was timed.
    own, peer : float
        How long each took. [s]
    """
    sys.stdout.write(
        f"{name:<42} {own:9.4f} s   {peer_name:<34} {peer:9.4f} s   "
        f"peer/own {peer / own:7.2f}\n"
    )


def main() -> None:
    """Time the engine's parts."""
    rng = np.random.default_rng(1)
    lab = rng.uniform([10, -40, -40], [95, 40, 40], (COLOURS, 3))
    other = lab + rng.normal(0, 2, lab.shape)
    spectra = rng.uniform(0, 1, (FILMS, 31)).astype(np.float32)
    recipes = draw_recipes(RECIPES, np.random.default_rng(LIBRARY_SEED))
    exact = RecipeLibrary(recipes, film_table())
    two_flux = RecipeLibrary(recipes, TwoFluxFilm())
    shelf, red = demo_shelf(), parse_topcoat("45 60 35")
    films = np.arange(1, 13, dtype=np.float32) * 10.0
    k, s = recipes.absorption[:FILMS], recipes.scattering[:FILMS]

    row(
        f"chart of {COLOURS} colours, exact film",
        seconds(lambda: pick_many(lab, shelf, library=exact)),
        "the same, two-flux film",
        seconds(lambda: pick_many(lab, shelf, library=two_flux)),
    )
    row(
        "one pick of one colour",
        seconds(lambda: pick(red, shelf, library=exact)),
        "the same, two-flux film",
        seconds(lambda: pick(red, shelf, library=two_flux)),
    )
    row(
        f"{FILMS * 31 * 12} films from the table",
        seconds(lambda: film_table().terms(k, s, films)),
        "two-flux formula",
        seconds(lambda: TwoFluxFilm().terms(k, s, films)),
    )
    row(
        "table solved",
        seconds(FilmTable),
        "one depth a film, per 145 films",
        seconds(lambda: solve_films(np.linspace(0, 1, 145), 27)),
    )
    weights = tristimulus_weights()
    white = colour.XYZ_to_xy(weights.sum(axis=0) / 100.0)
    row(
        f"{FILMS} spectra to Lab",
        seconds(lambda: lab_from_reflectance(spectra)),
        "colour-science from XYZ",
        seconds(lambda: colour.XYZ_to_Lab(spectra @ weights / 100.0, white)),
    )
    row(
        f"{COLOURS} CIEDE2000, single precision",
        seconds(lambda: colour_difference(lab.astype("f4"), other.astype("f4"))),
        "colour-science",
        seconds(lambda: colour.delta_E(lab, other, method="CIE 2000")),
    )


if __name__ == "__main__":
    main()
