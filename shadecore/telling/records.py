"""Answers as rows and as plain data, for programs."""

from typing import Any, Final

from shadecore.coats.answer import Answer, Outlook, Picks
from shadecore.coats.flags import raise_flags
from shadecore.coats.hiding import rating
from shadecore.coats.settings import Settings
from shadecore.colour.colour_table import ColourList
from shadecore.telling.reasons import why
from shadecore.undercoats.shelf import Shelf

CHART_COLUMNS: Final = (
    "code",
    "undercoat",
    "coats",
    "coats_low",
    "coats_high",
    "closest_in_lightness",
    "closest_coats",
    "hiding",
    "flags",
)
FLAG_SEPARATOR: Final = ";"
_DECIMALS: Final = 4


def chart_rows(
    colours: ColourList,
    undercoats: Shelf,
    picks: Picks,
    settings: Settings,
    *,
    every_undercoat: bool = False,
) -> list[dict[str, str]]:
    """Rows of a chart.

    Parameters
    ----------
    colours : ColourList
        The colours.
    undercoats : tuple of Undercoat
        What was chosen from.
    picks : Picks
        The answers.
    settings : Settings
        What they were worked out with.
    every_undercoat : bool
        One row for each colour and undercoat, best first, instead of one for each
        colour.

    Returns
    -------
    list of dict
        Texts by ``CHART_COLUMNS``; a count that lies beyond the cap is empty.
    """
    ranks = len(undercoats) if every_undercoat else 1
    hiding = rating(picks.contrast_ratio)
    counts = picks.counts
    flags = [
        raise_flags(
            counts, picks.order[:, each], colours.lab[:, 0], picks.nearest, settings
        )
        for each in range(ranks)
    ]
    rows = []
    for place, code in enumerate(colours.codes):
        closest = picks.closest[place]
        for each in range(ranks):
            chosen = picks.order[place, each]
            rows.append(
                {
                    "code": code,
                    "undercoat": undercoats[chosen].name,
                    "coats": _count(counts.coats[place, chosen], counts.cap),
                    "coats_low": _count(counts.low[place, chosen], counts.cap),
                    "coats_high": _count(counts.high[place, chosen], counts.cap),
                    "closest_in_lightness": undercoats[closest].name,
                    "closest_coats": _count(counts.coats[place, closest], counts.cap),
                    "hiding": str(hiding[place]),
                    "flags": FLAG_SEPARATOR.join(f.code for f in flags[each][place]),
                }
            )
    return rows


def _count(coats: int, cap: int) -> str:
    return str(coats) if coats <= cap else ""


def answer_record(answer: Answer) -> dict[str, Any]:
    """An answer as plain data, ready for JSON.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    dict
        Counts beyond the cap are None.
    """
    settings = answer.settings
    return {
        "topcoat": {
            "entered": answer.topcoat.entered,
            "lab_d65_10": _rounded(answer.topcoat.lab),
        },
        "settings": {
            "tolerance_de00": settings.tolerance,
            "dry_film_um_per_coat": round(settings.film.dry_film_um, _DECIMALS),
            "coat_cap": settings.coat_cap,
            "film_limit_um": settings.film_limit_um,
        },
        "basis": answer.basis,
        "recommended": answer.recommended.undercoat.name,
        "closest_in_lightness": answer.closest.undercoat.name,
        "why": why(answer),
        "hiding": {
            "rating": answer.hiding.rating,
            "contrast_ratio": round(answer.hiding.contrast_ratio, _DECIMALS),
            "interval_90": _rounded((answer.hiding.low, answer.hiding.high)),
            "dry_film_um": answer.hiding.film_um,
        },
        "flags": [
            {"code": flag.code, "headline": flag.headline, "advice": flag.advice}
            for flag in answer.flags
        ],
        "nearest_recipe_de00": round(answer.nearest_recipe, _DECIMALS),
        "undercoats": [_outlook_record(each) for each in answer.lines],
    }


def _outlook_record(outlook: Outlook) -> dict[str, Any]:
    undercoat = outlook.undercoat
    return {
        "name": undercoat.name,
        "lab_d65_10": _rounded(undercoat.lab),
        "parts": [{"undercoat": name, "parts": n} for name, n in undercoat.parts],
        "price": undercoat.price,
        "unit": undercoat.unit,
        "coats": outlook.coats,
        "coats_low": outlook.count.low,
        "coats_high": outlook.count.high,
        "coats_average": round(outlook.coats_average, 2),
        "chance_hidden_by_coat": _rounded(outlook.count.chance),
        "de00_left_after_coat": _rounded(outlook.difference),
        "paint_ml_per_m2": (
            None
            if outlook.paint_ml_per_m2 is None
            else round(outlook.paint_ml_per_m2, 1)
        ),
        "flags": [flag.code for flag in outlook.flags],
    }


def _rounded(values: tuple[float, ...]) -> list[float]:
    return [round(value, _DECIMALS) for value in values]
