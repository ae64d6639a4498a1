"""Mixing for the step at the bench: from the cup or the scale in hand."""

from dataclasses import replace
from datetime import datetime
from typing import Final

import streamlit as st

from shadecore.book.left_overs import left_of
from shadecore.errors import ShadecoreError
from shadecore.formats.echo import brief
from shadecore.job.bench import step_ask
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.job.pots import Pots, material_of, pots_of, spraying_of, step_ml
from shadecore.job.schedule import Timed
from shadecore.pages.blocks import Table
from shadecore.pages.html_layout import block_html
from shadecore.products.amount import parse_amount, volume_ml
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix
from shadecore.products.ranges import CUP_L
from shadecore.screens import say, shop
from shadecore.screens.plan import bench_actions as act
from shadecore.screens.plan.clocks import pot_life_end
from shadecore.telling.at_bench_words import spray_until_words
from shadecore.telling.bench_words import poured_words, ready_words
from shadecore.telling.left_over_words import left_over_words
from shadecore.telling.numbers import grams
from shadecore.units import ML_PER_L, UNITS, Units

_ALL: Final = "All coats"
_ONE: Final = "One coat"
_IN_HAND: Final = "Cup or weight"
_CUP: Final = "cup"
_USUAL_CUP: Final = "600 ml cup"


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
    planned, begun = pots_of(plan, coming), bool(plan.request.sprayed)
    several = planned is not None and planned.number > 1
    with st.expander(
        f"Mix: {brief(material.product.name)}",
        expanded=several or not begun,
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
        _show_left(material, units)
        say.words(ready_words(mix, material, units, _pot(plan, coming, material, mix)))
        st.html(block_html(_pours(mix, units)))
        until = pot_life_end(plan, coming)
        if until is not None:
            say.words(spray_until_words(material.product.name, until))
        cup_ml = mix.asked.cup_ml
        st.button(
            "Mixed now" if until is None else "Mixed again now",
            key="bench_mixed",
            on_click=act.mixed_now,
            args=(coming.step.key, None if cup_ml is None else cup_ml / ML_PER_L),
        )


def _show_left(material: Material, units: Units) -> None:
    """What the book has left of it, before more is mixed."""
    book = shop.book()
    if book is None:
        return
    colour = shop.colour()
    uid = "" if colour is None else colour.uid
    today = datetime.now().astimezone().date()
    for each in left_of(book, material.product, uid, today):
        say.words(left_over_words(each, units))


def _pot(plan: Plan, coming: Timed, material: Material, mix: BenchMix) -> int | None:
    """Which of the pots of all coats comes next; None for another mix."""
    spraying = mix.asked.spraying
    if spraying is None or spraying.coats != coming.step.coats:
        return None
    pots = Pots(material, coming.step.coats, mix.fills, mix.ready_ml, ())
    return pots.coming(len(plan.request.sprayed))


def _ask(plan: Plan, coming: Timed, material: Material) -> BenchAsk:
    """What is wanted."""
    step = coming.step
    ways = [_ALL, _ONE, _IN_HAND] if step.coats > 1 else [_ALL, _IN_HAND]
    way = st.segmented_control(
        "Mix for",
        ways,
        default=_ALL,
        required=True,
        key=f"mix_for_{step.key}",
    )
    asked = step_ask(plan, coming)
    if way == _ALL:
        return asked
    if way == _ONE:
        one_ml = step_ml(plan, coming, material, 1)
        one = replace(spraying_of(plan, coming), coats=1)
        return replace(asked, volume_ml=one_ml, spraying=one)
    units, cup_l = UNITS[plan.request.question.units], plan.request.cup_l
    usual = f"{units.volume.show(cup_l)} {_CUP}" if cup_l else _USUAL_CUP
    text = st.text_input(
        "In hand",
        usual,
        key=f"mix_in_hand_{step.key}",
        help="600 ml cup, 250 ml, 8 fl oz, 180 g. Into a cup goes what the step takes, "
        "in so many pots that each can still be stirred; the sheet then says the same.",
    )
    if text.strip().lower().endswith(_CUP):
        size = volume_ml(text.strip()[: -len(_CUP)], "A cup's size")
        CUP_L.check(size / ML_PER_L, "The cup")
        return replace(asked, cup_ml=size)
    amount = parse_amount(text)
    return BenchAsk(volume_ml=amount.ml, mass_g=amount.g)


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
