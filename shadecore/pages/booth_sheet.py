"""The sheet that hangs by the booth, as a document; its parts stand in ``sheet_*``."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from shadecore.coats.answer import Outlook
from shadecore.formats.echo import brief
from shadecore.job.choice import Choice
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import UNMEASURED
from shadecore.job.safety import Booth
from shadecore.pages.blocks import (
    ByHand,
    Document,
    Section,
    Swatch,
    Swatches,
    Text,
)
from shadecore.pages.sheet_gun import gun_section, strokes_section, viscosity_section
from shadecore.pages.sheet_mix import mix_section
from shadecore.pages.sheet_safety import UNKNOWN, cautions_section, safety_section
from shadecore.pages.sheet_schedule import purpose_section, schedule_section
from shadecore.pages.sheet_voc import voc_section
from shadecore.telling.basis import BASIS, PAPER_NOTE
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import planned_words
from shadecore.telling.day_words import day_notes
from shadecore.telling.effect_words import kind_words, last_angle_words
from shadecore.telling.flag_words import warning_words
from shadecore.telling.job_words import DRYING_NOTE, when_words
from shadecore.telling.limit_words import broken_limits
from shadecore.telling.plan_notes import PUT_OFF, plan_notes
from shadecore.telling.under_words import under_head, under_words
from shadecore.telling.weather_words import (
    NOT_TO_BE_SPRAYED,
    advice_words,
    plan_stops,
    weather_words,
)
from shadecore.units import UNITS

MOST_PAGES: Final = 2
_STRIP_COATS: Final = 6
WRITTEN_BY_HAND: Final = ("Car", "Plate", "Colour code", "Painter", "Signed, date")
"""Lines on the sheet for what nobody typed."""


def booth_sheet(plan: Plan, booth: Booth = UNKNOWN) -> Document:
    """Put a plan on a sheet.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth
        What the shop knows of its booth.

    Returns
    -------
    Document
        Of two pages at most.
    """
    plan, booth = _of_booth(plan, booth)
    choice = plan.picked.choice
    invented = " (invented example, do not spray by it)" if plan.sheet.invented else ""
    stop = " ".join((f"{NOT_TO_BE_SPRAYED}.", *plan_stops(plan)))
    return Document(
        brief(plan.request.name),
        f"{when_words(plan.timeline[0].start)}. Products: "
        f"{brief(plan.sheet.name)}{invented}.",
        (ByHand(WRITTEN_BY_HAND),)
        if choice is None
        else (
            ByHand(WRITTEN_BY_HAND),
            _colours(plan, choice),
            film_strip(choice.outlook),
        ),
        (
            _weather_section(plan),
            *_kind_section(plan),
            schedule_section(plan),
            *(
                Section(
                    title,
                    tuple(Text(each) for each in told),
                    small=True,
                    last_resort=title == PUT_OFF,
                )
                for title, told in plan_notes(plan)
            ),
            purpose_section(plan),
            mix_section(plan),
            voc_section(plan),
            gun_section(plan),
            *viscosity_section(plan),
            *strokes_section(plan),
            safety_section(plan, booth),
            cautions_section(plan),
            _basis_section(plan),
        ),
        stop if plan.barred else "",
        MOST_PAGES,
        broken_limits(plan),
    )


def _of_booth(plan: Plan, booth: Booth) -> tuple[Plan, Booth]:
    """Plan and booth by the same clearance time, which either of them may bring."""
    told_min = plan.request.booth_clearance_min
    if booth.clearance_min is None:
        known = None if told_min == UNMEASURED else told_min
        return plan, replace(booth, clearance_min=known)
    if booth.clearance_min == told_min:
        return plan, booth
    request = replace(plan.request, booth_clearance_min=booth.clearance_min)
    return plan_job(request, plan.sheet, plan.answer), booth


def with_car(sheet: Document, told: Mapping[str, str]) -> Document:
    """A sheet with what the shop's book knows of the car in the place of empty lines.

    Parameters
    ----------
    sheet : Document
        As :func:`booth_sheet` gives it.
    told : mapping of str to str
        What is known, by its label, such as those of ``WRITTEN_BY_HAND``; what is empty
        stays a line to write on.

    Returns
    -------
    Document
    """
    known = {label: brief(text) for label, text in told.items() if text.strip()}
    if not known:
        return sheet
    said = " ".join(f"{label}: {text}." for label, text in known.items())
    left = tuple(each for each in WRITTEN_BY_HAND if each not in known)
    blocks = (each for each in sheet.blocks if each != ByHand(WRITTEN_BY_HAND))
    return replace(sheet, blocks=(Text(said), ByHand(left), *blocks))


def _weather_section(plan: Plan) -> Section:
    units = UNITS[plan.request.question.units]
    advice = advice_words(plan.weather.advice, units)
    told = (weather_words(plan, units), *advice, *day_notes(plan))
    return Section("Weather", tuple(Text(each) for each in told))


def _kind_section(plan: Plan) -> tuple[Section, ...]:
    """Kind of the colour, the angle that hides last, and what to mind of it."""
    question, best = plan.request.question, plan.answer.recommended
    told = [warning_words(flag) for flag in plan.answer.flags]
    title = "What to mind of the colour"
    if question.flakes or question.over_a_ground:
        last = last_angle_words(question, best.last_angle)
        told = [kind_words(question), last, *told]
        title = "Kind of colour"
    said = " ".join(each for each in told if each)
    return (Section(title, (Text(said),), small=True),) if said else ()


def _colours(plan: Plan, choice: Choice) -> Swatches:
    topcoat, best = plan.answer.topcoat, choice.outlook
    count = planned_words(best.count, choice.coats, plan.coats_held)
    return Swatches(
        (
            Swatch(topcoat.lab, _topcoat_name(plan), lab_words(topcoat.lab)),
            Swatch(
                best.undercoat.lab,
                under_head(choice),
                f"{under_words(choice)}: {count}",
            ),
        ),
        tall=True,
    )


def _topcoat_name(plan: Plan) -> str:
    kind = plan.request.question.kind
    if plan.request.question.over_a_ground:
        return f"Ground ({kind})"
    return f"Topcoat ({kind})" if kind else "Topcoat"


def film_strip(best: Outlook) -> Swatches:
    """The film coat by coat over a sealer.

    Parameters
    ----------
    best : Outlook
        Of the sealer.

    Returns
    -------
    Swatches
        Six at most, with the difference left under each.
    """
    shown = list(zip(best.lab, best.difference, strict=True))[:_STRIP_COATS]
    return Swatches(
        tuple(
            Swatch(
                lab,
                f"coat {number}" + (", hides" if number == best.coats else ""),
                f"{left:.1f} left",
            )
            for number, (lab, left) in enumerate(shown, start=1)
        )
    )


def _basis_section(plan: Plan) -> Section:
    answer = plan.answer
    facts = (
        f"Colour as entered: {answer.topcoat.entered}.",
        BASIS[answer.basis],
        f"Tolerance {answer.settings.tolerance:g} CIEDE2000.",
        PAPER_NOTE,
        DRYING_NOTE,
    )
    told = (Text(" ".join(facts)),)
    # Of a sheet that is too full, it is the last to go; its safety stays.
    return Section("Measured and assumed", told, small=True, last_resort=True)
