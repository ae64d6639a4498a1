"""``handout``: one colour on one printed page."""

import argparse

from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.commands.posters import check_name, write_poster
from shadecore.lesson.contrast_card import contrast_card
from shadecore.lesson.panels import lesson
from shadecore.pages.handout import handout
from shadecore.units import UNITS


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
    add_colour(parser)
    parser.add_argument(
        "--out", metavar="FILE", required=True, help="what to write: .pdf or .html"
    )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = check_name(options.out)
    asked = job(options)
    topcoat, fit = read_colour(options, asked)
    shown = lesson(
        topcoat,
        asked.settings,
        None if options.undercoats is None else asked.shelf + asked.blends,
        paints_of(fit),
    )
    card = contrast_card(shown.answer)
    write_poster(handout(shown, card, UNITS[options.units]), out, options.units)
    return report_bad(asked.bad, options.undercoats)
