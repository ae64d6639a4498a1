"""``photo``: the colour of a swatch on photos, and the undercoat for it."""

import argparse
import json
import logging
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Final

from shadecore.coats.uncertain import Choice
from shadecore.colour.kinds import KINDS, NOT_SAID
from shadecore.commands.ask_book import add_book
from shadecore.commands.ask_learned import with_book
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
from shadecore.formats.echo import shown
from shadecore.pages.answer_page import answer_page
from shadecore.pages.blocks import Block, Document, Text
from shadecore.pages.text_layout import document_text
from shadecore.photo.combine import Combined, combine
from shadecore.photo.from_file import AGAINST, FOUND, measure_file
from shadecore.photo.rendering import LIGHTS, UNKNOWN_LIGHT
from shadecore.question.answer import answer, photo_choices
from shadecore.question.photo_line import photo_fields
from shadecore.question.question import Question
from shadecore.telling.photo_words import (
    PHOTO_SURE,
    choice_words,
    driver_words,
    odd_words,
    one_side_words,
    photo_colour_words,
)
from shadecore.telling.records import photo_record, question_record

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
        description="Reads a swatch's colour off photos and picks the sealer.",
    )
    parser.add_argument("files", nargs="+", metavar="FILE", help="photos of one swatch")
    parser.add_argument(
        "--kind",
        choices=KINDS,
        default=NOT_SAID,
        help="what kind of colour it is; a photo shows one side only, and of a "
        "three-stage or candy colour the ground must be on it",
    )
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
        help=f"where that lies, in percent, or '{FOUND}' where the guessed place is "
        "right, which is refused unless said; a chart: the middles of its corner "
        "patches brown, turquoise, black, white as X,Y,X,Y,X,Y,X,Y, found unless given",
    )
    parser.add_argument(
        "--light", choices=sorted(LIGHTS), default=UNKNOWN_LIGHT, help="what light"
    )
    parser.add_argument("--json", action="store_true", help="answer for programs")
    add_groups(parser, _TAKES)
    add_book(parser)
    parser.set_defaults(run=_run)


@contextmanager
def _decoders_silent() -> Iterator[None]:
    """Keep what decoders say of a damaged file out of the error output.

    Some are written in C and write there past Python.
    """
    kept = os.dup(2)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    logging.disable()
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        logging.disable(logging.NOTSET)
        os.close(nowhere)
        os.close(kept)


def _run(options: argparse.Namespace) -> int:
    found = asked(options, _TAKES)
    with _decoders_silent():
        colours = tuple(
            measure_file(
                name,
                swatch=_percents(options.swatch),
                against=options.against,
                reference=_reference(options.reference),
                light=options.light,
            )
            for name in options.files
        )
    combined = combine(colours)
    read = photo_fields(combined.colour)
    question = with_book(options, replace(found.question, kind=options.kind, **read))
    picked, chosen = answer(question), photo_choices(question)
    if options.json:
        odd = None if combined.odd is None else options.files[combined.odd]
        record = {
            "photo": photo_record(combined.colour, chosen, odd),
            **question_record(question, picked),
        }
        sys.stdout.write(json.dumps(record, indent=2) + "\n")
    else:
        page = answer_page(question, picked)
        blocks = (*_blocks(combined, chosen, options, question), *page.blocks)
        sys.stdout.write(document_text(Document(blocks=blocks)))
    return report_bad(found.bad, found.shelf_file)


def _blocks(
    combined: Combined,
    chosen: tuple[Choice, ...],
    options: argparse.Namespace,
    question: Question,
) -> tuple[Block, ...]:
    colour = combined.colour
    one_side = one_side_words(question)
    warnings = [*([one_side] if one_side else []), *colour.warnings]
    if combined.odd is not None:
        warnings.insert(0, odd_words(options.files[combined.odd]))
    read = f"{photo_colour_words(colour)} ({PHOTO_SURE}). {driver_words(colour)}"
    return (
        Text(read, "Photo"),
        *([Text(choice_words(chosen), "Choice")] if chosen else []),
        *(Text(each, "Caution") for each in warnings),
    )


def _reference(text: str | None) -> tuple[float, ...] | str | None:
    return FOUND if text == FOUND else _percents(text)


def _percents(text: str | None) -> tuple[float, ...] | None:
    if text is None:
        return None
    try:
        return tuple(float(word) / _PERCENT for word in text.split(","))
    except ValueError:
        message = (
            f"{shown(text)} is not a place; write percents with commas between them."
        )
        raise PhotoError(message) from None
