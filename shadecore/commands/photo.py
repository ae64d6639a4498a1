"""``photo``: the colour of a swatch on photos, and the undercoat for it."""

import argparse
import json
import sys
from pathlib import Path
from typing import Final

from shadecore.commands.options import add_common, job, report_bad
from shadecore.errors import PhotoError, SettingError
from shadecore.pages.answer_page import answer_page
from shadecore.pages.blocks import Document, Text
from shadecore.pages.text_layout import document_text
from shadecore.photo.area import area_between
from shadecore.photo.choice import PhotoPick, pick_for_photo
from shadecore.photo.combine import Combined, combine
from shadecore.photo.corners import Corners
from shadecore.photo.measure import Marks, PhotoColour, check_marks, measure_swatch
from shadecore.photo.picture import Picture, open_picture
from shadecore.photo.reference import REFERENCES, Reference, own_reference
from shadecore.photo.rendering import LIGHTS, UNKNOWN_LIGHT
from shadecore.photo.suggest import suggest_marks
from shadecore.telling.photo_words import (
    PHOTO_SURE,
    choice_words,
    driver_words,
    odd_words,
    photo_colour_words,
)
from shadecore.telling.records import answer_record, photo_record
from shadecore.units import UNITS

_CHART, _NOTHING = "chart", "nothing"
_CORNERS: Final = 4


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "photo",
        help="a photo of a swatch",
        description="Reads a swatch's colour off photos and picks the undercoat.",
    )
    parser.add_argument("files", nargs="+", metavar="FILE", help="photos of one swatch")
    parser.add_argument(
        "--swatch",
        metavar="L,T,R,B",
        help="where the swatch lies: left, top, right, bottom in percent of the "
        "picture; found unless given",
    )
    names = ", ".join([*REFERENCES, _CHART, _NOTHING])
    parser.add_argument(
        "--against",
        default="grey card",
        metavar="WHAT",
        help=f"what lies beside it: {names}, or the L* of a grey (grey card)",
    )
    parser.add_argument(
        "--reference",
        metavar="L,T,R,B",
        help="where that lies, in percent; a chart: the middles of its corner patches "
        "dark skin, bluish green, black, white as X,Y,X,Y,X,Y,X,Y; found unless given",
    )
    parser.add_argument(
        "--light", choices=sorted(LIGHTS), default=UNKNOWN_LIGHT, help="what light"
    )
    parser.add_argument("--units", choices=sorted(UNITS), default="metric")
    parser.add_argument("--json", action="store_true", help="answer for programs")
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    if asked.blends:
        message = (
            "A photo leaves more in doubt than a blend gains; leave --blends out, or "
            "give a measured colour to pick."
        )
        raise SettingError(message)
    colours = tuple(_measured(name, options) for name in options.files)
    combined = combine(colours)
    found = pick_for_photo(combined.colour, asked.shelf, asked.settings)
    if options.json:
        odd = None if combined.odd is None else options.files[combined.odd]
        record = {
            "photo": photo_record(combined.colour, found.choices, odd),
            **answer_record(found.answer),
        }
        sys.stdout.write(json.dumps(record, indent=2) + "\n")
    else:
        sys.stdout.write(_text(combined, found, options))
    return report_bad(asked.bad, options.undercoats)


def _text(combined: Combined, found: PhotoPick, options: argparse.Namespace) -> str:
    colour = combined.colour
    warnings = list(colour.warnings)
    if combined.odd is not None:
        warnings.insert(0, odd_words(options.files[combined.odd]))
    read = f"{photo_colour_words(colour)} ({PHOTO_SURE}). {driver_words(colour)}"
    blocks = (
        Text(read, "Photo"),
        Text(choice_words(found.choices), "Choice"),
        *(Text(each, "Caution") for each in warnings),
        *answer_page(found.answer, UNITS[options.units]).blocks,
    )
    return document_text(Document(blocks=blocks))


def _measured(name: str, options: argparse.Namespace) -> PhotoColour:
    try:
        content = Path(name).read_bytes()
    except OSError as error:
        message = f"{name} cannot be opened: {error.strerror}."
        raise PhotoError(message) from error
    picture = open_picture(content, name)
    marks = _marks(picture, options)
    check_marks(marks)
    return measure_swatch(picture, marks)


def _marks(picture: Picture, options: argparse.Namespace) -> Marks:
    against = options.against.strip().lower()
    given = None if options.reference is None else _percents(options.reference)
    suggested = suggest_marks(picture)
    swatch = suggested.swatch
    if options.swatch is not None:
        swatch = area_between(_percents(options.swatch))
    if against == _NOTHING:
        return Marks(swatch, light=options.light)
    if against == _CHART:
        corners = suggested.chart
        if given is not None:
            corners = _corners(given)
        if corners is None:
            message = (
                f"No 24-patch chart was found on {picture.name}; say where its corner "
                "patches lie with --reference."
            )
            raise PhotoError(message)
        return Marks(swatch, chart=corners)
    place = suggested.reference if given is None else area_between(given)
    if place is None:
        message = (
            f"Nothing neutral was found on {picture.name}; say where the reference "
            "lies with --reference."
        )
        raise PhotoError(message)
    return Marks(swatch, ((place, _reference(against)),), light=options.light)


def _reference(against: str) -> Reference:
    known = REFERENCES.get(against)
    if known is not None:
        return known
    try:
        return own_reference(float(against.replace(",", ".")))
    except PhotoError:
        raise
    except ValueError:
        names = ", ".join([*REFERENCES, _CHART, _NOTHING])
        message = (
            f"{against!r} is not something to measure against; use one of {names}, or "
            "the L* of a grey."
        )
        raise PhotoError(message) from None


def _corners(shares: tuple[float, ...]) -> Corners:
    if len(shares) != 2 * _CORNERS:
        message = "A chart has four corners: eight percents, X and Y of each."
        raise PhotoError(message)
    return tuple(zip(shares[::2], shares[1::2], strict=True))


def _percents(text: str) -> tuple[float, ...]:
    try:
        return tuple(float(word) / 100.0 for word in text.split(","))
    except ValueError:
        message = f"{text!r} is not a place; write percents with commas between them."
        raise PhotoError(message) from None
