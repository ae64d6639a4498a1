"""Steps, cure and VOC of a job in words."""

from datetime import datetime
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.job.step_places import once
from shadecore.job.steps import Step
from shadecore.job.trade_steps import trade_steps
from shadecore.job.usual_steps import USUAL
from shadecore.products.voc import LOCAL_RULE, STATUS_WORDS, VocAnswer, VocLimit
from shadecore.telling.counts import coats_words
from shadecore.telling.gun_words import gun_words
from shadecore.units import G_PER_L_PER_LB_PER_GAL, Units

DRYING_NOTE: Final = (
    "Drying times follow the panel's temperature by a rule of thumb; the data sheet "
    "decides."
)
VOC_NOTE: Final = (
    "Less water; in the US also less exempt compounds (ASTM D3960), the EU exempts "
    f"none. Published limits: {LOCAL_RULE}."
)
BOXED_NOTE: Final = (
    "Boxed: pour the cans of one colour together first, for an even colour."
)

_WEEK: Final = 7
_RULES: Final = {
    "us_national": "US, national",
    "california_scm": "California, suggested",
    "eu_2004_42": "European Union",
}
NO_MIDCOAT_NOTE: Final = (
    "This product sheet has no mid-coat: the base coat's mix, film and price stand in "
    "for it; its own data sheet decides."
)


def step_title(key: str) -> str:
    """What a step is called, before a job says it otherwise.

    Parameters
    ----------
    key : str
        Key of the step.

    Returns
    -------
    str
    """
    first = once(key)
    known = USUAL.get(key) or USUAL.get(first) or trade_steps().get(first)
    return key.replace("_", " ") if known is None else known.title


def grit_words(grits: tuple[int, ...]) -> str:
    """Grits in the order they are used.

    Parameters
    ----------
    grits : tuple of int
        P grits, coarse first.

    Returns
    -------
    str
        Such as ``P80, P180``; empty where nothing is sanded.
    """
    return ", ".join(f"P{grit}" for grit in grits)


def spraying_words(step: Step) -> str:
    """How many coats a step sprays, and how long each flashes.

    Parameters
    ----------
    step : Step
        The step.

    Returns
    -------
    str
        Such as ``3 coats, 15 min flash between``; empty where nothing is sprayed.
    """
    if not step.coats:
        return ""
    flash = f", {step.flash_min:g} min flash between" if step.coats > 1 else ""
    return f"{coats_words(step.coats)}{flash}"


def step_words(step: Step, units: Units) -> str:
    """What to do in a step, for the one who is about to do it.

    Parameters
    ----------
    step : Step
        The step.
    units : Units
        What the gun's settings are shown in.

    Returns
    -------
    str
        Sentences.
    """
    said = [step.purpose]
    if step.grits:
        said.append(f"Grit {grit_words(step.grits)}.")
    if step.coats:
        said.append(f"{spraying_words(step)}.")
    if step.gun is not None:
        said.append(f"{gun_words(step.gun, units)}.")
    return " ".join((*said, f"Before going on: {step.check}"))


def cure_words(plan: Plan, units: Units) -> str:
    """How the clear coat cures, as a sentence.

    Parameters
    ----------
    plan : Plan
        The plan.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    str
        Empty where its sheet does not say.
    """
    clear = plan.sheet.of_kind("clear_coat")
    windows = clear.windows
    flash = f"{brief(clear.name)}: flash {windows.flash_min:g} min, then"
    if plan.request.cure == "air" and windows.air_cure_h is not None:
        at = units.temperature.show(plan.sheet.reference_c)
        return f"{flash} {windows.air_cure_h:g} h in air (at {at})."
    if plan.request.cure == "bake" and windows.bake_min is not None:
        at = ""
        if windows.bake_c is not None:
            at = f" at {units.temperature.show(windows.bake_c)} of the panel"
        return f"{flash} bake {windows.bake_min:g} min{at}."
    if plan.request.cure == "lamp" and windows.lamp_min is not None:
        return f"{flash} {windows.lamp_min:g} min under a short-wave infrared lamp."
    return ""


def cans_words(cans: tuple[tuple[float, int], ...], units: Units) -> str:
    """Cans to take.

    Parameters
    ----------
    cans : tuple of (float, int)
        Size in litres and number.
    units : Units
        What sizes are called in.

    Returns
    -------
    str
        Such as ``2 x 1 L + 1 x 0.5 L``.
    """
    return " + ".join(f"{count} x {units.can(size)}" for size, count in cans)


def voc_words(answer: VocAnswer) -> str:
    """A mix held against a limit, as a sentence.

    Parameters
    ----------
    answer : VocAnswer
        As held.

    Returns
    -------
    str
    """
    verdict = "is within" if answer.within else "is above"
    pounds = answer.voc_g_per_l / G_PER_L_PER_LB_PER_GAL
    return (
        f"{answer.voc_g_per_l:.1f} g/L ({pounds:.2f} lb/gal) {verdict} the "
        f"{answer.limit_g_per_l:g} g/L for {answer.category_name!r} of the "
        f"{limit_words(answer)}; {LOCAL_RULE}."
    )


def limit_words(limit: VocLimit) -> str:
    """A rule with its date, and how well its limit is known.

    Parameters
    ----------
    limit : VocLimit
        The limit.

    Returns
    -------
    str
    """
    return f"{limit.rule_name} ({limit.date}, limit {STATUS_WORDS[limit.status]})"


def rule_brief(limit: VocLimit) -> str:
    """A rule as the heading of a column.

    Parameters
    ----------
    limit : VocLimit
        Of the rule.

    Returns
    -------
    str
    """
    return _RULES.get(limit.rule, limit.rule_name)


def voc_in_brief(answer: VocAnswer, units: Units) -> str:
    """A mix held against a limit, for a table.

    Parameters
    ----------
    answer : VocAnswer
        As held.
    units : Units
        What it is shown in.

    Returns
    -------
    str
        Such as ``420 of 600 g/L`` or ``650 OVER 600 g/L``.
    """
    verdict = "of" if answer.within else "OVER"
    has, most = units.voc.bare(answer.voc_g_per_l), units.voc.show(answer.limit_g_per_l)
    return f"{has} {verdict} {most}"


def span_words(start: datetime, end: datetime, beside: datetime | None = None) -> str:
    """From when to when, with the days where they are others than beside it.

    Parameters
    ----------
    start, end : datetime
        In the shop's own time.
    beside : datetime, optional
        A time that was named before it.

    Returns
    -------
    str
        Such as ``08:20\N{EN DASH}08:30`` or ``Tue 01 Dec 08:00\N{EN DASH}08:20``.
    """
    dash = "\N{EN DASH}" if end.date() == start.date() else " to "
    return f"{when_words(start, beside)}{dash}{when_words(end, start)}"


def clock_words(moment: datetime, beside: datetime) -> str:
    """A time of day under the heading of a day, as short as can be.

    Parameters
    ----------
    moment : datetime
        In the shop's own time, not before ``beside``.
    beside : datetime
        A time of the day that heads it.

    Returns
    -------
    str
        Such as ``08:20``; with the weekday on another day, such as ``Wed 08:20``, and
        with the date from a week on.
    """
    days = (moment.date() - beside.date()).days
    if not days:
        return moment.strftime("%H:%M")
    return moment.strftime("%a %H:%M" if days < _WEEK else "%a %d %b %H:%M")


def when_words(moment: datetime, beside: datetime | None = None) -> str:
    """A time of day, with the day where it is another one than beside it.

    Parameters
    ----------
    moment : datetime
        In the shop's own time.
    beside : datetime, optional
        A time that was named before it.

    Returns
    -------
    str
        Such as ``08:20`` or ``Tue 01 Dec 08:20``.
    """
    same_day = beside is not None and moment.date() == beside.date()
    return moment.strftime("%H:%M" if same_day else "%a %d %b %H:%M")
