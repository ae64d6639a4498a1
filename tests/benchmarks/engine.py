"""Speed of the engine beside peers measured in the same run.

Run it by ``python tests/benchmarks/engine.py``. Times vary from machine to machine;
the ratios are what to read.
"""

import os
import subprocess
import sys
import time
from itertools import pairwise

os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")

import colour
import numpy as np
from timing import seconds

from shadecore import demo_shelf, parse_topcoat, undercoat
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    tristimulus_weights,
)
from shadecore.film.table import FilmTable, film_table
from shadecore.film.transport import solve_films
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.draw import draw_recipes
from shadecore.recipes.library import LIBRARY_SEED, RecipeLibrary, recipe_library

COLOURS = 2_000
CHART = 100_000
GREYS = (95.0, 90.0, 80.0, 70.0, 60.0, 50.0, 40.0, 30.0, 25.5)
ONE_AT_A_TIME = 2_000
RECIPES = 60_000
FILMS = 2_000


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


def cold(program: str) -> float:
    """Best of some starts of Python on a program, after one that does not count.

    Parameters
    ----------
    program : str
        What to run.

    Returns
    -------
    float
        [s]
    """
    command = [sys.executable, "-c", program]
    return seconds(lambda: subprocess.run(command, check=True, capture_output=True))


def long_chart() -> None:
    """A chart of many colours beside as many differences one at a time."""
    rng = np.random.default_rng(2)
    full = recipe_library().lab
    lab = full[rng.integers(0, len(full), CHART)] + rng.normal(0.0, 1.5, (CHART, 3))
    lab[:, 0] = np.clip(lab[:, 0], 1.0, 99.0)
    shelf = tuple(undercoat(f"grey {each:g}", (each, 0.0, 0.0)) for each in GREYS)
    pick_many(lab, shelf)
    start = time.perf_counter()
    pick_many(lab, shelf)
    own = time.perf_counter() - start
    start = time.perf_counter()
    for one, other in pairwise(lab[: ONE_AT_A_TIME + 1]):
        colour.delta_E(one, other, method="CIE 2000")
    each = (time.perf_counter() - start) / ONE_AT_A_TIME
    peer = each * CHART * len(GREYS)
    row(
        f"chart of {CHART} colours x {len(GREYS)} greys",
        own,
        "as many colour-science differences",
        peer,
    )


def main() -> None:
    """Time the engine's parts."""
    row(
        "pick from a cold start",
        cold("from shadecore.cli import main; main(['pick', '45', '60', '35'])"),
        "import colour",
        cold("import colour"),
    )
    long_chart()
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

    red_undercoat = undercoat("oxide red", (38.0, 30.0, 22.0))
    row(
        "one pick over a coloured undercoat",
        seconds(lambda: pick(red, (*shelf, red_undercoat), library=exact)),
        "over the greys alone",
        seconds(lambda: pick(red, shelf, library=exact)),
    )
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
