"""``sand-throughs``: one colour over several undercoats on one panel."""

import argparse
import sys
from dataclasses import replace
from typing import Final

from shadecore.commands.asks import ONE_COLOUR, add_groups, asked, report_bad
from shadecore.pages.blocks import Text
from shadecore.pages.details import sand_throughs_table
from shadecore.pages.text_layout import block_text
from shadecore.question.answer import sand_throughs_of
from shadecore.telling.hiding_words import sand_through_words

_TAKES: Final = ONE_COLOUR


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "sand-throughs",
        aliases=["patches"],
        help="one colour over several sealers at once",
        description="Follows a colour over areas with different sealers, and says "
        "whether sealing first is cheaper.",
    )
    parser.add_argument(
        "--area",
        action="append",
        default=[],
        metavar="NAME",
        help="a sealer on the shelf that lies bare; give two or more",
    )
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, _TAKES)
    found = sand_throughs_of(replace(question, areas=tuple(options.area)))
    words = Text(sand_through_words(found, question.tolerance), "Sealing")
    sys.stdout.write(f"{block_text(words)}\n{block_text(sand_throughs_table(found))}")
    return report_bad(bad, shelf_file)
