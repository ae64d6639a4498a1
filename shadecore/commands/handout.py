"""``handout``: one colour on one printed page."""

import argparse
from typing import Final

from shadecore.commands.ask_book import kept_letterhead
from shadecore.commands.asks import ONE_COLOUR, SHOWN, add_groups, asked, report_bad
from shadecore.commands.posters import check_name, write_poster
from shadecore.lesson.asked import contrast_card_of, lesson_of
from shadecore.pages.handout import handout
from shadecore.units import UNITS

_TAKES: Final = (*ONE_COLOUR, SHOWN)


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "handout",
        help="one colour on a page to hand out",
        description="Shows the film of one colour over five greys (or over the shelf "
        "given) and why it hides where it does, on one page (.pdf or .html).",
    )
    parser.add_argument(
        "--out", metavar="FILE", required=True, help="what to write: .pdf or .html"
    )
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = check_name(options.out)
    question, bad, shelf_file = asked(options, _TAKES)
    own = None if options.undercoats is None else question.shelf
    shown = lesson_of(question, own)
    poster = handout(shown, contrast_card_of(shown), UNITS[question.units], question)
    letterhead = kept_letterhead(options)
    write_poster(poster, out, letterhead, letterhead.paper_for(question.units))
    return report_bad(bad, shelf_file)
