"""What is mixed for a job, by volume and by the scale, for the booth sheet."""

from shadecore.formats.echo import brief
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Cell, Section, Table, Text, as_cell
from shadecore.products.mixing import mix_volume
from shadecore.telling.bench_words import (
    half_full_words,
    own_paints_words,
    pot_life_brief,
)
from shadecore.telling.counts import coats_words
from shadecore.telling.estimate_words import own_prices_words
from shadecore.telling.hiding_words import mix_words
from shadecore.telling.job_words import BOXED_NOTE, NO_MIDCOAT_NOTE, cans_words
from shadecore.telling.numbers import grams
from shadecore.units import ML_PER_L, UNITS, Units


def mix_section(plan: Plan) -> Section:
    """What is mixed, from which cans, and what these cost.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    units = UNITS[plan.request.question.units]
    rows = [row for each in plan.materials for row in _rows(each, units)]
    film = units.film.show(plan.answer.settings.film.dry_film_um)
    return Section(
        f"Mix for {units.area.show(plan.area_m2)}",
        (
            Table(
                (
                    *("Mix", "Pour", "Parts", "Volume", "Scale reads", "Cans"),
                    plan.sheet.currency,
                ),
                tuple(rows),
                frozenset({2, 3, 4, 6}),
            ),
            Text(
                f"Cans come to {plan.cost:.2f} {plan.sheet.currency}. {BOXED_NOTE} "
                f"One coat of colour: {film} dry."
            ),
            *(Text(each) for each in _notes(plan, units)),
        ),
        small=True,
    )


def _notes(plan: Plan, units: Units) -> list[str]:
    """What is special about the mixes of a job."""
    said = [own_prices_words(plan.materials, plan.sheet.currency)]
    said += [half_full_words(each, units) for each in plan.materials]
    stands_in = plan.sheet.over_ground.kind == "base_coat"
    if plan.request.question.over_a_ground and stands_in:
        said.append(NO_MIDCOAT_NOTE)
    mix, choice = plan.answer.mix, plan.picked.choice
    sealers = [each for each in plan.materials if each.product.kind == "sealer"]
    # A mix that was chosen stands in the table, with both of its paints.
    recommended = choice is not None and not choice.own
    if recommended and mix is not None and mix.undercoat.parts and sealers:
        paint = sealers[0].portions[0].volume_l
        own = own_paints_words(mix.undercoat.parts, paint, units)
        said.append(f"{mix_words(mix, plan.answer.recommended)} For this job: {own}.")
    return [each for each in said if each]


def _rows(material: Material, units: Units) -> list[tuple[Cell | str, ...]]:
    """A row to a component; beside them what is said of the whole mix."""
    product = material.product
    pours = mix_volume(product.components, ML_PER_L * material.ready_l)
    use = f": {brief(material.use).lower()}" if material.use else ""
    name = f"{brief(product.name)}{use}"
    grades = [brief(each) for each in (material.reducer, material.hardener) if each]
    told = [units.volume.show(material.ready_l), pot_life_brief(product), *grades]
    beside: list[Cell | str] = [Cell(f"{name}, {coats_words(material.coats)}")]
    beside.append(", ".join(each for each in told if each))
    beside += [""] * (len(pours) - len(beside))
    if len(pours) == 1:
        beside = [Cell(as_cell(beside[0]).text, note=as_cell(beside[1]).text)]
    return [
        (
            whole,
            brief(portion.component.name),
            f"{portion.component.parts:g}",
            units.volume.show(portion.volume_l),
            grams(pour.scale_g),
            cans_words(portion.cans, units) + (", boxed" if portion.boxed else ""),
            f"{portion.cost:.2f}",
        )
        for whole, portion, pour in zip(beside, material.portions, pours, strict=True)
    ]
