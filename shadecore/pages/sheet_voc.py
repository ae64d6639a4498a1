"""VOC of the mixes beside the limits, for the booth sheet."""

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Section, Table, Text
from shadecore.products.voc import VocAnswer
from shadecore.telling.job_words import (
    VOC_NOTE,
    limit_words,
    rule_brief,
    voc_in_brief,
)
from shadecore.telling.limit_words import judged_apart, stages_words
from shadecore.telling.numbers import capital
from shadecore.units import UNITS


def voc_section(plan: Plan) -> Section:
    """Each mix against each rule that its sheet names.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    limits = {each.rule: each for material in plan.materials for each in material.voc}
    rows = [
        (
            brief(each.product.name),
            *(_voc_cell(plan, each.product.kind, each.voc, rule) for rule in limits),
        )
        for each in plan.materials
        if each.voc
    ]
    if plan.stages is not None:
        stages = (_voc_cell(plan, "", (plan.stages,), rule) for rule in limits)
        rows.append((capital(stages_words(plan.stages)), *stages))
    notes = " ".join(f"{limit_words(each)}." for each in limits.values())
    return Section(
        "VOC, ready to spray, and the limit",
        (
            Table(("Product", *map(rule_brief, limits.values())), tuple(rows)),
            Text(f"{notes} {VOC_NOTE}"),
        ),
        small=True,
    )


def _voc_cell(plan: Plan, kind: str, answers: tuple[VocAnswer, ...], rule: str) -> str:
    units = UNITS[plan.request.question.units]
    answer = next((each for each in answers if each.rule == rule), None)
    if answer is None:
        return ""
    if not judged_apart(plan, kind, rule):
        return f"{units.voc.show(answer.voc_g_per_l)}, see together"
    return voc_in_brief(answer, units)
