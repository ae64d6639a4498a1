"""``pick``: the undercoat for one colour."""

import argparse
import json
import sys
from typing import Final

from shadecore.commands.asks import (
    MIXING,
    ONE_COLOUR,
    SHOWN,
    add_groups,
    asked,
    report_bad,
)
from shadecore.commands.progress import make_ready
from shadecore.pages.answer_page import answer_page
from shadecore.pages.text_layout import document_text
from shadecore.question.answer import answer, card_power
from shadecore.telling.records import question_record

_TAKES: Final = (*ONE_COLOUR, MIXING, SHOWN)


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "pick", help="one colour", description="Picks the sealer for one colour."
    )
    parser.add_argument("--json", action="store_true", help="answer for programs")
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, _TAKES)
    make_ready(question)
    found, power = answer(question), card_power(question)
    if options.json:
        sys.stdout.write(
            json.dumps(question_record(question, found, power), indent=2) + "\n"
        )
    else:
        sys.stdout.write(document_text(answer_page(question, found, power)))
    return report_bad(bad, shelf_file)
