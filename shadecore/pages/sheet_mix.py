"""What is mixed for a job, by volume and by the scale, for the booth sheet."""

from shadecore.formats.echo import brief
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.job.pots import Pots, mixes_of
from shadecore.pages.blocks import Cell, Section, Table, Text
from shadecore.products.materials import Portion
from shadecore.products.mixing import mix_volume
from shadecore.telling.bench_words import (
    POTS_NOTE,
    half_full_words,
    own_paints_words,
    pot_life_brief,
    pots_words,
)
from shadecore.telling.counts import coats_words
from shadecore.telling.estimate_words import own_prices_words
from shadecore.telling.hiding_words import mix_words
from shadecore.telling.job_words import BOXED_NOTE, NO_MIDCOAT_NOTE, cans_words
from shadecore.telling.numbers import grams
from shadecore.units import ML_PER_L, UNITS, Units

Row = tuple[Cell | str, ...]


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
    rows = [row for each in plan.materials for row in _rows(plan, each, units)]
    film = units.film.show(plan.answer.settings.film.dry_film_um)
    return Section(
        f"Mix for {units.area.show(plan.area_m2)}",
        (
            Table(
                (
                    *("Mix", "Pour", "Parts", "In a pot", "Scale reads", "Cans"),
                    plan.sheet.currency,
                ),
                tuple(rows),
                frozenset({2, 3, 4, 6}),
            ),
            Text(
                f"Cans come to {plan.cost:.2f} {plan.sheet.currency}. One coat of "
                f"colour: {film} dry."
            ),
            *(Text(each) for each in _notes(plan, units)),
        ),
        small=True,
    )


def _notes(plan: Plan, units: Units) -> list[str]:
    """What is special about the mixes of a job."""
    said = [own_prices_words(plan.materials, plan.sheet.currency)]
    boxed = any(each.boxed for mix in plan.materials for each in mix.portions)
    said += [BOXED_NOTE] if boxed else []
    said += [POTS_NOTE] if _in_pots(plan) else []
    said += [half_full_words(each, units) for each in plan.materials]
    stands_in = plan.sheet.over_ground.kind == "base_coat"
    if plan.request.question.over_a_ground and stands_in:
        said.append(NO_MIDCOAT_NOTE)
    # Cans of one size are told once, however many mixes take them.
    return list(dict.fromkeys(each for each in said if each))


def mix_section_of_two(plan: Plan) -> tuple[Section, ...]:
    """The mix of two sealers that would save a coat, with its amounts for the job.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Section
        One, or none where no mix saves one or somebody chose a sealer.
    """
    mix, choice = plan.answer.mix, plan.picked.choice
    sealers = [each for each in plan.materials if each.product.kind == "sealer"]
    # A mix that was chosen stands in the table, with both of its paints.
    recommended = choice is not None and not choice.own
    if not recommended or mix is None or not mix.undercoat.parts or not sealers:
        return ()
    units = UNITS[plan.request.question.units]
    paint = sealers[0].portions[0].volume_l
    own = own_paints_words(mix.undercoat.parts, paint, units)
    said = f"{mix_words(mix, plan.answer.recommended)} For this job: {own}."
    return (Section("What would save a coat", (Text(said),), run_in=True),)


def _in_pots(plan: Plan) -> bool:
    """Whether something that hardens is mixed in several pots."""
    return any(
        each.number > 1
        for material in plan.materials
        if material.product.two_pack
        for each in mixes_of(plan, material)
    )


def _rows(plan: Plan, material: Material, units: Units) -> list[Row]:
    """A row to a component, again for steps that are mixed for otherwise."""
    mixes = mixes_of(plan, material)
    rows = []
    for place, one in enumerate(mixes):
        title = one.titles[0] if len(mixes) > 1 else ""
        rows += _pot_rows(one, title, units, bought=not place)
    return rows


def _pot_rows(pots: Pots, title: str, units: Units, *, bought: bool) -> list[Row]:
    """One pot; beside it what is said of all, and where it is bought its cans."""
    material = pots.material
    product = material.product
    pours = mix_volume(product.components, pots.ready_ml)
    use = f": {brief(material.use).lower()}" if material.use else ""
    step = f": {brief(title)}" if title else ""
    again = product.two_pack and len(pots.titles) > 1
    times = f"{len(pots.titles)} times " if again else ""
    name = f"{brief(product.name)}{use}{step}, {times}{coats_words(pots.coats)}"
    grades = [brief(each) for each in (material.reducer, material.hardener) if each]
    amount = pots_words(pots.number, pots.ready_ml / ML_PER_L, pots.coats, units)
    amount = f"each time {amount}" if again else amount
    told = ", ".join(
        each for each in (amount, pot_life_brief(product), *grades) if each
    )
    beside: list[Cell | str] = [Cell(name), told, *("" for _ in pours[2:])]
    if len(pours) == 1:
        beside = [Cell(name, note=told)]
    return [
        (
            whole,
            brief(pour.component.name),
            f"{pour.component.parts:g}",
            units.volume.show(pour.volume_ml / ML_PER_L),
            grams(pour.scale_g),
            *(_bought(portion, units) if bought else ("", "")),
        )
        for whole, portion, pour in zip(beside, material.portions, pours, strict=True)
    ]


def _bought(portion: Portion, units: Units) -> tuple[str, str]:
    boxed = ", boxed" if portion.boxed else ""
    return cans_words(portion.cans, units) + boxed, f"{portion.cost:.2f}"
