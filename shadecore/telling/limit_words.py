"""Limits that a plan does not keep, to be said before everything else."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.products.voc import THREE_STAGES, US_NATIONAL, VocAnswer
from shadecore.telling.gun_words import over_cap_words
from shadecore.telling.job_words import rule_brief, voc_in_brief
from shadecore.telling.numbers import listed
from shadecore.telling.under_words import under_trouble
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

INVENTED_OVER: Final = "The invented paints are over VOC limits that hold in places"
"""In place of the limits, where no real paint is planned with."""
STAGE_KINDS: Final = frozenset({"base_coat", "mid_coat", "clear_coat"})
"""Kinds of product that the US national rule holds as one."""


def stages_words(stages: VocAnswer) -> str:
    """How the mixes are called that the US national rule holds as one.

    Parameters
    ----------
    stages : VocAnswer
        As they were held against it.

    Returns
    -------
    str
    """
    between = ", mid-coat" if stages.category == THREE_STAGES else ""
    return f"base{between} and clear together"


def judged_apart(plan: Plan, kind: str, rule: str) -> bool:
    """Whether a rule judges a product by itself.

    Parameters
    ----------
    plan : Plan
        The plan.
    kind, rule : str
        Of the product, and key of the rule.

    Returns
    -------
    bool
        False for base, mid and clear coat where the US national rule holds them as one.
    """
    together = rule == US_NATIONAL and plan.stages is not None
    return not (together and kind in STAGE_KINDS)


def broken_limits(plan: Plan, *, voc: bool = True) -> tuple[str, ...]:
    """What is not kept or not known: what the colour goes over, windows, VOC, guns.

    Parameters
    ----------
    plan : Plan
        The plan.
    voc : bool
        Whether VOC limits are among them.

    Returns
    -------
    tuple of str
        Sentences, what spoils the job before what breaks a rule; empty where all is
        kept.
    """
    over = voc_over(plan) if voc else ()
    under = under_trouble(plan.picked.choice)
    return (*under, *_windows(plan), *over, *_guns(plan))


def voc_over(plan: Plan) -> tuple[str, ...]:
    """Which VOC limits the plan's mixes are over.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        One text, a sentence a rule: what a rule holds as one is not told apart; empty
        where all limits are kept.
    """
    units = UNITS[plan.request.question.units]
    by_rule: dict[str, list[tuple[str, VocAnswer]]] = {}
    for material in plan.materials:
        for answer in material.voc:
            if judged_apart(plan, material.product.kind, answer.rule):
                name = brief(material.product.name)
                by_rule.setdefault(answer.rule, []).append((name, answer))
    if plan.stages is not None:
        held = (stages_words(plan.stages), plan.stages)
        by_rule.setdefault(plan.stages.rule, []).append(held)
    said = []
    for answers in by_rule.values():
        over = dict.fromkeys(
            f"{name} {voc_in_brief(each, units)}"
            for name, each in answers
            if not each.within
        )
        if over:
            name = rule_brief(answers[0][1])
            said.append(f"{name}: {listed(tuple(over))}.")
    if not said:
        return ()
    return (f"VOC over the limit, not to be sprayed where it holds. {' '.join(said)}",)


def _windows(plan: Plan) -> tuple[str, ...]:
    return tuple(broken_words(each) for each in plan.timeline if each.broken)


def _guns(plan: Plan) -> tuple[str, ...]:
    units = UNITS[plan.request.question.units]
    said = (
        over_cap_words(each.product.name, each.product.gun, units)
        for each in plan.materials
        if each.product.gun is not None
    )
    return tuple(dict.fromkeys(each for each in said if each))
