"""Answers as rows and as plain data, for programs."""

from typing import TYPE_CHECKING, Any, Final

from shadecore.card.hiding_power import HidingPower
from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.loading import default_loading
from shadecore.coats.rests_on import RestsOn
from shadecore.coats.uncertain import Choice, settled
from shadecore.question.answer import answer_as_usual
from shadecore.question.question import Question
from shadecore.telling.basis import BASIS, CAUTION
from shadecore.telling.counts import average_coats, plan_words
from shadecore.telling.effect_words import kind_words
from shadecore.telling.flag_words import warning_of
from shadecore.telling.reasons import why
from shadecore.telling.seen import loading_words

if TYPE_CHECKING:
    from shadecore.photo.measure import PhotoColour

_DECIMALS: Final = 4


def answer_record(answer: Answer, power: HidingPower | None = None) -> dict[str, Any]:
    """An answer as plain data, ready for JSON: all that the text says.

    Parameters
    ----------
    answer : Answer
        The answer.
    power : HidingPower, optional
        What a test card says of the paint's hiding.

    Returns
    -------
    dict
        Counts beyond the cap are None; ``hiding_power`` is None without a card.
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
        "basis_text": BASIS[answer.basis],
        "recommended": answer.recommended.undercoat.name,
        "plan": plan_words(answer.recommended.count),
        "closest_in_lightness": answer.closest.undercoat.name,
        "why": why(answer),
        "hiding": {
            "rating": answer.hiding.rating,
            "contrast_ratio": round(answer.hiding.contrast_ratio, _DECIMALS),
            "interval_90": _rounded((answer.hiding.low, answer.hiding.high)),
            "dry_film_um": answer.hiding.film_um,
            "chance_of_hiding_poorly": round(answer.poor_chance, _DECIMALS),
            "from_colour_alone": answer.guessed,
        },
        "seen": [_rests_record(each) for each in answer.rests_on],
        "seen_left_out": answer.left_out,
        "mix": None if answer.mix is None else _outlook_record(answer.mix),
        "hiding_power": None if power is None else _power_record(power),
        "flags": [
            {"code": flag.code, **warning_of(flag)._asdict()} for flag in answer.flags
        ],
        "nearest_recipe_de00": round(answer.nearest_recipe, _DECIMALS),
        "undercoats": [_outlook_record(each) for each in answer.lines],
        "caution": CAUTION,
    }


def question_record(
    question: Question, answer: Answer, power: HidingPower | None = None
) -> dict[str, Any]:
    """An answer as plain data with the kind of colour that was asked about.

    Parameters
    ----------
    question : Question
        What was asked.
    answer : Answer
        Its answer.
    power : HidingPower, optional
        What a test card says of the paint's hiding.

    Returns
    -------
    dict
        As :func:`answer_record`, with ``kind`` (None where nobody said), its
        ``kind_text``, the ``angles`` read, and the angle at which the recommended
        undercoat hides last (None for a solid colour); the ``loading`` that was
        learned, and what would be recommended without it (None where nothing was).
    """
    flakes = bool(question.flakes)
    usual = answer_as_usual(question)
    return {
        "kind": question.kind or None,
        "kind_text": kind_words(question),
        "angles": list(question.readings.angles) if flakes else [],
        "last_angle": answer.recommended.last_angle if flakes else None,
        "loading": {
            "mean_ln": round(question.loading.mean, _DECIMALS),
            "spread_ln": round(question.loading.spread, _DECIMALS),
            "jobs": question.loading.jobs,
            "text": loading_words(question.loading, default_loading()),
        },
        "without_what_was_learned": (
            None if usual is None else _outlook_record(usual.recommended)
        ),
        **answer_record(answer, power),
    }


def _power_record(power: HidingPower) -> dict[str, Any]:
    film, *films = power.dry_film_um
    rate, *rates = power.spreading_rate_m2_per_l
    return {
        "contrast_ratio": power.contrast_ratio,
        "dry_film_um": round(film, _DECIMALS),
        "dry_film_um_interval_90": _rounded(tuple(films)),
        "spreading_rate_m2_per_l": round(rate, _DECIMALS),
        "spreading_rate_interval_90": _rounded(tuple(rates)),
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
        "coats_average": round(average_coats(outlook.count), 2),
        "chance_hidden_by_coat": _rounded(outlook.count.chance),
        "de00_left_after_coat": _rounded(outlook.difference),
        "paint_ml_per_m2": (
            None
            if outlook.paint_ml_per_m2 is None
            else round(outlook.paint_ml_per_m2, 1)
        ),
        "flags": [flag.code for flag in outlook.flags],
    }


def _rests_record(rests: RestsOn) -> dict[str, Any]:
    seen = rests.seen
    return {
        "source": seen.source,
        "undercoat": None if seen.undercoat is None else seen.undercoat.name,
        "coats_low": seen.coats_low,
        "coats_high": seen.coats_high,
        "hid": seen.hid,
        "interval_90_before": [rests.low_before, rests.high_before],
        "interval_90_with_it_alone": [rests.low_after, rests.high_after],
        "contradicts": rests.contradicts,
    }


def photo_record(
    colour: "PhotoColour", choices: tuple[Choice, ...], odd: str | None
) -> dict[str, Any]:
    """Colour, doubt and choices as plain data.

    Parameters
    ----------
    colour : PhotoColour
        The colour.
    choices : tuple of Choice
        Undercoats that come out, the pick first.
    odd : str or None
        Name of the photo that was left out.

    Returns
    -------
    dict
    """
    return {
        "lab": list(colour.lab),
        "interval_95": list(colour.interval),
        "covariance": colour.covariance.tolist(),
        "doubt": {each.name: each.size for each in colour.drivers},
        "warnings": list(colour.warnings),
        "choices": {each.undercoat.name: each.share for each in choices},
        "settled": settled(choices),
        "left_out": odd,
    }


def _rounded(values: tuple[float, ...]) -> list[float]:
    return [round(value, _DECIMALS) for value in values]
