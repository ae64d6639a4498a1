"""``mix``: what to pour for the cup in hand, a weight, a can, or a coat more."""

import argparse
import json
import sys
from dataclasses import replace
from datetime import datetime
from typing import Final

from shadecore.commands.status import ALL_WELL
from shadecore.errors import SettingError
from shadecore.film.build import CoatFilm
from shadecore.formats.echo import brief, shown
from shadecore.from_files import plan
from shadecore.job.bench import step_mixes
from shadecore.job.material import film_of
from shadecore.job.pot_life import mix_until
from shadecore.job.pots import with_spraying
from shadecore.pages.mix_page import mix_page, mix_section
from shadecore.pages.text_layout import document_text
from shadecore.products.amount import parse_amount, volume_ml
from shadecore.products.bench import (
    BenchAsk,
    BenchMix,
    bench_mix,
    find_product,
    parse_own,
)
from shadecore.products.mixing import USUAL_FILL
from shadecore.products.product import Product, ProductSheet
from shadecore.products.sheet_file import demo_sheet, read_sheet
from shadecore.telling.safety_words import product_words
from shadecore.units import UNITS

_PERCENT: Final = 100.0
_DECIMALS: Final = 1


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "mix",
        help="what to pour at the bench, by volume and by the scale",
        description="Says what to pour of each component for the cup in hand, a "
        "weight, a can sold half full, or coats on an area.",
    )
    parser.add_argument(
        "product", metavar="PRODUCT", help="its key or kind in the sheet: base_coat"
    )
    parser.add_argument(
        "--products",
        metavar="FILE",
        help="product sheet (TOML); an invented one unless given",
    )
    amount = parser.add_argument_group("how much", "Give one; a cup may stand beside.")
    amount.add_argument("--cup", nargs="+", metavar="ML", help="in hand, like 600 ml")
    amount.add_argument(
        "--fill",
        type=float,
        metavar="PERCENT",
        default=_PERCENT * USUAL_FILL,
        help="of the cup, to leave room for stirring; %(default)g unless given",
    )
    amount.add_argument("--volume", nargs="+", metavar="ML", help="like 300 ml or 1 pt")
    amount.add_argument("--mass", nargs="+", metavar="G", help="like 180 g")
    amount.add_argument(
        "--held",
        nargs="+",
        metavar="ML",
        help="of the first component, in its can: the rest is added there",
    )
    amount.add_argument(
        "--job",
        metavar="FILE",
        help="job (TOML): what each of its steps takes, in the pots of its sheet",
    )
    amount.add_argument("--coats", type=float, metavar="N", help="with --area")
    amount.add_argument("--area", type=float, metavar="M2", help="to coat")
    amount.add_argument(
        "--film", type=float, metavar="UM", help="dry film of a coat; the sheet's"
    )
    parser.add_argument(
        "--of",
        action="append",
        default=[],
        metavar="PAINT",
        help='a paint of your own in the first component, with its parts: "4 White '
        'N 9"; give each',
    )
    parser.add_argument(
        "--mixed", metavar="HH:MM", help="when the hardener went in; now, or like 14:05"
    )
    parser.add_argument(
        "--air", type=float, metavar="C", help="of the shop; the sheet's temperature"
    )
    parser.add_argument("--units", choices=sorted(UNITS), default="metric")
    parser.add_argument("--json", action="store_true", help="answer for programs")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    given = options.products
    sheet = demo_sheet() if given is None else read_sheet(given)
    product = find_product(sheet, options.product)
    air_c = sheet.reference_c if options.air is None else options.air
    mixed_at = _mixed_at(options.mixed)
    until = None if mixed_at is None else mix_until(sheet, product, mixed_at, air_c)
    if options.job is None:
        film = film_of(product, sheet, CoatFilm()) if product.components else CoatFilm()
        asked = with_spraying(_asked(options, film), product, sheet, air_c)
        mixes = [("", bench_mix(product, asked))]
    else:
        mixes = _of_job(options, product, sheet)
    if options.json:
        told = [_record(each, until, step) for step, each in mixes]
        answer = told[0] if options.job is None else told
        sys.stdout.write(json.dumps(answer, indent=2) + "\n")
        return ALL_WELL
    sections = []
    for step, mix in mixes:
        section = mix_section(
            mix,
            options.units,
            reference_c=sheet.reference_c,
            mixed_at=mixed_at,
            until=until,
        )
        title = f"{section.title}: {brief(step)}" if step else section.title
        sections.append(replace(section, title=title))
    page = mix_page(
        sections,
        sheet_name=sheet.name,
        invented=sheet.invented,
        caution=product_words(product),
    )
    sys.stdout.write(document_text(page))
    return ALL_WELL


def _of_job(
    options: argparse.Namespace, product: Product, sheet: ProductSheet
) -> list[tuple[str, BenchMix]]:
    """What each step of a job takes, with its title."""
    amounts = (options.volume, options.mass, options.held, options.coats, options.area)
    if options.of or any(each is not None for each in amounts):
        message = (
            "A job says itself how much is mixed; leave out amounts, coats and own "
            "paints beside --job."
        )
        raise SettingError(message)
    cup = options.cup
    cup_ml = None if cup is None else volume_ml(" ".join(cup), "A cup")
    found = step_mixes(plan(options.job, sheet), product.key, cup_ml)
    return [(timed.step.title, mix) for timed, mix in found]


def _asked(options: argparse.Namespace, film: CoatFilm) -> BenchAsk:
    """What is wanted; ``film`` is that of a coat as every page reckons it."""

    def volume(words: list[str] | None, what: str) -> float | None:
        return None if words is None else volume_ml(" ".join(words), what)

    mass = None if options.mass is None else parse_amount(" ".join(options.mass))
    if mass is not None and mass.g is None:
        message = "A mass is given in g, kg or lb; for a volume take --volume."
        raise SettingError(message)
    return BenchAsk(
        volume_ml=volume(options.volume, "The volume"),
        mass_g=None if mass is None else mass.g,
        coats=options.coats,
        area_m2=options.area,
        held_ml=volume(options.held, "What is in the can"),
        cup_ml=volume(options.cup, "A cup"),
        fill=options.fill / _PERCENT,
        dry_film_um=film.dry_film_um if options.film is None else options.film,
        volume_solids=film.volume_solids,
        own=tuple(parse_own(each) for each in options.of),
    )


def _mixed_at(text: str | None) -> datetime | None:
    """A time of this day in the shop's own time."""
    if text is None:
        return None
    now = datetime.now()  # noqa: DTZ005 - the shop's own time
    if text.strip().lower() == "now":
        return now
    try:
        clock = datetime.strptime(text.strip(), "%H:%M")  # noqa: DTZ007 - as above
    except ValueError as error:
        message = f"The time {shown(text)} cannot be read; write now, or like 14:05."
        raise SettingError(message) from error
    return datetime.combine(now.date(), clock.time())


def _record(mix: BenchMix, until: datetime | None, step: str) -> dict[str, object]:
    return {
        "product": mix.product.key,
        **({"step": step} if step else {}),
        "fills": mix.fills,
        "ready_ml": round(mix.ready_ml, _DECIMALS),
        "ready_g": round(mix.ready_g, _DECIMALS),
        "pours": [
            {
                "component": each.component.name,
                "ml": round(each.volume_ml, _DECIMALS),
                "g": round(each.mass_g, _DECIMALS),
                "cup_reads_ml": round(each.level_ml, _DECIMALS),
                "scale_reads_g": round(each.scale_g, _DECIMALS),
            }
            for each in mix.pours
        ],
        "boxed": [each.component.name for each in mix.boxed],
        "use_until": None if until is None else until.isoformat(timespec="minutes"),
    }
