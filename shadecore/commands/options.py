"""Words that several commands take, and what they come to."""

import argparse
import sys
from collections.abc import Sequence
from typing import NamedTuple

from shadecore.card.card_table import parse_card
from shadecore.card.fit import CardFit, fit_card
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.settings import (
    DEFAULT_COAT_CAP,
    DEFAULT_TOLERANCE,
    TOLERANCES,
    Settings,
    parse_tolerance,
)
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.colour.topcoat import (
    HOW_TO_WRITE,
    Topcoat,
    parse_topcoat,
    topcoat_from_spectrum,
)
from shadecore.errors import SettingError
from shadecore.film.build import (
    DEFAULT_DRY_FILM_UM,
    DEFAULT_OVERLAP,
    DEFAULT_TRANSFER_EFFICIENCY,
    DEFAULT_VOLUME_SOLIDS,
    DEFAULT_WET_PASS_UM,
)
from shadecore.film.gun import wet_pass_from_gun
from shadecore.formats.table import BadRow, read_text
from shadecore.question.from_state import condition_of, settings_of
from shadecore.question.link import PickState
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf, read_shelf
from shadecore.units import UNITS

ALL_WELL, SOME_ROWS_BAD, UNUSABLE = 0, 1, 2


class Job(NamedTuple):
    """What the shared words come to.

    Attributes
    ----------
    condition : Condition
        How colours were measured.
    settings : Settings
        Tolerance, film and cap.
    shelf : tuple of Undercoat
        The shelf.
    blends : tuple of Undercoat
        Blends that may be mixed; empty unless asked for.
    bad : tuple of BadRow
        Rows of the shelf that were left out.
    """

    condition: Condition
    settings: Settings
    shelf: Shelf
    blends: Shelf
    bad: tuple[BadRow, ...]


def job(options: argparse.Namespace) -> Job:
    """Read the shared words.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_common`.

    Returns
    -------
    Job

    Raises
    ------
    ShadecoreError
        If one of them cannot be used.
    """
    state = _state(options)
    condition = condition_of(state)
    shelf = demo_shelf()
    bad: tuple[BadRow, ...] = ()
    if options.undercoats is not None:
        shelf, bad = read_shelf(options.undercoats, condition)
    blends = shelf_blends(shelf, options.strength) if options.blends else ()
    return Job(condition, settings_of(state), shelf, blends, bad)


def report_bad(bad: Sequence[BadRow], name: str | None) -> int:
    """List the rows that were left out and say so in the exit status.

    Parameters
    ----------
    bad : sequence of BadRow
        The rows.
    name : str or None
        File they stand in.

    Returns
    -------
    int
        Exit status.
    """
    for row in bad:
        sys.stderr.write(f"shadecore: {name}, {row}\n")
    return SOME_ROWS_BAD if bad else ALL_WELL


def add_colour(parser: argparse.ArgumentParser) -> None:
    """Take one colour, and what is known of its paint.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    parser.add_argument("colour", nargs="*", help=f"before the options; {HOW_TO_WRITE}")
    parser.add_argument(
        "--spectrum", metavar="FILE", help="CSV of wavelength in nm and reflectance"
    )
    parser.add_argument(
        "--card",
        metavar="FILE",
        help="readings of a test card: CSV with area,coats,L,a,b (or Y, or a spectrum)",
    )
    parser.add_argument(
        "--units", choices=sorted(UNITS), default="metric", help="metric unless given"
    )


def read_colour(
    options: argparse.Namespace, asked: Job
) -> tuple[Topcoat, CardFit | None]:
    """Read the colour, and the card where there is one.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_colour`.
    asked : Job
        The shared words.

    Returns
    -------
    topcoat : Topcoat
        The colour.
    fit : CardFit or None
        What the card says.

    Raises
    ------
    ShadecoreError
        If the colour or the card cannot be used.
    """
    topcoat = _topcoat(options, asked.condition)
    if options.card is None:
        return topcoat, None
    card = parse_card(read_text(options.card), options.card, asked.condition)
    return topcoat, fit_card(topcoat, card, asked.settings.film.dry_film_um)


def paints_of(fit: CardFit | None) -> LikelyPaints | None:
    """Paints that a card leaves, if there is a card.

    Parameters
    ----------
    fit : CardFit or None
        What the card says.

    Returns
    -------
    LikelyPaints or None
    """
    return None if fit is None else fit.paints


def add_common(parser: argparse.ArgumentParser) -> None:
    """Take the shelf, the tolerance, the film and how colours were measured.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    names = ", ".join(f"{name} ({value:g})" for name, (value, _) in TOLERANCES.items())
    shelf = parser.add_argument_group("shelf")
    shelf.add_argument(
        "--undercoats",
        metavar="FILE",
        help="CSV with name,L (and a,b,price,unit); else five invented greys",
    )
    shelf.add_argument(
        "--blends", action="store_true", help="let two undercoats be mixed"
    )
    shelf.add_argument(
        "--strength",
        type=float,
        metavar="TIMES",
        default=1.0,
        help="times the darker of a blend counts; 1 unless you measured one",
    )
    answer = parser.add_argument_group("answer")
    answer.add_argument(
        "--tolerance",
        default=f"{DEFAULT_TOLERANCE:g}",
        help=f"CIEDE2000 that counts as hidden, or {names}; %(default)s unless given",
    )
    answer.add_argument(
        "--cap",
        type=int,
        default=DEFAULT_COAT_CAP,
        help="coats counted at most; %(default)s unless given",
    )
    _add_film(parser)
    reading = parser.add_argument_group("how the colours and the shelf were measured")
    given = "%(default)s unless given"
    reading.add_argument("--illuminant", choices=ILLUMINANTS, default="D65", help=given)
    reading.add_argument(
        "--observer", type=int, choices=OBSERVERS, default=10, help=given
    )
    reading.add_argument("--specular", choices=SPECULAR, default="excluded", help=given)


def _add_film(parser: argparse.ArgumentParser) -> None:
    film = parser.add_argument_group(
        "film", "Give --film, or let it be worked out from the gun and the mix."
    )
    film.add_argument(
        "--film",
        type=float,
        metavar="UM",
        help=f"dry film of one coat in um; {DEFAULT_DRY_FILM_UM:g} unless given",
    )
    film.add_argument(
        "--mix", metavar="PAINT:REDUCER", help="such as 1:1 or 2:1; 1:1 unless given"
    )
    film.add_argument(
        "--wet",
        type=float,
        metavar="UM",
        help=f"wet film of one pass; {DEFAULT_WET_PASS_UM:g} unless given",
    )
    film.add_argument(
        "--overlap",
        type=float,
        metavar="PERCENT",
        help=f"of the stroke before; {100 * DEFAULT_OVERLAP:g} unless given",
    )
    film.add_argument(
        "--gun",
        metavar="ML/MIN,CM,CM/S",
        help="fluid delivery, fan width and speed, to work --wet out",
    )
    film.add_argument(
        "--solids",
        type=float,
        metavar="PERCENT",
        default=100 * DEFAULT_VOLUME_SOLIDS,
        help="volume solids of the paint as it comes; %(default)g unless given",
    )
    film.add_argument(
        "--transfer",
        type=float,
        metavar="PERCENT",
        default=100 * DEFAULT_TRANSFER_EFFICIENCY,
        help="share of the paint that stays on the part; %(default)g unless given",
    )


def _topcoat(options: argparse.Namespace, condition: Condition) -> Topcoat:
    written = " ".join(options.colour)
    if written and options.spectrum:
        message = "Give a colour or --spectrum FILE, not both."
        raise SettingError(message)
    if not written and not options.spectrum:
        message = f"Give a colour: {HOW_TO_WRITE}; or --spectrum FILE."
        raise SettingError(message)
    if options.spectrum:
        return topcoat_from_spectrum(read_text(options.spectrum), condition)
    return parse_topcoat(written, condition)


def _state(options: argparse.Namespace) -> PickState:
    """The shared words as the state that the app's page fills, too."""
    around = (options.wet, options.overlap, options.gun)
    if options.film is not None and around != (None, None, None):
        message = "Give either --film or --wet, --gun and --overlap, not both."
        raise SettingError(message)
    paint, reducer = parse_ratio(options.mix or "1:1")
    worked_out = (options.mix, *around) != (None, None, None, None)
    return PickState(
        illuminant=options.illuminant,
        observer=options.observer,
        specular=options.specular,
        tolerance=parse_tolerance(options.tolerance),
        film_um=DEFAULT_DRY_FILM_UM if options.film is None else options.film,
        from_gun=options.film is None and worked_out,
        paint_parts=paint,
        reducer_parts=reducer,
        solids_percent=options.solids,
        wet_um=wet_pass_um(options),
        overlap_percent=100.0 * overlap(options),
        transfer_percent=options.transfer,
        coat_cap=options.cap,
    )


def overlap(options: argparse.Namespace) -> float:
    """Overlap of the strokes, as a share.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_common`.

    Returns
    -------
    float
    """
    return DEFAULT_OVERLAP if options.overlap is None else options.overlap / 100.0


def wet_pass_um(options: argparse.Namespace) -> float:
    """Wet film of a pass: as given, from the gun, or the usual one.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_common`.

    Returns
    -------
    float
        [um]

    Raises
    ------
    SettingError
        If the gun's settings cannot be used.
    """
    if options.gun is None:
        return DEFAULT_WET_PASS_UM if options.wet is None else float(options.wet)
    if options.wet is not None:
        message = "Give either --wet or --gun, not both."
        raise SettingError(message)
    try:
        fluid, fan, speed = (float(part) for part in options.gun.split(","))
    except ValueError:
        message = (
            f"The gun {options.gun!r} is not fluid delivery, fan width and speed; "
            "write it like 200,25,40 in ml/min, cm and cm/s."
        )
        raise SettingError(message) from None
    return wet_pass_from_gun(fluid, fan, speed, options.transfer / 100.0)


def parse_ratio(text: str) -> tuple[float, float]:
    """Parts of paint and reducer.

    Parameters
    ----------
    text : str
        Such as ``2:1``.

    Returns
    -------
    tuple of float

    Raises
    ------
    SettingError
        If it is not such a ratio.
    """
    try:
        paint, reducer = (float(part) for part in text.split(":"))
    except ValueError:
        message = f"The mix {text!r} is not paint:reducer; write it like 1:1 or 2:1."
        raise SettingError(message) from None
    return paint, reducer
