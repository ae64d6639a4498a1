"""The sheet that hangs by the booth, as a document."""

from typing import Final

from shadecore.coats.answer import Outlook
from shadecore.formats.echo import brief
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.job.schedule import Timed
from shadecore.job.weather import NOT_TO_BE_SPRAYED
from shadecore.pages.blocks import (
    Cell,
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
)
from shadecore.products.voc import VocAnswer
from shadecore.telling.basis import BASIS, PAPER_NOTE
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import coats_words, plan_words, sure_words
from shadecore.telling.effect_words import kind_words, last_angle_words
from shadecore.telling.flag_words import warning_words
from shadecore.telling.job_words import (
    BOXED_NOTE,
    DRYING_NOTE,
    VOC_NOTE,
    broken_words,
    cans_words,
    cure_words,
    grit_words,
    limit_words,
    voc_in_brief,
    weather_words,
    when_words,
)
from shadecore.telling.names import sealer_words
from shadecore.telling.numbers import percent
from shadecore.units import UNITS, Units

MOST_PAGES: Final = 2
_STRIP_COATS: Final = 6
_RULE_HEADINGS: Final = {
    "us_national": "US, national",
    "california_scm": "California, suggested",
    "eu_2004_42": "European Union",
}
_INDENT: Final = 3 * "\N{NO-BREAK SPACE}"
_STAGES: Final = "Base and clear together"


def booth_sheet(plan: Plan) -> Document:
    """Put a plan on a sheet.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Document
        Of two pages at most.
    """
    units = UNITS[plan.request.question.units]
    best = plan.answer.recommended
    invented = " (invented example, do not spray by it)" if plan.sheet.invented else ""
    stop = " ".join((f"{NOT_TO_BE_SPRAYED}.", *plan.weather.stops))
    return Document(
        brief(plan.request.name),
        f"{when_words(plan.timeline[0].start)}. Products: "
        f"{brief(plan.sheet.name)}{invented}.",
        (_colours(plan, best), film_strip(best)),
        (
            Section(
                "Weather",
                (
                    Text(weather_words(plan, units)),
                    *(Text(each) for each in plan.weather.advice),
                ),
            ),
            *_kind_section(plan),
            _schedule_section(plan),
            _purpose_section(plan),
            _basis_section(plan),
            _mix_section(plan, units),
            _gun_section(plan, units),
            _voc_section(plan, units),
            _cautions_section(plan),
        ),
        stop if plan.barred else "",
        MOST_PAGES,
    )


def _kind_section(plan: Plan) -> tuple[Section, ...]:
    """Kind of the colour and the angle that hides last; none for a plain solid."""
    question, best = plan.request.question, plan.answer.recommended
    if not question.flakes and not question.over_a_ground:
        return ()
    last = last_angle_words(question, best.last_angle)
    told = (kind_words(question), last)
    return (Section("Kind of colour", tuple(Text(each) for each in told if each)),)


def _colours(plan: Plan, best: Outlook) -> Swatches:
    topcoat = plan.answer.topcoat
    count = f"{sure_words(best.count)} of colour. {plan_words(best.count)}"
    return Swatches(
        (
            Swatch(topcoat.lab, _topcoat_name(plan), lab_words(topcoat.lab)),
            Swatch(
                best.undercoat.lab, "Sealer", f"{sealer_words(best.undercoat)}: {count}"
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


def _schedule_section(plan: Plan) -> Section:
    table = Table(
        (
            *("", "Step", "From", "To", "Next from", "Next until", "Done at"),
            "Check first",
        ),
        tuple(
            _schedule_row(each, before, barred=each.step.key in plan.barred)
            for each, before in zip(
                plan.timeline, (None, *plan.timeline[:-1]), strict=True
            )
        ),
        by_hand=frozenset({6}),
    )
    broken = (broken_words(each) for each in plan.timeline if each.broken)
    title = "Schedule"
    if plan.barred:
        title = f"{title}: {NOT_TO_BE_SPRAYED} by it; plan again in other weather"
    notes = (Text(each) for each in (*plan.scratches, *broken))
    return Section(title, (table, *notes))


def _schedule_row(
    timed: Timed, before: Timed | None, *, barred: bool
) -> tuple[Cell | str, ...]:
    grits = grit_words(timed.step.grits)
    title = brief(timed.step.title) + (f" ({grits})" if grits else "")
    start = timed.start
    until = timed.next_until
    return (
        Cell("STOP") if barred else Cell(ticked=timed.done),
        f"{NOT_TO_BE_SPRAYED}: {title}" if barred else title,
        when_words(start, None if before is None else before.start),
        when_words(timed.end, start),
        when_words(timed.next_from, start),
        "" if until is None else when_words(until, start),
        when_words(timed.end, start) if timed.done else "",
        timed.step.check,
    )


def _purpose_section(plan: Plan) -> Section:
    by_purpose = {each.step.purpose: each.step for each in plan.timeline}
    reasons = (
        f"{brief(step.title)}: {purpose}" for purpose, step in by_purpose.items()
    )
    return Section(
        "What each step is for", (Text(" ".join(reasons)),), small=True, spare=True
    )


def _basis_section(plan: Plan) -> Section:
    answer = plan.answer
    facts = (
        f"Colour as entered: {answer.topcoat.entered}.",
        BASIS[answer.basis],
        f"Tolerance {answer.settings.tolerance:g} CIEDE2000.",
        PAPER_NOTE,
        DRYING_NOTE,
        *(warning_words(flag) for flag in answer.flags),
    )
    return Section("Measured and assumed", (Text(" ".join(facts)),), small=True)


def _mix_section(plan: Plan, units: Units) -> Section:
    rows: list[tuple[str, ...]] = []
    for material in plan.materials:
        rows.append(_material_row(material, units))
        rows += [
            (
                f"{_INDENT}{brief(portion.component.name)}",
                "",
                f"{portion.component.parts:g}",
                units.volume.show(portion.volume_l),
                cans_words(portion.cans, units) + (", boxed" if portion.boxed else ""),
                f"{portion.cost:.2f}",
            )
            for portion in material.portions
        ]
    film = units.film.show(plan.answer.settings.film.dry_film_um)
    return Section(
        f"Mix for {units.area.show(plan.area_m2)}",
        (
            Table(
                ("Product", "Coats", "Parts", "Volume", "Cans", plan.sheet.currency),
                tuple(rows),
                frozenset({1, 2, 3, 5}),
            ),
            Text(f"Cans come to {plan.cost:.2f} {plan.sheet.currency}. {BOXED_NOTE}"),
            Text(f"One coat of colour: {film} dry."),
        ),
    )


def _material_row(material: Material, units: Units) -> tuple[str, ...]:
    grades = [each for each in (material.reducer, material.hardener) if each]
    name = brief(material.product.name)
    if material.use:
        name = f"{name}: {material.use.lower()}"
    if grades:
        name = f"{name} ({', '.join(brief(each) for each in grades)})"
    return (
        name,
        coats_words(material.coats),
        "",
        units.volume.show(material.ready_l),
        "",
        f"{material.cost:.2f}",
    )


def _gun_section(plan: Plan, units: Units) -> Section:
    rows = tuple(
        (
            brief(timed.step.title),
            f"{timed.step.gun.tip_mm:.1f} mm",
            units.pressure.show(timed.step.gun.inlet_bar),
            units.distance.show(timed.step.gun.distance_cm),
            percent(timed.step.gun.overlap),
            coats_words(timed.step.coats),
            f"{timed.step.flash_min:.0f} min",
        )
        for timed in plan.timeline
        if timed.step.gun is not None
    )
    table = Table(
        ("Step", "Tip", "Inlet", "Distance", "Overlap", "Coats", "Flash"),
        rows,
        frozenset({1, 2, 3, 4, 5, 6}),
    )
    cure = cure_words(plan, units)
    return Section("Gun", (table, *((Text(cure),) if cure else ())))


def _voc_section(plan: Plan, units: Units) -> Section:
    limits = {each.rule: each for material in plan.materials for each in material.voc}
    held = [(brief(each.product.name), each.voc) for each in plan.materials if each.voc]
    if plan.stages is not None:
        held.append((_STAGES, (plan.stages,)))
    rows = tuple(
        (name, *(_voc_cell(answers, rule, units) for rule in limits))
        for name, answers in held
    )
    notes = " ".join(f"{limit_words(each)}." for each in limits.values())
    return Section(
        "VOC, ready to spray, and the limit",
        (
            Table(
                ("Product", *(_RULE_HEADINGS.get(rule, rule) for rule in limits)), rows
            ),
            Text(f"{notes} {VOC_NOTE}"),
        ),
        small=True,
    )


def _voc_cell(answers: tuple[VocAnswer, ...], rule: str, units: Units) -> str:
    told = (voc_in_brief(each, units) for each in answers if each.rule == rule)
    return next(told, "")


def _cautions_section(plan: Plan) -> Section:
    by_hazard: dict[str, list[str]] = {}
    for hazard, text in plan.cautions:
        by_hazard.setdefault(hazard, []).append(text)
    return Section(
        "Cautions",
        tuple(Text(" ".join(texts)) for texts in by_hazard.values()),
        small=True,
    )
