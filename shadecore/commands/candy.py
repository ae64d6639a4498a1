"""``candy``: coats of a candy over its ground, from one strip of it."""

import argparse
import json
import sys
from dataclasses import asdict

from shadecore.commands.status import ALL_WELL
from shadecore.effects.candy import candy_from_strip, match_candy
from shadecore.effects.candy_strip import parse_candy_strip
from shadecore.formats.table import read_text
from shadecore.pages.blocks import Document, Text
from shadecore.pages.text_layout import document_text
from shadecore.telling.effect_words import candy_words


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "candy",
        help="coats of a candy over its ground",
        description="Says how many coats of a candy match a target, and what a coat "
        "more and a tenth more film change. A candy never hides its ground.",
    )
    parser.add_argument(
        "strip",
        metavar="STRIP",
        help="CSV with area (target, 0 for the bare ground, and the coats of one "
        "strip) and L15,a15,b15,L25,..., or L45,a45,b45 alone; all under clear",
    )
    parser.add_argument("--json", action="store_true", help="answer for programs")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    read = parse_candy_strip(read_text(options.strip), options.strip)
    candy = candy_from_strip(read.ground, read.strip, read.coats)
    match = match_candy(candy, read.target)
    if options.json:
        sys.stdout.write(json.dumps(asdict(match), indent=2) + "\n")
        return ALL_WELL
    words = Text(candy_words(match, candy.angles), "Candy")
    sys.stdout.write(document_text(Document(blocks=(words,))))
    return ALL_WELL
