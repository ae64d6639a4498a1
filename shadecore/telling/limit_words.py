"""Limits that a plan does not keep, to be said before everything else."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.products.voc import US_NATIONAL, VocAnswer
from shadecore.telling.gun_words import over_cap_words
from shadecore.telling.job_words import rule_brief, voc_in_brief
from shadecore.telling.numbers import listed
from shadecore.telling.under_words import under_trouble
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

STAGES: Final = "base and clear together"
"""How a mix that the US national rule holds as one is called."""
STAGE_KINDS: Final = frozenset({"base_coat", "mid_coat", "clear_coat"})
"""Kinds of product that the US national rule holds as one."""


def broken_limits(plan: Plan) -> tuple[str, ...]:
    """What is not kept or not known: what the colour goes over, windows, VOC, guns.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        Sentences, what spoils the job before what breaks a rule; empty where all is
        kept.
    """
    under = under_trouble(plan.picked.choice)
    return (*under, *_windows(plan), *_voc(plan), *_guns(plan))


def _windows(plan: Plan) -> tuple[str, ...]:
    return tuple(broken_words(each) for each in plan.timeline if each.broken)


def _voc(plan: Plan) -> tuple[str, ...]:
    """A sentence a rule, together; what a rule holds as one is not told apart."""
    units = UNITS[plan.request.question.units]
    by_rule: dict[str, list[tuple[str, VocAnswer]]] = {}
    for material in plan.materials:
        for answer in material.voc:
            apart = answer.rule != US_NATIONAL or plan.stages is None
            if apart or material.product.kind not in STAGE_KINDS:
                name = brief(material.product.name)
                by_rule.setdefault(answer.rule, []).append((name, answer))
    if plan.stages is not None:
        by_rule.setdefault(plan.stages.rule, []).append((STAGES, plan.stages))
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


def _guns(plan: Plan) -> tuple[str, ...]:
    units = UNITS[plan.request.question.units]
    said = (
        over_cap_words(each.product.name, each.product.gun, units)
        for each in plan.materials
        if each.product.gun is not None
    )
    return tuple(dict.fromkeys(each for each in said if each))
