"""Print the validation: ``python -m validation`` from ``tests``.

Parts: ``real`` (oil paints), ``colour`` (without a card), ``loading`` (with records),
``shops`` (what a book learns), ``card``, ``families``, ``reliability`` and ``photo``
(some ten minutes). All but the first is simulated.
"""

import argparse
import sys
from collections.abc import Callable

import numpy as np

from shadecore import CoatFilm, Settings
from shadecore.coats.pick_many import pick_many

from .card_report import library_without, nine_greys, validate_cards
from .cards import Card
from .families import FAMILIES, paints_containing
from .loading_report import (
    RECORDS,
    loading_lines,
    loading_truth,
    validate_loading,
)
from .paints import draw_paints
from .photo_lines import (
    HEAD,
    NOISE_HEAD,
    PICK_HEAD,
    error_lines,
    found_line,
    pick_line,
    scatter_line,
    together_line,
)
from .photo_noise import noise_scatter
from .photo_report import (
    FOUND,
    KINDS,
    PHOTOS_TOGETHER,
    read_photos,
    read_together,
    score_photo_picks,
)
from .real_report import hiding_flags, real_lines, real_truth, validate_real
from .report import (
    CAP,
    FILM_UM,
    SIMULATED_COATS,
    TOLERANCES,
    lines,
    simulated_truth,
    validate,
)
from .scoring import reliability
from .shops import print_shops
from .truth import NINE_GREYS, Truth, grey_reflectance, simulate

PAINTS = 1000
CARDS = 500
SEED = 20_270_101
CARD_SEED = 7
LOADED = 500
RECORD_SEED = 8
FAMILY_SHARE = 0.3
PHOTOS = 200
PHOTO_SEED = 31
PHOTO_SETS = 100
NOISE_KIND = "grey card"
NOISE_SCENES = 30
NOISE_PICTURES = 10
TOLD_KINDS = ("white paper", "grey card")
VENDOR_KINDS = ("grey card", "chart marked")


def print_real() -> None:
    """Picks for real oil paints, and the flag of poor hiding."""
    _say("32 oil paints (Geldof et al. 2018), nine greys")
    truth = real_truth()
    results = [validate_real(truth, tolerance) for tolerance in TOLERANCES]
    _say(*real_lines(results, [hiding_flags(truth, each) for each in TOLERANCES]))


def print_loading() -> None:
    """Counts of paints of unknown loading, with and without a record."""
    _say("", f"Loading unknown: {LOADED} simulated paints, seed {SEED}")
    truth = loading_truth(LOADED, SEED)
    results = [
        validate_loading(truth, tolerance, record, RECORD_SEED)
        for tolerance in TOLERANCES
        for record in RECORDS
    ]
    _say(*loading_lines(results))


def print_colour() -> None:
    """Picks and counts from the colour alone."""
    _say(f"From the colour alone: {PAINTS} simulated paints, seed {SEED}")
    truths = simulated_truth(PAINTS, SEED)
    _say(
        *lines(
            {
                geometry: [validate(truth, tolerance) for tolerance in TOLERANCES]
                for geometry, truth in truths.items()
            }
        )
    )


def print_cards() -> None:
    """Picks and counts with a test card."""
    _say("", f"With a test card: {CARDS} simulated paints, 0.3 CIEDE2000 of noise")
    _say(
        "steps      film error  dE00  regret  within 1  counts +-1  holds  width  where"
    )
    paints = draw_paints(CARDS, np.random.default_rng(SEED))
    solved = simulate(paints, grey_reflectance(NINE_GREYS), FILM_UM, SIMULATED_COATS)
    for coats in ((2,), (1, 2, 3)):
        for error in (0.10, 0.001):
            card = Card(coats=coats, film_error=error)
            rng = np.random.default_rng(CARD_SEED)
            for each in validate_cards(paints, solved["45/0"], TOLERANCES, rng, card):
                start = f"{coats!s:<9}  {error:10.1%}  {each.tolerance:<4g}"
                for where, score in (
                    ("picked grey", each.pick_counts),
                    ("every grey", each.all_counts),
                ):
                    _say(
                        f"{start}  {each.picks.mean_regret:6.3f}  "
                        f"{each.picks.within_one:8.1%}  {score.within_one:10.1%}  "
                        f"{score.coverage:5.1%}  {score.width:5.1f}  {where}"
                    )


def print_families() -> None:
    """Paints of a family that the engine knows, and that it does not."""
    _say("", f"Families left out of the engine, dE00 {TOLERANCES[0]:g}, 45/0")
    _say("family          paints  regret known, left out  holds known, left out")
    paints = draw_paints(PAINTS, np.random.default_rng(SEED))
    solved = simulate(paints, grey_reflectance(NINE_GREYS), FILM_UM, SIMULATED_COATS)
    whole = solved["45/0"]
    for family in FAMILIES:
        rows = paints_containing(paints, family, FAMILY_SHARE)
        truth = Truth(whole.hidden[rows], whole.lab[rows], whole.difference[rows])
        known = validate(truth, TOLERANCES[0])
        left_out = validate(truth, TOLERANCES[0], library_without(family))
        _say(
            f"{family:<14}  {rows.sum():6d}  {known.engine.mean_regret:12.2f}, "
            f"{left_out.engine.mean_regret:8.2f}  {known.pick_counts.coverage:11.1%}, "
            f"{left_out.pick_counts.coverage:8.1%}"
        )


def print_reliability() -> None:
    """How often a film hides that is given a certain probability to.

    Printed as the table that the screens show; paints are of unknown loading, as those
    in a shop are.
    """
    _say("tolerance,predicted,observed,cases")
    truth = loading_truth(PAINTS, SEED)
    for tolerance in TOLERANCES:
        settings = Settings(tolerance, CoatFilm(FILM_UM), CAP)
        picks = pick_many(truth.hidden, nine_greys(), settings)
        bins = reliability(
            np.clip(picks.counts.chance, 0.0, 1.0),
            truth.coats_to_hide(tolerance, CAP),
        )
        for predicted, observed, count in zip(
            bins.predicted, bins.observed, bins.count, strict=True
        ):
            _say(f"{tolerance:g},{predicted:.3f},{observed:.3f},{count}")


def print_photo() -> None:
    """Colours and picks from simulated photographs."""
    _say("", f"From a photo: {PHOTOS} simulated shots a case, seed {PHOTO_SEED}", HEAD)
    picks = [PICK_HEAD]
    cases_of = [(kind, kind, False, False) for kind in KINDS]
    cases_of += [(f"{kind}, told", kind, False, True) for kind in TOLD_KINDS]
    cases_of += [(f"{kind}, look", kind, True, False) for kind in VENDOR_KINDS]
    for name, kind, look, told in cases_of:
        shots = read_photos(kind, PHOTOS, PHOTO_SEED, vendor_look=look, told=told)
        cases = list(shots)
        _say(*error_lines(name, cases))
        if kind == FOUND:
            _say(found_line(cases))
        picks.append(pick_line(name, score_photo_picks(cases)))
    _say("", *picks)
    _say("", f"{PHOTOS_TOGETHER} photos of one swatch")
    for reference in ("grey card", "chart"):
        for same_light, where in ((True, "one light"), (False, "four lights")):
            good, wrong = (
                read_together(
                    reference,
                    PHOTO_SETS,
                    PHOTO_SEED,
                    one_wrong=one_wrong,
                    same_light=same_light,
                )
                for one_wrong in (False, True)
            )
            _say(together_line(f"{reference}, {where}", good, wrong))
    _say("", f"One scene photographed {NOISE_PICTURES} times over", NOISE_HEAD)
    scatter = noise_scatter(NOISE_KIND, NOISE_SCENES, NOISE_PICTURES, PHOTO_SEED)
    _say(scatter_line(NOISE_KIND, scatter))


def _say(*text: str) -> None:
    sys.stdout.write("\n".join(text) + "\n")
    sys.stdout.flush()


PARTS: dict[str, Callable[[], None]] = {
    "real": print_real,
    "loading": print_loading,
    "shops": print_shops,
    "colour": print_colour,
    "card": print_cards,
    "families": print_families,
    "reliability": print_reliability,
    "photo": print_photo,
}


def main() -> None:
    """Print the parts that are asked for."""
    parser = argparse.ArgumentParser(prog="python -m validation", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="part", help="all unless given")
    parts = parser.parse_args().parts or list(PARTS)
    unknown = next((each for each in parts if each not in PARTS), None)
    if unknown is not None:
        parser.error(f"no part {unknown!r}; take one of {', '.join(PARTS)}")
    for part in parts:
        PARTS[part]()


if __name__ == "__main__":
    main()
