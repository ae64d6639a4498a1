"""The sheet that hangs by the booth, as a document; its parts stand in ``sheet_*``.

What is read once, before the job, stands on the cautions sheet beside it
(:mod:`shadecore.pages.cautions_sheet`), so that this one is read with gloves on.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from shadecore.coats.answer import Outlook
from shadecore.formats.echo import brief
from shadecore.job.cautions import DEFERRAL
from shadecore.job.choice import Choice
from shadecore.job.kinds import BOOTH
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import (
    Block,
    ByHand,
    Document,
    Section,
    Swatch,
    Swatches,
    Text,
)
from shadecore.pages.sheet_gun import strokes_section
from shadecore.pages.sheet_mix import mix_section
from shadecore.pages.sheet_safety import UNKNOWN, of_booth
from shadecore.pages.sheet_schedule import checked, schedule_section
from shadecore.telling.counts import planned_words
from shadecore.telling.day_words import day_notes
from shadecore.telling.effect_words import kind_words, last_angle_words
from shadecore.telling.flag_words import warning_words
from shadecore.telling.job_words import when_words
from shadecore.telling.limit_words import broken_limits
from shadecore.telling.names import products_words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.plan_notes import READ_ONCE, plan_notes
from shadecore.telling.safety_words import CHECKS_TOO, IN_FULL, clearance_words
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
WRITTEN_BY_HAND: Final = ("Car", "Plate", "Paint code", "Painter")
"""Lines on the sheet for what nobody typed."""
SIGNED_BY_HAND: Final = ("Signed", "Date")
"""Lines at its end."""


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
        Of two pages, unless the job has too many steps for that.
    """
    plan, booth = of_booth(plan, booth)
    choice = plan.picked.choice
    stop = " ".join((f"{NOT_TO_BE_SPRAYED}.", *plan_stops(plan)))
    colours = () if choice is None else (_colours(plan, choice),)
    return Document(
        brief(plan.request.name),
        f"{when_words(plan.timeline[0].start)}. Products: "
        f"{products_words(plan.sheet)}.",
        (ByHand(WRITTEN_BY_HAND), *colours),
        (
            _weather_section(plan),
            *_kind_section(plan),
            schedule_section(plan),
            *(
                Section(title, (Text(" ".join(told)),), run_in=True)
                for title, told in plan_notes(plan)
                if title not in READ_ONCE
            ),
            mix_section(plan),
            *_strip_section(choice),
            *strokes_section(plan),
            _last_words(plan, booth),
        ),
        stop if plan.barred else "",
        MOST_PAGES,
        broken_limits(plan),
    )


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
    to_write = (ByHand(left),) if left else ()
    return replace(sheet, blocks=(Text(said), *to_write, *blocks))


def _weather_section(plan: Plan) -> Section:
    units = UNITS[plan.request.question.units]
    advice = advice_words(plan.weather.advice, units)
    told = (weather_words(plan, units), *advice, *day_notes(plan))
    return Section("Weather", (Text(" ".join(told)),), run_in=True)


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
    return (Section(title, (Text(said),), run_in=True),) if said else ()


def _colours(plan: Plan, choice: Choice) -> Swatches:
    topcoat, best = plan.answer.topcoat, choice.outlook
    count = planned_words(best.count, choice.coats, plan.coats_held)
    over = f"{under_words(choice)}: {count}"
    first = asked_lab_words(topcoat.lab, plan.request.question.photo)
    swatches = [
        Swatch(topcoat.lab, _topcoat_name(plan), first),
        Swatch(best.undercoat.lab, under_head(choice), over),
    ]
    two, second = plan.picked.two_tone, plan.request.second
    if two is not None and second is not None:
        lab = two.answer.topcoat.lab
        words = asked_lab_words(lab, second.photo)
        swatches.insert(1, Swatch(lab, "Second colour", words))
    return Swatches(tuple(swatches), tall=True)


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


def _strip_section(choice: Choice | None) -> tuple[Section, ...]:
    if choice is None:
        return ()
    title = "The film coat by coat, with the difference left"
    return (Section(title, (film_strip(choice.outlook),), spare=True),)


def _last_words(plan: Plan, booth: Booth) -> Section:
    """What goes before anything on the sheet, and the lines to sign it on."""
    blocks: list[Block] = [
        Text(f"{DEFERRAL} {IN_FULL if checked(plan) else CHECKS_TOO}")
    ]
    asked: tuple[str, ...] = SIGNED_BY_HAND
    if plan.request.place == BOOTH:
        cleared, to_write = clearance_words(booth)
        asked = (*to_write, *asked)
        if cleared:
            blocks.append(Text(cleared))
    return Section("Before you spray", (*blocks, ByHand(asked)), run_in=True)
