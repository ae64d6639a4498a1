"""The words about the topcoat's colour: its kind, one reading or several."""

import argparse
from dataclasses import replace
from typing import Any

from shadecore.colour.angle_table import (
    parse_angle_list,
    readings_from_pairs,
    readings_from_spectra,
    readings_from_text,
)
from shadecore.colour.angles import AngleReadings
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.kinds import KINDS, NOT_SAID
from shadecore.colour.topcoat import (
    HOW_TO_WRITE,
    spectrum_line,
    topcoat_from_spectrum,
)
from shadecore.commands.ask_book import is_kept, kept_question
from shadecore.commands.ask_film import KEPT
from shadecore.errors import SettingError
from shadecore.formats.table import read_text
from shadecore.question.question import Question

_AT_ONCE = 2


def add_colour(parser: argparse.ArgumentParser) -> None:
    """Take one colour.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    parser.add_argument(
        "colour",
        nargs="*",
        help=f"before the options; {HOW_TO_WRITE}; or {KEPT}NAME, a colour of the "
        "shop's book with the question it was kept with",
    )
    parser.add_argument(
        "--spectrum", metavar="FILE", help="CSV of wavelength in nm and reflectance"
    )
    group = parser.add_argument_group("what kind of colour")
    group.add_argument(
        "--kind",
        choices=KINDS,
        help="of a three-stage or candy colour give the ground's; solid unless given, "
        "or metallic or pearl where angles are",
    )
    group.add_argument(
        "--at",
        nargs=_AT_ONCE,
        action="append",
        default=[],
        metavar=("DEGREES", "LAB"),
        help='a reading at an aspecular angle, like --at 15 "109 0 -1"; 45 at least',
    )
    group.add_argument(
        "--angles",
        metavar="FILE",
        help="readings at several angles: an instrument's table, a row with L15, a15, "
        "b15, L25, ..., or spectra in columns headed by the degrees",
    )


def with_colour(options: argparse.Namespace, question: Question) -> Question:
    """A question with the colour that was given.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_colour`.
    question : Question
        With the condition that the colour was measured under.

    Returns
    -------
    Question

    Raises
    ------
    ShadecoreError
        If none or several were given, or one cannot be read.
    """
    written = " ".join(options.colour)
    ways = (written, options.spectrum, options.at, options.angles)
    if sum(map(bool, ways)) != 1:
        message = (
            f"Give the colour in one way: {HOW_TO_WRITE}; or --spectrum FILE, or for "
            "several angles --at or --angles FILE."
        )
        raise SettingError(message)
    if is_kept(options, written, question.condition):
        kept = kept_question(options, written)
        return kept if options.kind is None else replace(kept, kind=options.kind)
    asked = replace(question, kind=options.kind or NOT_SAID)
    if options.at or options.angles:
        return replace(asked, angles=_angles(options, question.condition), colour="")
    if options.spectrum:
        text = read_text(options.spectrum)
        written = spectrum_line(topcoat_from_spectrum(text, question.condition))
        # The line holds the 45/0 reading, so the mirror reflection is already out.
        condition = replace(question.condition, specular=WORKING.specular)
        return replace(asked, colour=written, condition=condition)
    return replace(asked, colour=written)


def _angles(options: argparse.Namespace, condition: Condition) -> AngleReadings:
    if options.at:
        return readings_from_pairs(options.at, condition)
    text = read_text(options.angles)
    heading: list[Any] = text.lower().split("\n", 1)[:1]
    first = str(heading[0]) if heading else ""
    if "wavelength" in first:
        return readings_from_spectra(text, options.angles)
    if "l45" not in first:
        return readings_from_text(text, condition)
    listed = parse_angle_list(text, options.angles, condition)
    if len(listed.codes) != 1:
        message = (
            f"{options.angles} has {len(listed.codes)} colours; keep one, or use chart."
        )
        raise SettingError(message)
    return listed.readings[0]
