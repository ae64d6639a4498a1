"""``photo``: the colour of a swatch on photos, and the undercoat for it."""

import argparse
import json
import sys
from dataclasses import replace
from typing import Final

from shadecore.coats.uncertain import Choice
from shadecore.commands.asks import (
    CONDITION,
    FILM,
    SHELF,
    SHOWN,
    TOLERANCE,
    add_groups,
    asked,
    report_bad,
)
from shadecore.errors import PhotoError
from shadecore.photo.combine import Combined, combine
from shadecore.photo.from_file import AGAINST, measure_file
from shadecore.photo.rendering import LIGHTS, UNKNOWN_LIGHT
from shadecore.question.answer import answer, photo_choices
from shadecore.question.photo_line import photo_fields
from shadecore.telling.photo_words import (
    choice_words,
    driver_words,
    interval_words,
    odd_words,
    photo_record,
)
from shadecore.telling.records import answer_record
from shadecore.telling.text import answer_text, block
from shadecore.units import UNITS

_PERCENT: Final = 100.0
_TAKES: Final = (SHELF, TOLERANCE, FILM, CONDITION, SHOWN)


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
    names = ", ".join(AGAINST)
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
    parser.add_argument("--json", action="store_true", help="answer for programs")
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    found = asked(options, _TAKES)
    colours = tuple(
        measure_file(
            name,
            swatch=_percents(options.swatch),
            against=options.against,
            reference=_percents(options.reference),
            light=options.light,
        )
        for name in options.files
    )
    combined = combine(colours)
    question = replace(found.question, **photo_fields(combined.colour))
    picked, chosen = answer(question), photo_choices(question)
    if options.json:
        odd = None if combined.odd is None else options.files[combined.odd]
        record = {
            "photo": photo_record(combined.colour, chosen, odd),
            **answer_record(picked),
        }
        sys.stdout.write(json.dumps(record, indent=2) + "\n")
    else:
        words = _text(combined, chosen, options)
        sys.stdout.write(words + answer_text(picked, UNITS[question.units]))
    return report_bad(found.bad, found.shelf_file)


def _text(
    combined: Combined, chosen: tuple[Choice, ...], options: argparse.Namespace
) -> str:
    colour = combined.colour
    warnings = list(colour.warnings)
    if combined.odd is not None:
        warnings.insert(0, odd_words(options.files[combined.odd]))
    lines = [
        block("Photo", f"{interval_words(colour)} (95 %). {driver_words(colour)}"),
        block("Choice", choice_words(chosen)),
        *(block("Caution", each) for each in warnings),
    ]
    return "\n".join(lines) + "\n"


def _percents(text: str | None) -> tuple[float, ...] | None:
    if text is None:
        return None
    try:
        return tuple(float(word) / _PERCENT for word in text.split(","))
    except ValueError:
        message = f"{text!r} is not a place; write percents with commas between them."
        raise PhotoError(message) from None
