"""How much base coat a pick takes: the same on every page and print.

The dry film of one coat is the question's, so that no sheet moves the count. What is
sprayed for that film depends on the solids of the mix, and those are the product
sheet's where one was chosen.
"""

from dataclasses import replace
from functools import lru_cache
from typing import Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.film.build import CoatFilm
from shadecore.products.materials import mixed_solids
from shadecore.products.product import Product, ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import FilmAsked

_REMEMBERED: Final = 64
_PERCENT: Final = 100.0


def base_coat_film(film: CoatFilm, sheet: ProductSheet, base: Product) -> CoatFilm:
    """The film of a coat of base, with the solids that it is sprayed with.

    Parameters
    ----------
    film : CoatFilm
        As the question has it.
    sheet : ProductSheet
        What is planned from.
    base : Product
        The base coat of that sheet.

    Returns
    -------
    CoatFilm
        With the solids of the base coat as mixed. The invented line stands in where
        nobody chose a sheet, so it leaves the question's.
    """
    if sheet == demo_sheet():
        return film
    return replace(film, volume_solids=mixed_solids(base.components))


def film_asked(film: FilmAsked, sheet: ProductSheet | None) -> FilmAsked:
    """The film of a question, with the mix and the solids that are planned with.

    Parameters
    ----------
    film : FilmAsked
        As the question has it.
    sheet : ProductSheet or None
        What is planned from; None where nobody chose one.

    Returns
    -------
    FilmAsked
        One of the same dry film, for what is worked out beside the answer, so that it
        takes the paint that :func:`with_amounts` says.
    """
    if sheet is None or sheet == demo_sheet():
        return film
    mix = sheet.of_kind("base_coat").components
    paint = sum(each.parts for each in mix if each.volume_solids)
    solids = sum(each.parts * each.volume_solids for each in mix) / paint
    return replace(
        film,
        dry_film_um=film.coat.dry_film_um,
        from_gun=False,
        paint_parts=paint,
        reducer_parts=sum(each.parts for each in mix if not each.volume_solids),
        solids_percent=_PERCENT * solids,
    )


def with_amounts(answer: Answer, sheet: ProductSheet | None) -> Answer:
    """An answer whose amounts are those of a product sheet.

    Parameters
    ----------
    answer : Answer
        The answer.
    sheet : ProductSheet or None
        What is planned from; None where nobody chose one.

    Returns
    -------
    Answer
        The same coats and chances.
    """
    if sheet is None:
        return answer
    base = sheet.of_kind("base_coat")
    film = base_coat_film(answer.settings.film, sheet, base)
    return answer if film == answer.settings.film else _with_film(answer, film)


@lru_cache(maxsize=_REMEMBERED)
def _with_film(answer: Answer, film: CoatFilm) -> Answer:
    def amounts(outlook: Outlook) -> Outlook:
        coats = outlook.coats
        taken = None if coats is None else film.sprayed_ml_per_m2(coats)
        return replace(outlook, paint_ml_per_m2=taken)

    return replace(
        answer,
        settings=replace(answer.settings, film=film),
        outlooks=tuple(map(amounts, answer.outlooks)),
        recommended=amounts(answer.recommended),
        closest=amounts(answer.closest),
        mix=None if answer.mix is None else amounts(answer.mix),
    )
