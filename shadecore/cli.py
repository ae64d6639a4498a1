"""The command line: ``pick`` for one colour and ``chart`` for a file of them."""

import argparse
import csv
import io
import json
import os
import re
import shutil
import sys
from collections.abc import Callable, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import NoReturn

from tqdm import tqdm

from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import (
    DEFAULT_COAT_CAP,
    DEFAULT_TOLERANCE,
    TOLERANCES,
    Settings,
    parse_tolerance,
)
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.colour.topcoat import (
    HOW_TO_WRITE,
    Topcoat,
    parse_topcoat,
    topcoat_from_spectrum,
)
from shadecore.errors import SettingError, ShadecoreError, TableError
from shadecore.film.build import (
    DEFAULT_DRY_FILM_UM,
    DEFAULT_OVERLAP,
    DEFAULT_TRANSFER_EFFICIENCY,
    DEFAULT_VOLUME_SOLIDS,
    DEFAULT_WET_PASS_UM,
    CoatFilm,
    coat_film,
    reduced_volume_solids,
)
from shadecore.report.records import CHART_COLUMNS, answer_record, chart_rows
from shadecore.report.text import answer_text
from shadecore.report.units import UNITS
from shadecore.storage.colour_table import parse_colours
from shadecore.storage.shelf_table import demo_shelf, read_shelf
from shadecore.storage.table import BadRow, read_text
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Shelf

ALL_WELL, SOME_ROWS_BAD, UNUSABLE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words after the program's name; those of the process unless given.

    Returns
    -------
    int
        0 when all is well, 1 when rows were left out, 2 when nothing could be done.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal without the degree sign shows something else in its place.
            stream.reconfigure(errors="replace")
    words = sys.argv[1:] if arguments is None else arguments
    try:
        options = _parser().parse_args([_unlike_an_option(word) for word in words])
        run: Callable[[argparse.Namespace], int] = options.run
        status = run(options)
        sys.stdout.flush()
    except ShadecoreError as error:
        print(f"shadecore: {error}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        # The reader of our output has had enough; that is no error of ours.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ALL_WELL
    return status


def _unlike_an_option(word: str) -> str:
    """Write -40,5, which looks like an option, with a true minus sign."""
    return re.sub(r"^-(?=\d*,\d)", "\N{MINUS SIGN}", word)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="shadecore",
        description="Picks the undercoat shade under a refinish topcoat.",
    )
    parser.add_argument(
        "--version", action="version", version=f"shadecore {version('shadecore')}"
    )
    commands = parser.add_subparsers(required=True, metavar="pick | chart")
    one = commands.add_parser(
        "pick", help="one colour", description="Picks the undercoat for one colour."
    )
    one.add_argument("colour", nargs="*", help=f"before the options; {HOW_TO_WRITE}")
    one.add_argument(
        "--spectrum", metavar="FILE", help="CSV of wavelength in nm and reflectance"
    )
    one.add_argument("--json", action="store_true", help="answer for programs")
    one.add_argument(
        "--units", choices=sorted(UNITS), default="metric", help="metric unless given"
    )
    _add_common(one)
    one.set_defaults(run=_pick)
    many = commands.add_parser(
        "chart",
        help="a file of colours",
        description="Picks undercoats for a file of colours (code,L,a,b).",
    )
    many.add_argument("colours", metavar="COLOURS", help="CSV with code,L,a,b")
    many.add_argument("--out", metavar="FILE", help="CSV to write; else printed")
    many.add_argument(
        "--every-undercoat",
        action="store_true",
        help="a row for each colour and undercoat, best first",
    )
    _add_common(many)
    many.set_defaults(run=_chart)
    return parser


def _add_common(parser: argparse.ArgumentParser) -> None:
    names = ", ".join(f"{name} ({value:g})" for name, (value, _) in TOLERANCES.items())
    shelf = parser.add_argument_group("shelf")
    shelf.add_argument(
        "--undercoats",
        metavar="FILE",
        help="CSV with name,L (and a,b,price,unit); else five invented greys",
    )
    shelf.add_argument(
        "--blends", action="store_true", help="let two undercoats be mixed"
    )
    shelf.add_argument(
        "--strength",
        type=float,
        metavar="TIMES",
        default=1.0,
        help="times the darker of a blend counts; 1 unless you measured one",
    )
    answer = parser.add_argument_group("answer")
    answer.add_argument(
        "--tolerance",
        default=f"{DEFAULT_TOLERANCE:g}",
        help=f"CIEDE2000 that counts as hidden, or {names}; %(default)s unless given",
    )
    answer.add_argument(
        "--cap",
        type=int,
        default=DEFAULT_COAT_CAP,
        help="coats counted at most; %(default)s unless given",
    )
    _add_film(parser)
    reading = parser.add_argument_group("how the colours and the shelf were measured")
    given = "%(default)s unless given"
    reading.add_argument("--illuminant", choices=ILLUMINANTS, default="D65", help=given)
    reading.add_argument(
        "--observer", type=int, choices=OBSERVERS, default=10, help=given
    )
    reading.add_argument("--specular", choices=SPECULAR, default="excluded", help=given)


def _add_film(parser: argparse.ArgumentParser) -> None:
    film = parser.add_argument_group(
        "film", "Give --film, or let it be worked out from the gun and the mix."
    )
    film.add_argument(
        "--film",
        type=float,
        metavar="UM",
        help=f"dry film of one coat in um; {DEFAULT_DRY_FILM_UM:g} unless given",
    )
    film.add_argument(
        "--mix", metavar="PAINT:REDUCER", help="such as 1:1 or 2:1; 1:1 unless given"
    )
    film.add_argument(
        "--wet",
        type=float,
        metavar="UM",
        help=f"wet film of one pass; {DEFAULT_WET_PASS_UM:g} unless given",
    )
    film.add_argument(
        "--overlap",
        type=float,
        metavar="PERCENT",
        help=f"of the stroke before; {100 * DEFAULT_OVERLAP:g} unless given",
    )
    film.add_argument(
        "--solids",
        type=float,
        metavar="PERCENT",
        default=100 * DEFAULT_VOLUME_SOLIDS,
        help="volume solids of the paint as it comes; %(default)g unless given",
    )
    film.add_argument(
        "--transfer",
        type=float,
        metavar="PERCENT",
        default=100 * DEFAULT_TRANSFER_EFFICIENCY,
        help="share of the paint that stays on the part; %(default)g unless given",
    )


def _pick(options: argparse.Namespace) -> int:
    condition, settings = _condition(options), _settings(options)
    shelf, bad = _shelf(options, condition)
    blends = _blends(options, shelf)
    answer = pick(
        _topcoat(options, condition),
        shelf,
        settings,
        blends=blends,
    )
    if options.json:
        print(json.dumps(answer_record(answer), indent=2))
    else:
        print(answer_text(answer, UNITS[options.units]), end="")
    return _report(bad, options.undercoats)


def _chart(options: argparse.Namespace) -> int:
    condition, settings = _condition(options), _settings(options)
    shelf, bad = _shelf(options, condition)
    colours = parse_colours(
        read_text(options.colours), Path(options.colours).name, condition
    )
    candidates = shelf + _blends(options, shelf)
    # A bar is for people: none where the errors go to a file.
    with tqdm(total=100, unit="%", desc="chart", disable=None, leave=False) as bar:
        picks = pick_many(colours.lab, candidates, settings, progress=_moves(bar))
    rows = chart_rows(
        colours, candidates, picks, settings, every_undercoat=options.every_undercoat
    )
    out = io.StringIO()
    writer = csv.DictWriter(out, CHART_COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    if options.out:
        _write_whole(Path(options.out), out.getvalue())
    else:
        sys.stdout.write(out.getvalue())
    return max(_report(bad, options.undercoats), _report(colours.bad, options.colours))


def _moves(bar: "tqdm[NoReturn]") -> Callable[[float], None]:
    def move(share: float) -> None:
        bar.update(100.0 * share - bar.n)

    return move


def _report(bad: Sequence[BadRow], name: str | None) -> int:
    """List the rows that were left out and say so in the exit status."""
    for row in bad:
        print(f"shadecore: {name}, {row}", file=sys.stderr)
    return SOME_ROWS_BAD if bad else ALL_WELL


def _condition(options: argparse.Namespace) -> Condition:
    return Condition(options.illuminant, options.observer, options.specular)


def _topcoat(options: argparse.Namespace, condition: Condition) -> Topcoat:
    written = " ".join(options.colour)
    if written and options.spectrum:
        message = "Give a colour or --spectrum FILE, not both."
        raise SettingError(message)
    if not written and not options.spectrum:
        message = f"Give a colour: {HOW_TO_WRITE}; or --spectrum FILE."
        raise SettingError(message)
    if options.spectrum:
        return topcoat_from_spectrum(read_text(options.spectrum), condition)
    return parse_topcoat(written, condition)


def _shelf(
    options: argparse.Namespace, condition: Condition
) -> tuple[Shelf, tuple[BadRow, ...]]:
    if options.undercoats is None:
        return demo_shelf(), ()
    return read_shelf(options.undercoats, condition)


def _blends(options: argparse.Namespace, shelf: Shelf) -> Shelf:
    return shelf_blends(shelf, options.strength) if options.blends else ()


def _settings(options: argparse.Namespace) -> Settings:
    return Settings(
        tolerance=parse_tolerance(options.tolerance),
        film=_film(options),
        coat_cap=options.cap,
    )


def _film(options: argparse.Namespace) -> CoatFilm:
    ratio = _ratio(options.mix or "1:1")
    solids, transfer = options.solids / 100.0, options.transfer / 100.0
    if options.film is not None:
        if (options.wet, options.overlap) != (None, None):
            message = "Give either --film or --wet and --overlap, not both."
            raise SettingError(message)
        return CoatFilm(options.film, reduced_volume_solids(solids, *ratio), transfer)
    worked_out = (options.mix, options.wet, options.overlap) != (None, None, None)
    if not worked_out:
        return CoatFilm(
            volume_solids=reduced_volume_solids(solids, *ratio),
            transfer_efficiency=transfer,
        )
    return coat_film(
        DEFAULT_WET_PASS_UM if options.wet is None else options.wet,
        DEFAULT_OVERLAP if options.overlap is None else options.overlap / 100.0,
        solids,
        ratio,
        transfer,
    )


def _ratio(text: str) -> tuple[float, float]:
    try:
        paint, reducer = (float(part) for part in text.split(":"))
    except ValueError:
        message = f"The mix {text!r} is not paint:reducer; write it like 1:1 or 2:1."
        raise SettingError(message) from None
    return paint, reducer


def _write_whole(path: Path, text: str) -> None:
    """Write a file so that it is there whole or not at all."""
    try:
        if path.exists() and not path.is_file():
            # A device or a pipe takes what it is given; a folder says it is one.
            path.write_text(text, encoding="utf-8")
            return
        target = path.resolve()
        part = target.with_name(f".{target.name}.{os.getpid()}.part")
        try:
            part.write_text(text, encoding="utf-8")
            if target.exists():
                shutil.copymode(target, part)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        reason = (error.strerror or "it failed").lower()
        message = f"{path} cannot be written: {reason}; choose another place."
        raise TableError(message) from error
