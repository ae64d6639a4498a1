"""Mixing for the step at the bench: from the cup or the scale in hand."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.echo import brief
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.job.schedule import Timed
from shadecore.pages.blocks import Table
from shadecore.pages.html_layout import block_html
from shadecore.products.amount import parse_amount, volume_ml
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix
from shadecore.screens import say
from shadecore.screens.plan import bench_actions as act
from shadecore.screens.plan.clocks import material_of, pot_life_end
from shadecore.telling.at_bench_words import (
    poured_words,
    ready_words,
    spray_until_words,
)
from shadecore.telling.numbers import grams
from shadecore.units import ML_PER_L, UNITS, Units

_ALL: Final = "All coats"
_ONE: Final = "One coat"
_IN_HAND: Final = "Cup or weight"
_CUP: Final = "cup"


def show_mixing(plan: Plan, coming: Timed) -> None:
    """Say what to pour for a step, and let the pot life run.

    Parameters
    ----------
    plan : Plan
        The plan.
    coming : Timed
        Its coming step; nothing is shown where nothing is mixed for it.
    """
    material = material_of(plan, coming)
    if material is None:
        return
    begun = bool(plan.request.sprayed)
    with st.expander(
        f"Mix: {brief(material.product.name)}",
        expanded=not begun,
        key=f"mix_{coming.step.key}_{begun}",
        on_change="rerun",
    ) as mixing:
        if mixing.open is False:
            return
        try:
            mix = bench_mix(material.product, _ask(plan, coming, material))
        except ShadecoreError as error:
            say.error(error)
            return
        units = UNITS[plan.request.question.units]
        say.words(ready_words(mix, material, units))
        st.html(block_html(_pours(mix, units)))
        until = pot_life_end(plan, coming)
        if until is not None:
            say.words(spray_until_words(material.product.name, until))
        st.button(
            "Mixed now" if until is None else "Mixed again now",
            key="bench_mixed",
            on_click=act.mixed_now,
            args=(coming.step.key,),
        )


def step_ml(plan: Plan, timed: Timed, material: Material, coats: int) -> float:
    """Ready-to-spray paint for some coats of a step, as the sheet reckons it.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        The step.
    material : Material
        What all coats of its mix take.
    coats : int
        How many are meant.

    Returns
    -------
    float
        With what stays in cup and gun after a filling. [ml]
    """
    step, left_l = timed.step, plan.request.cup_loss_l
    whole = sum(
        each.step.coats * each.step.share
        for each in plan.timeline
        if (each.step.product, each.step.mix) == (step.product, step.mix)
    )
    sprayed_l = (material.ready_l - left_l) * coats * step.share / whole
    return ML_PER_L * (sprayed_l + left_l)


def _ask(plan: Plan, coming: Timed, material: Material) -> BenchAsk:
    step = coming.step
    ways = [_ALL, _ONE, _IN_HAND] if step.coats > 1 else [_ALL, _IN_HAND]
    way = st.segmented_control(
        "Mix for",
        ways,
        default=_ALL,
        required=True,
        key=f"mix_for_{step.key}",
    )
    own = _own(plan, material)
    if way != _IN_HAND:
        coats = step.coats if way == _ALL else 1
        wanted = step_ml(plan, coming, material, coats)
        return BenchAsk(volume_ml=wanted, own=own)
    text = st.text_input(
        "In hand",
        "600 ml cup",
        key=f"mix_in_hand_{step.key}",
        help="600 ml cup, 250 ml, 8 fl oz, 180 g: a cup is filled so far that it can "
        "still be stirred.",
    )
    if text.strip().lower().endswith(_CUP):
        size = volume_ml(text.strip()[: -len(_CUP)], "A cup's size")
        return BenchAsk(cup_ml=size, own=own)
    amount = parse_amount(text)
    return BenchAsk(volume_ml=amount.ml, mass_g=amount.g, own=own)


def _own(plan: Plan, material: Material) -> tuple[tuple[str, float], ...]:
    """The painter's own can in the place of the sheet's paint for the sealer."""
    choice = plan.picked.sealers.get(material.use)
    if material.product.kind != "sealer" or choice is None or choice.undercoat.parts:
        # A mix of two cans stands in the material already.
        return ()
    return ((choice.undercoat.name, 1.0),)


def _pours(mix: BenchMix, units: Units) -> Table:
    rows = tuple(
        (
            brief(each.component.name),
            poured_words(each.volume_ml, units),
            grams(each.mass_g),
            poured_words(each.level_ml, units),
            grams(each.scale_g),
        )
        for each in mix.pours
    )
    heads = ("Pour", "Volume", "Weight", "Cup reads", "Scale reads")
    return Table(heads, rows, frozenset({1, 2, 3, 4}))
