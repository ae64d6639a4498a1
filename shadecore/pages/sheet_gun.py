"""How the guns are set and led, for the booth sheet."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Section, Strokes, Text
from shadecore.products.guns import stroke_places_cm, usual_guns
from shadecore.products.product import Gun, Product
from shadecore.telling.cup_words import standards_words, viscosity_words
from shadecore.telling.gun_words import (
    CAP_NOTE,
    strokes_words,
    usual_words,
)
from shadecore.units import UNITS

DRAWN_CM: Final = 60.0
"""Height of the panel that strokes are drawn on."""
DRAWN_FAN_CM: Final = 25.0
"""Fan that is drawn where none is told; common practice, no source."""


def gun_section(plan: Plan) -> tuple[Section, ...]:
    """How pressures are read, and what is usual where the sheet is silent.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Section
        One, or none where nothing is sprayed; the settings stand in the schedule.
    """
    if not any(each.step.gun for each in plan.timeline):
        return ()
    told = (CAP_NOTE, _usual(plan))
    said = " ".join(each for each in told if each)
    return (Section("Gun", (Text(said),), run_in=True),)


def viscosity_section(plan: Plan) -> tuple[Section, ...]:
    """Cup seconds by two standards; none where the sheet gives none.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Section
        One or none.
    """
    units = UNITS[plan.request.question.units]
    by_words: dict[str, list[str]] = {}
    found = [
        (each.product.name, each.product.viscosity)
        for each in plan.materials
        if each.product.viscosity is not None
    ]
    for name, viscosity in found:
        by_words.setdefault(viscosity_words(viscosity), []).append(brief(name))
    if not found:
        return ()
    said = "; ".join(
        f"{', '.join(dict.fromkeys(names))} {words}"
        for words, names in by_words.items()
    )
    standards = standards_words([each for _, each in found], units)
    title = "Viscosity, ready to spray"
    told = (Text(f"{said}. {standards}"),)
    return (Section(title, told, run_in=True),)


def strokes_section(plan: Plan) -> tuple[Section, ...]:
    """How the strokes go, drawn once for each overlap; none where nothing is sprayed.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Section
        One or none.
    """
    units = UNITS[plan.request.question.units]
    by_lead: dict[tuple[float, int, float | None], list[tuple[str, Gun]]] = {}
    for timed in plan.timeline:
        gun = timed.step.gun
        if gun is not None:
            lead = (gun.overlap, gun.passes, gun.fan_cm)
            by_lead.setdefault(lead, []).append((timed.step.title, gun))
    drawn = []
    for found in by_lead.values():
        gun = found[0][1]
        fan = DRAWN_FAN_CM if gun.fan_cm is None else gun.fan_cm
        places = stroke_places_cm(DRAWN_CM, fan, gun.overlap)
        names = dict.fromkeys(title for title, _ in found)
        words = strokes_words(names, len(places), gun, units)
        drawn.append(Strokes(places, DRAWN_CM, fan, words))
    if not drawn:
        return ()
    title = f"Strokes on a panel {units.distance.show(DRAWN_CM)} high"
    return (Section(title, tuple(drawn), spare=True),)


def _usual(plan: Plan) -> str:
    """What is usual for the products whose sheet leaves out the air cap."""
    silent = [
        each.product.kind for each in plan.materials if _silent_of_cap(each.product)
    ]
    found = [each for kind, each in usual_guns().items() if kind in silent]
    return usual_words(found, UNITS[plan.request.question.units])


def _silent_of_cap(product: Product) -> bool:
    return product.gun is not None and product.gun.cap_bar is None
