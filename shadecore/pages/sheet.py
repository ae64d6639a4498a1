"""The sheet that hangs by the booth, as content; HTML and PDF lay it out."""

from dataclasses import dataclass, replace
from datetime import datetime

from shadecore.coats.answer import Outlook
from shadecore.job.plan import Material, Plan
from shadecore.job.schedule import Timed
from shadecore.job.steps import Step
from shadecore.job.weather import NOT_TO_BE_SPRAYED
from shadecore.pages.tables import Table
from shadecore.products.voc import LOCAL_RULE, STATUS_WORDS, VocAnswer
from shadecore.telling.names import brief
from shadecore.telling.reasons import coats_in_words, interval_in_words, lab_in_words
from shadecore.telling.text import BASIS
from shadecore.undercoats.shelf import munsell_value
from shadecore.units import SHOP_UNITS, UNITS, Quantity, ShopUnits, Units

TICK = "[\N{NO-BREAK SPACE}\N{NO-BREAK SPACE}]"
"""A box to tick, which must not break over two lines."""
_STRIP_COATS = 6
_RULE_HEADINGS = {
    "us_national": "US, national",
    "california_scm": "California, suggested",
    "eu_2004_42": "European Union",
}
_STAGES = "Base and clear together"
_VOC_NOTE = (
    "Less water; in the US also less exempt compounds (ASTM D3960), the EU exempts "
    f"none. Published limits: {LOCAL_RULE}."
)
_BOXED_NOTE = "Boxed: pour the cans of one colour together first, for an even colour."
_DRYING_NOTE = (
    "Drying times follow the panel's temperature by a rule of thumb; the data sheet "
    "decides."
)


@dataclass(frozen=True)
class Section:
    """A part of the sheet.

    Attributes
    ----------
    title : str
        What it is.
    table : Table or None
        A table.
    lines : tuple of str
        Sentences under it.
    small : bool
        Whether its sentences are read once, before the job, and not from afar.
    spare : bool
        Whether it is left out of the print where it would take a third page, or make
        the rest smaller.
    """

    title: str
    table: Table | None = None
    lines: tuple[str, ...] = ()
    small: bool = False
    spare: bool = False


@dataclass(frozen=True)
class Swatch:
    """A colour to show, with what to read where it cannot be seen.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.
    title, text : str
        Above and under it.
    """

    lab: tuple[float, float, float]
    title: str
    text: str


@dataclass(frozen=True)
class Sheet:
    """Everything on the sheet.

    Attributes
    ----------
    title, subtitle : str
        The job, and what it is planned from.
    swatches : tuple of Swatch
        Topcoat and undercoat.
    strip : tuple of Swatch
        The film coat by coat over the undercoat.
    sections : tuple of Section
        The rest.
    stop : str
        Why nothing may be sprayed, to stand first and big; empty where it may.
    """

    title: str
    subtitle: str
    swatches: tuple[Swatch, ...]
    strip: tuple[Swatch, ...]
    sections: tuple[Section, ...]
    stop: str = ""

    @property
    def core(self) -> "Sheet":
        """The sheet without what can be spared."""
        kept = tuple(each for each in self.sections if not each.spare)
        return replace(self, sections=kept)


def sheet_of(plan: Plan) -> Sheet:
    """Put a plan on a sheet.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Sheet
    """
    units = UNITS[plan.request.question.units]
    shop = SHOP_UNITS[plan.request.question.units]
    best = plan.answer.recommended
    start = _when(plan.timeline[0].start)
    invented = " (invented example, do not spray by it)" if plan.sheet.invented else ""
    return Sheet(
        brief(plan.request.name),
        f"{start}. Products: {brief(plan.sheet.name)}{invented}.",
        (
            Swatch(
                plan.answer.topcoat.lab,
                "Topcoat",
                lab_in_words(plan.answer.topcoat.lab),
            ),
            Swatch(best.undercoat.lab, "Sealer", _undercoat(best)),
        ),
        _strip(best),
        (
            _weather_section(plan, shop),
            _schedule_section(plan),
            _purpose_section(plan),
            _basis_section(plan),
            _mix_section(plan, units, shop),
            _gun_section(plan, shop),
            _voc_section(plan, shop),
            _cautions_section(plan),
        ),
        " ".join((f"{NOT_TO_BE_SPRAYED}.", *plan.weather.stops)) if plan.barred else "",
    )


def step_words(step: Step, shop: ShopUnits) -> str:
    """What to do in a step, for the one who is about to do it.

    Parameters
    ----------
    step : Step
        The step.
    shop : ShopUnits
        What the gun's settings are shown in.

    Returns
    -------
    str
        Sentences.
    """
    said = [step.purpose]
    if step.grits:
        said.append(f"Grit {', '.join(f'P{grit}' for grit in step.grits)}.")
    if step.coats:
        noun = "coat" if step.coats == 1 else "coats"
        flash = f", {step.flash_min:g} min flash between" if step.coats > 1 else ""
        said.append(f"{step.coats} {noun}{flash}.")
    if step.gun is not None:
        said.append(
            f"Gun: tip {step.gun.tip_mm:.1f} mm, inlet "
            f"{shop.pressure.show(step.gun.inlet_bar)}, distance "
            f"{shop.distance.show(step.gun.distance_cm)}, overlap "
            f"{step.gun.overlap:.0%}."
        )
    return " ".join((*said, f"Before going on: {step.check}"))


def _undercoat(best: Outlook) -> str:
    undercoat = best.undercoat
    return (
        f"{brief(undercoat.name)}: L* {undercoat.lightness:.1f}, N "
        f"{munsell_value(undercoat.lightness):.1f}. {coats_in_words(best)} of colour "
        f"(9 times in 10: {interval_in_words(best)})"
    )


def _strip(best: Outlook) -> tuple[Swatch, ...]:
    shown = list(zip(best.lab, best.difference, strict=True))[:_STRIP_COATS]
    return tuple(
        Swatch(
            lab,
            f"coat {number}" + (", hides" if number == best.coats else ""),
            f"{left:.1f} left",
        )
        for number, (lab, left) in enumerate(shown, start=1)
    )


def _weather_section(plan: Plan, shop: ShopUnits) -> Section:
    weather = plan.weather
    request = plan.request
    side = "below" if weather.margin_k >= 0.0 else "above"
    first = (
        f"Air {shop.temperature.show(request.air_c)}, panel "
        f"{shop.temperature.show(request.panel_c)}, humidity {request.humidity:.0%}: "
        f"dew point {shop.temperature.show(weather.dew_point_c)}, "
        f"{shop.margin.show(abs(weather.margin_k))} {side} the panel."
    )
    return Section("Weather", lines=(first, *weather.advice))


def _schedule_section(plan: Plan) -> Section:
    table = Table(
        ("", "Step", "From", "To", "Next from", "Next until", "Check first"),
        tuple(
            _schedule_row(each, before, barred=each.step.key in plan.barred)
            for each, before in zip(
                plan.timeline, (None, *plan.timeline[:-1]), strict=True
            )
        ),
    )
    broken = tuple(
        f"{brief(each.step.title)}: {each.broken}"
        for each in plan.timeline
        if each.broken
    )
    title = "Schedule"
    if plan.barred:
        title = f"{title}: {NOT_TO_BE_SPRAYED} by it; plan again in other weather"
    return Section(title, table, (*plan.scratches, *broken))


def _purpose_section(plan: Plan) -> Section:
    by_purpose = {each.step.purpose: each.step for each in plan.timeline}
    reasons = (
        f"{brief(step.title)}: {purpose}" for purpose, step in by_purpose.items()
    )
    return Section(
        "What each step is for", lines=(" ".join(reasons),), small=True, spare=True
    )


def _schedule_row(
    timed: Timed, before: Timed | None, *, barred: bool
) -> tuple[str, ...]:
    same_day = before is not None and before.start.date() == timed.start.date()
    return (
        "[x]" if timed.done else ("STOP" if barred else TICK),
        f"{NOT_TO_BE_SPRAYED}: {_title(timed)}" if barred else _title(timed),
        timed.start.strftime("%H:%M") if same_day else _when(timed.start),
        _clock(timed.end, timed.start),
        _clock(timed.next_from, timed.start),
        "" if timed.next_until is None else _clock(timed.next_until, timed.start),
        timed.step.check,
    )


def _title(timed: Timed) -> str:
    grits = ", ".join(f"P{grit}" for grit in timed.step.grits)
    return brief(timed.step.title) + (f" ({grits})" if grits else "")


def _mix_section(plan: Plan, units: Units, shop: ShopUnits) -> Section:
    rows = []
    for material in plan.materials:
        rows.append(_material_row(material, shop))
        rows += [
            (
                f"  {brief(portion.component.name)}",
                "",
                f"{portion.component.parts:g}",
                shop.volume.show(portion.volume_l),
                _cans(portion.cans, shop) + (", boxed" if portion.boxed else ""),
                f"{portion.cost:.2f}",
            )
            for portion in material.portions
        ]
    return Section(
        f"Mix for {shop.area.show(plan.area_m2)}",
        Table(
            ("Product", "Coats", "Parts", "Volume", "Cans", plan.sheet.currency),
            tuple(rows),
            frozenset({1, 2, 3, 5}),
        ),
        (
            f"Cans come to {plan.cost:.2f} {plan.sheet.currency}. " + _BOXED_NOTE,
            f"One coat of colour: {units.film(plan.answer.settings.film.dry_film_um)}.",
        ),
    )


def _material_row(material: Material, shop: ShopUnits) -> tuple[str, ...]:
    grades = [each for each in (material.reducer, material.hardener) if each]
    name = brief(material.product.name)
    if grades:
        name = f"{name} ({', '.join(brief(each) for each in grades)})"
    return (
        name,
        str(material.coats),
        "",
        shop.volume.show(material.ready_l),
        "",
        f"{material.cost:.2f}",
    )


def _cans(cans: tuple[tuple[float, int], ...], shop: ShopUnits) -> str:
    return " + ".join(f"{count} x {shop.can(size)}" for size, count in cans)


def _gun_section(plan: Plan, shop: ShopUnits) -> Section:
    rows = [
        (
            brief(timed.step.title),
            f"{timed.step.gun.tip_mm:.1f} mm",
            shop.pressure.show(timed.step.gun.inlet_bar),
            shop.distance.show(timed.step.gun.distance_cm),
            f"{timed.step.gun.overlap:.0%}",
            str(timed.step.coats),
            f"{timed.step.flash_min:.0f} min",
        )
        for timed in plan.timeline
        if timed.step.gun is not None
    ]
    return Section(
        "Gun",
        Table(
            ("Step", "Tip", "Inlet", "Distance", "Overlap", "Coats", "Flash"),
            tuple(rows),
            frozenset({1, 2, 3, 4, 5, 6}),
        ),
        _cure(plan, shop),
    )


def _cure(plan: Plan, shop: ShopUnits) -> tuple[str, ...]:
    """How the clear coat cures, where its sheet says so."""
    clear = plan.sheet.of_kind("clear_coat")
    windows = clear.windows
    flash = f"{brief(clear.name)}: flash {windows.flash_min:g} min, then"
    if plan.request.cure == "air" and windows.air_cure_h is not None:
        return (
            f"{flash} {windows.air_cure_h:g} h in air (at {_reference(plan, shop)}).",
        )
    if plan.request.cure == "bake" and windows.bake_min is not None:
        at = ""
        if windows.bake_c is not None:
            at = f" at {shop.temperature.show(windows.bake_c)} of the panel"
        return (f"{flash} bake {windows.bake_min:g} min{at}.",)
    return ()


def _reference(plan: Plan, shop: ShopUnits) -> str:
    return shop.temperature.show(plan.sheet.reference_c)


def _voc_section(plan: Plan, shop: ShopUnits) -> Section:
    limits = {each.rule: each for material in plan.materials for each in material.voc}
    rows = [
        (
            brief(material.product.name),
            *(_voc_cell(material.voc, r, shop.voc) for r in limits),
        )
        for material in plan.materials
        if material.voc
    ]
    if plan.stages is not None:
        together = (plan.stages,)
        cells = (_voc_cell(together, rule, shop.voc) for rule in limits)
        rows.append((_STAGES, *cells))
    notes = " ".join(
        f"{each.rule_name} ({each.date}): limits {STATUS_WORDS[each.status]}."
        for each in limits.values()
    )
    return Section(
        "VOC, ready to spray, and the limit",
        Table(("Product", *(_RULE_HEADINGS.get(r, r) for r in limits)), tuple(rows)),
        (f"{notes} {_VOC_NOTE}",),
        small=True,
    )


def _voc_cell(answers: tuple[VocAnswer, ...], rule: str, voc: Quantity) -> str:
    for each in answers:
        if each.rule == rule:
            verdict = "of" if each.within else "OVER"
            has, most = voc.show(each.voc_g_per_l), voc.show(each.limit_g_per_l)
            return f"{has.removesuffix(voc.unit).strip()} {verdict} {most}"
    return ""


def _cautions_section(plan: Plan) -> Section:
    by_hazard: dict[str, list[str]] = {}
    for hazard, text in plan.cautions:
        by_hazard.setdefault(hazard, []).append(text)
    return Section(
        "Cautions",
        lines=tuple(" ".join(texts) for texts in by_hazard.values()),
        small=True,
    )


def _basis_section(plan: Plan) -> Section:
    answer = plan.answer
    facts = (
        f"Colour as entered: {answer.topcoat.entered}.",
        BASIS[answer.basis],
        f"Tolerance {answer.settings.tolerance:g} CIEDE2000.",
        "A printed or shown swatch is not a paint chip.",
        _DRYING_NOTE,
    )
    flags = (f"{flag.headline}. {flag.advice}" for flag in answer.flags)
    lines = (" ".join((*facts, *flags)),)
    return Section("Measured and assumed", lines=lines, small=True)


def _when(moment: datetime) -> str:
    return moment.strftime("%a %d %b %H:%M")


def _clock(moment: datetime, beside: datetime) -> str:
    """Time of day, with the day where it is another one."""
    same_day = moment.date() == beside.date()
    return moment.strftime("%H:%M") if same_day else _when(moment)
