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
from shadecore.telling.limit_words import STAGES
from shadecore.telling.numbers import capital
from shadecore.units import UNITS, Units


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
    units = UNITS[plan.request.question.units]
    limits = {each.rule: each for material in plan.materials for each in material.voc}
    held = [(brief(each.product.name), each.voc) for each in plan.materials if each.voc]
    if plan.stages is not None:
        held.append((capital(STAGES), (plan.stages,)))
    rows = tuple(
        (name, *(_voc_cell(answers, rule, units) for rule in limits))
        for name, answers in held
    )
    notes = " ".join(f"{limit_words(each)}." for each in limits.values())
    return Section(
        "VOC, ready to spray, and the limit",
        (
            Table(("Product", *map(rule_brief, limits.values())), rows),
            Text(f"{notes} {VOC_NOTE}"),
        ),
        small=True,
    )


def _voc_cell(answers: tuple[VocAnswer, ...], rule: str, units: Units) -> str:
    told = (voc_in_brief(each, units) for each in answers if each.rule == rule)
    return next(told, "")
