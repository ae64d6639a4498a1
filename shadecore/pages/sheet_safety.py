"""Safety in its place: by product, by step, for the booth and for the waste."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.cautions import CAUTIONS, DEFERRAL
from shadecore.job.kinds import BOOTH
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import UNMEASURED
from shadecore.job.safety import Booth, StepSafety
from shadecore.job.schedule import Timed
from shadecore.pages.blocks import Block, ByHand, Section, Text
from shadecore.pages.sheet_schedule import safety_of
from shadecore.products.product import SUPPLIED_AIR
from shadecore.telling.numbers import capital, listed
from shadecore.telling.safety_words import (
    HAZARD_WORDS,
    WASTE_WORDS,
    booth_words,
    fire_words,
    kept_words,
    mask_words,
    open_shop_words,
    steps_words,
    waste_words,
    worn_words,
)
from shadecore.units import UNITS, Units

UNKNOWN: Final = Booth()
"""A booth that nobody said anything of."""


def of_booth(plan: Plan, booth: Booth) -> tuple[Plan, Booth]:
    """Plan and booth by the same clearance time, which either of them may bring.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth
        What the shop knows of its booth.

    Returns
    -------
    tuple of (Plan, Booth)
        Planned anew where the booth says another time.
    """
    told_min = plan.request.booth_clearance_min
    if booth.clearance_min is None:
        known = None if told_min == UNMEASURED else told_min
        return plan, replace(booth, clearance_min=known)
    if booth.clearance_min == told_min:
        return plan, booth
    request = replace(plan.request, booth_clearance_min=booth.clearance_min)
    return plan_job(request, plan.sheet, plan.answer), booth


def safety_section(plan: Plan, booth: Booth = UNKNOWN) -> Section:
    """What is worn for which product, what is open, the booth, and the waste.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth
        What the shop knows of its booth; what it does not know is asked for, with a
        line to write it on.

    Returns
    -------
    Section
    """
    units = UNITS[plan.request.question.units]
    masks: dict[tuple[bool, str], list[str]] = {}
    for name, safety in _by_product(plan).items():
        if safety.breathing:
            # Supplied air comes first.
            worn = (SUPPLIED_AIR not in safety.breathing, mask_words(safety))
            masks.setdefault(worn, []).append(name)
    waste: dict[str, list[int]] = {}
    for number, each in enumerate(plan.timeline, start=1):
        for kind in safety_of(plan, each).waste:
            waste.setdefault(kind, []).append(number)
    breathed = " ".join(
        f"{capital(words)}: {listed(names)}."
        for (_, words), names in sorted(masks.items())
    )
    kinds = (kind for kind in WASTE_WORDS if kind in waste)
    thrown = " ".join(waste_words(kind, waste[kind]) for kind in kinds)
    in_booth = plan.request.place == BOOTH
    where = booth_words(booth, units) if in_booth else _open_shop(plan)
    told = (
        ("Breathe through", breathed),
        ("Open", fire_words(plan.materials, units)),
        ("Booth" if in_booth else "Open shop", where),
        ("Waste", thrown),
    )
    blocks: list[Block] = [Text(text, f"{label}:") for label, text in told if text]
    asked = asked_of_booth(booth, units) if in_booth else ()
    if asked:
        blocks.insert(len(blocks) - bool(thrown), ByHand(asked))
    return Section("Safety", tuple(blocks), small=True)


def _open_shop(plan: Plan) -> str:
    """What an open shop asks for; nothing where no isocyanate is sprayed in it."""
    longest_min = max((each.step.clears_min for each in plan.timeline), default=0.0)
    return open_shop_words(longest_min) if longest_min else ""


def asked_of_booth(booth: Booth, units: Units) -> tuple[str, ...]:
    """What the shop has still to say of its booth, as labels of lines to write on.

    Parameters
    ----------
    booth : Booth
        What is known.
    units : Units
        What it is asked in.

    Returns
    -------
    tuple of str
        Empty where all is known.
    """
    asked = (
        (booth.volume_m3, f"Booth, {units.room.unit}"),
        (booth.flow_m3_per_h, f"Air flow, {units.airflow.unit}"),
        (booth.clearance_min, "Clearance measured, min"),
    )
    return tuple(label for value, label in asked if value is None)


def cautions_section(plan: Plan) -> Section:
    """The cautions by hazard, each with the steps where it applies.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    lines: list[Block] = []
    for hazard, text in _joined(plan.cautions).items():
        steps = [
            number
            for number, each in enumerate(plan.timeline, start=1)
            if hazard in each.step.cautions
        ]
        where = f", {steps_words(steps)}" if steps else ""
        label = f"{HAZARD_WORDS[hazard]}{where}:" if HAZARD_WORDS[hazard] else ""
        lines.append(Text(text, label))
    return Section("Cautions", tuple(lines), small=True)


def step_section(plan: Plan, timed: Timed) -> Section:
    """What one step asks for, to be read before it is begun.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        One of its steps.

    Returns
    -------
    Section
        Without blocks where nothing is asked for.
    """
    safety = safety_of(plan, timed)
    worn = " ".join(each for each in (worn_words(safety), kept_words(safety)) if each)
    blocks: list[Block] = [Text(worn, "Breathe through:")] if worn else []
    blocks += [
        Text(" ".join(CAUTIONS[hazard]), f"{HAZARD_WORDS[hazard]}:")
        for hazard in safety.hazards
    ]
    blocks += [Text(f"{WASTE_WORDS[kind]}.", "Waste:") for kind in safety.waste]
    if blocks:
        blocks.append(Text(DEFERRAL))
    return Section(f"Before you begin: {brief(timed.step.title)}", tuple(blocks))


def _by_product(plan: Plan) -> Mapping[str, StepSafety]:
    """What is worn for each product; for sanding the step itself says it."""
    names = {each.key: brief(each.name) for each in plan.named_sheet.products}
    found: dict[str, StepSafety] = {}
    for each in plan.timeline:
        name = names.get(each.step.product or "")
        if name is None:
            continue
        safety = safety_of(plan, each)
        # A paint asks for more where isocyanate hangs in the air.
        if name not in found or SUPPLIED_AIR in safety.breathing:
            found[name] = safety
    return found


def _joined(cautions: Iterable[tuple[str, str]]) -> dict[str, str]:
    by_hazard: dict[str, list[str]] = {}
    for hazard, text in cautions:
        by_hazard.setdefault(hazard, []).append(text)
    return {hazard: " ".join(texts) for hazard, texts in by_hazard.items()}
