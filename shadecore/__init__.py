"""shadecore picks the undercoat shade under a refinish topcoat.

The names here are the library: a colour, a shelf and a card go in as a person has them,
and answers come out as records, as text and as data. Everything is loaded when it is
first used, so that a program waits only for what it needs.

Examples
--------
>>> import shadecore
>>> answer = shadecore.pick("45 60 35")
>>> answer.recommended.undercoat.name
'White N 9'
>>> shadecore.pick((45, 60, 35), [shadecore.undercoat("my grey", 60)]).outlooks[
...     0
... ].undercoat.name
'my grey'
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shadecore.api import ask, pick, pick_many, record, text, undercoat
    from shadecore.book.book import Book, open_book
    from shadecore.book.errors import BookConflict, BookError
    from shadecore.book.import_plan import Import, ImportPlan, Skipped
    from shadecore.book.kept import Change, Kept
    from shadecore.book.records import (
        AngleReading,
        BookCard,
        BookColour,
        BookPhoto,
        BookSeen,
        BookShelf,
        Stocked,
    )
    from shadecore.book.shop_records import (
        BookJob,
        BookLeftOver,
        BookSheet,
        BookSteps,
        PaintLine,
        ShopSettings,
        SprayGun,
    )
    from shadecore.book.told import Told
    from shadecore.card.reading import Card, Step
    from shadecore.coats.answer import Answer, Count, Outlook, Picks
    from shadecore.coats.settings import Settings
    from shadecore.colour.condition import Condition
    from shadecore.colour.topcoat import (
        Topcoat,
        parse_topcoat,
        topcoat_from_spectrum,
    )
    from shadecore.errors import (
        CardError,
        ColourError,
        JobError,
        PhotoError,
        SettingError,
        ShadecoreError,
        ShelfError,
        SpectrumError,
        TableError,
    )
    from shadecore.film.build import CoatFilm, coat_film
    from shadecore.from_files import (
        measure_photo,
        mix,
        open_card,
        open_job,
        open_products,
        plan,
    )
    from shadecore.job.bench import one_coat_more, step_mixes
    from shadecore.job.estimate import Estimate, Outcome, ShopRates
    from shadecore.job.pot_life import mix_until
    from shadecore.job.safety import Booth, StepSafety, step_safety
    from shadecore.pages.letterhead import Letterhead
    from shadecore.prints import booth_pdf, cautions_pdf, estimate_pdf
    from shadecore.products.bench import BenchAsk, BenchMix, bench_mix
    from shadecore.products.cups import cup_seconds, find_cup, in_every_cup
    from shadecore.products.left_overs import LeftOver, Reuse, may_be_used
    from shadecore.question.answer import answer
    from shadecore.question.question import FilmAsked, Mixing, Question
    from shadecore.undercoats.blends import shelf_blends
    from shadecore.undercoats.shelf import Undercoat
    from shadecore.undercoats.shelf_table import demo_shelf, read_shelf, write_shelf

__version__ = "0.1.0"

_HOMES = {
    "shadecore.api": ("ask", "pick", "pick_many", "record", "text", "undercoat"),
    "shadecore.book.book": ("Book", "open_book"),
    "shadecore.book.errors": ("BookConflict", "BookError"),
    "shadecore.book.import_plan": ("Import", "ImportPlan", "Skipped"),
    "shadecore.book.kept": ("Change", "Kept"),
    "shadecore.book.records": (
        *("AngleReading", "BookCard", "BookColour", "BookPhoto", "BookSeen"),
        *("BookShelf", "Stocked"),
    ),
    "shadecore.book.shop_records": (
        *("BookJob", "BookLeftOver", "BookSheet", "BookSteps", "PaintLine"),
        *("ShopSettings", "SprayGun"),
    ),
    "shadecore.book.told": ("Told",),
    "shadecore.card.reading": ("Card", "Step"),
    "shadecore.coats.answer": ("Answer", "Count", "Outlook", "Picks"),
    "shadecore.coats.settings": ("Settings",),
    "shadecore.colour.condition": ("Condition",),
    "shadecore.colour.topcoat": (
        "Topcoat",
        "parse_topcoat",
        "topcoat_from_spectrum",
    ),
    "shadecore.errors": (
        "CardError",
        "ColourError",
        "JobError",
        "PhotoError",
        "SettingError",
        "ShadecoreError",
        "ShelfError",
        "SpectrumError",
        "TableError",
    ),
    "shadecore.film.build": ("CoatFilm", "coat_film"),
    "shadecore.from_files": (
        *("measure_photo", "mix", "open_card", "open_job", "open_products"),
        "plan",
    ),
    "shadecore.job.bench": ("one_coat_more", "step_mixes"),
    "shadecore.job.estimate": ("Estimate", "Outcome", "ShopRates"),
    "shadecore.job.pot_life": ("mix_until",),
    "shadecore.job.safety": ("Booth", "StepSafety", "step_safety"),
    "shadecore.pages.letterhead": ("Letterhead",),
    "shadecore.prints": ("booth_pdf", "cautions_pdf", "estimate_pdf"),
    "shadecore.products.bench": ("BenchAsk", "BenchMix", "bench_mix"),
    "shadecore.products.cups": ("cup_seconds", "find_cup", "in_every_cup"),
    "shadecore.products.left_overs": ("LeftOver", "Reuse", "may_be_used"),
    "shadecore.question.answer": ("answer",),
    "shadecore.question.question": ("FilmAsked", "Mixing", "Question"),
    "shadecore.undercoats.blends": ("shelf_blends",),
    "shadecore.undercoats.shelf": ("Undercoat",),
    "shadecore.undercoats.shelf_table": ("demo_shelf", "read_shelf", "write_shelf"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}
__all__ = sorted(_HOME_OF)  # noqa: PLE0605 - made from the table above


def __getattr__(name: str) -> object:
    """Load a name of the library at its first use (PEP 562)."""
    if name not in _HOME_OF:
        message = f"module 'shadecore' has no attribute {name!r}"
        raise AttributeError(message)
    return getattr(import_module(_HOME_OF[name]), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
