"""``midcoats``: how many mid-coats of a three-stage colour match the car."""

import argparse
import json
import sys
from dataclasses import asdict
from typing import Final

import numpy as np

from shadecore.coats.settings import DEFAULT_TOLERANCE, parse_tolerance
from shadecore.colour.angle_table import readings_from_pairs
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import parse_topcoat
from shadecore.commands.status import ALL_WELL
from shadecore.effects.midcoat_model import estimate_midcoats
from shadecore.effects.midcoat_panel import parse_midcoat_panel
from shadecore.effects.midcoats import match_midcoats
from shadecore.errors import SettingError
from shadecore.formats.table import read_text
from shadecore.pages.blocks import Document, Text
from shadecore.pages.text_layout import document_text
from shadecore.telling.effect_words import (
    midcoat_words,
    rough_midcoat_words,
    turned_words,
)
from shadecore.undercoats.shelf import undercoat

_KEYS: Final = ("coats", "fraction", "difference", "fits", "suspect")
_DECIMALS: Final = 4


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "midcoats",
        help="mid-coats of a three-stage colour, from a let-down panel",
        description="Says how many mid-coats match the car, from readings of a "
        "let-down panel; without one, roughly, from the car and its ground.",
    )
    parser.add_argument(
        "panel",
        nargs="?",
        metavar="PANEL",
        help="CSV with area (car, 0, 1, ...) and L15,a15,b15,L25,...; all under clear, "
        "0 is the bare ground",
    )
    rough = parser.add_argument_group("without a panel: plausible pearls, a wide guess")
    rough.add_argument("--ground", metavar="LAB", help='of the ground: "92 0 2"')
    rough.add_argument(
        "--at",
        nargs=2,
        action="append",
        default=[],
        metavar=("DEGREES", "LAB"),
        help='the car under clear at an aspecular angle, like --at 45 "88 0 4"',
    )
    parser.add_argument(
        "--tolerance",
        default=f"{DEFAULT_TOLERANCE:g}",
        help="largest CIEDE2000 over the angles that matches; %(default)s unless given",
    )
    parser.add_argument("--json", action="store_true", help="answer for programs")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    if options.panel is None:
        return _without_panel(options)
    if options.ground is not None or options.at:
        message = "Give a panel, or the ground and the car's angles, not both."
        raise SettingError(message)
    panel = parse_midcoat_panel(read_text(options.panel), options.panel)
    tolerance = parse_tolerance(options.tolerance)
    match = match_midcoats(panel.car, panel.strips, tolerance)
    if options.json:
        record = {
            key: round(value, _DECIMALS) if isinstance(value, float) else value
            for key, value in asdict(match).items()
        }
        first = {key: record.pop(key) for key in _KEYS}
        sys.stdout.write(json.dumps({**first, **record}, indent=2) + "\n")
        return ALL_WELL
    blocks = [Text(midcoat_words(match, tolerance), "Mid-coats")]
    blocks += [Text(each, "Angles") for each in turned_words(match)]
    sys.stdout.write(document_text(Document(blocks=tuple(blocks))))
    return ALL_WELL


def _without_panel(options: argparse.Namespace) -> int:
    if options.ground is None or not options.at:
        message = (
            "Give a let-down panel; or, for a rough guess, the ground as --ground and "
            "the car's readings as --at, one for each angle."
        )
        raise SettingError(message)
    ground = undercoat("ground", parse_topcoat(options.ground).lab)
    inside = directional().inside(np.array(ground.reflectance))
    found = estimate_midcoats(readings_from_pairs(options.at), inside)
    if options.json:
        sys.stdout.write(json.dumps(asdict(found), indent=2) + "\n")
        return ALL_WELL
    blocks = [Text(rough_midcoat_words(found), "Mid-coats")]
    blocks += [Text(each, "Angles") for each in turned_words(found)]
    sys.stdout.write(document_text(Document(blocks=tuple(blocks))))
    return ALL_WELL
