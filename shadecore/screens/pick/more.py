"""What follows from a pick: reductions, cost, sand-throughs, ground coats."""

from dataclasses import replace

import streamlit as st

from shadecore.coats.answer import Answer
from shadecore.coats.cost import Rates, costs
from shadecore.colour.colour_table import DEMO_COLOURS, ColourList, parse_colours
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode, read_text
from shadecore.job.paint_amount import film_asked
from shadecore.pages.blocks import Table
from shadecore.pages.details import (
    cost_table,
    grounds_table,
    mixes_table,
    sand_throughs_table,
)
from shadecore.question.answer import (
    grounds_of,
    reductions_of,
    sand_throughs_of,
)
from shadecore.question.plain import RANGES
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.screens.pick.own_sheet import own_sheet
from shadecore.screens.pictures import details_html
from shadecore.telling.hiding_words import sand_through_words
from shadecore.units import Units

_AREAS = "areas_chosen"


def show_reductions(question: Question, units: Units) -> None:
    """Show 1:1 beside 2:1.

    Parameters
    ----------
    question : Question
        What is asked.
    units : Units
        What films and amounts are shown in.
    """
    _show(mixes_table(reductions_of(_as_planned(question)), units))


def show_cost(question: Question, found: Answer, units: Units) -> Question:
    """Ask for the rates and show what each sealer costs.

    Parameters
    ----------
    question : Question
        What is asked.
    found : Answer
        Its answer, with the amounts that are planned with.
    units : Units
        What amounts are shown in.

    Returns
    -------
    Question
        With the rates.
    """
    columns = st.columns(5)
    for column, (name, label) in zip(
        columns,
        (
            ("area_m2", "Area (m²)"),
            ("topcoat_price_per_l", "Base coat, a litre"),
            ("sealer_ml_per_m2", "Sealer (ml/m²)"),
            ("minutes_per_coat", "Minutes a coat"),
            ("hourly_rate", "An hour costs"),
        ),
        strict=True,
    ):
        if name not in st.session_state:
            st.session_state[name] = getattr(question.rates, name)
        with column:
            st.number_input(label, *RANGES[name], key=name)
    rates = Rates(**{name: st.session_state[name] for name in Rates.__annotations__})
    asked = replace(question, rates=rates)
    _show(cost_table(costs(found, asked.rates), units))
    return asked


def show_sand_throughs(question: Question) -> Question:
    """Ask which sealers lie bare side by side and follow them.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    Question
        With the areas.
    """
    on_shelf = [each.name for each in question.shelf]
    if _AREAS not in st.session_state:
        kept = [name for name in question.areas if name in on_shelf]
        st.session_state[_AREAS] = kept
    names = st.multiselect("Sealers side by side on the panel", on_shelf, key=_AREAS)
    asked = replace(question, areas=tuple(names))
    if len(names) <= 1:
        st.markdown("Choose two or more, such as a sanded-through spot and its panel.")
        return asked
    found = sand_throughs_of(asked)
    say.words(sand_through_words(found, asked.tolerance))
    _show(sand_throughs_table(found))
    return asked


def show_grounds(question: Question, units: Units) -> None:
    """Ask for the shop's own colours and rank ground coats.

    Parameters
    ----------
    question : Question
        What is asked.
    units : Units
        What amounts are shown in.
    """
    try:
        colours = _own_colours(question)
    except ShadecoreError as error:
        say.error(error)
        return
    for row in colours.bad:
        say.error(f"Left out: {row}")
    ways = grounds_of(_as_planned(question), colours)
    if not ways:
        st.markdown("None of these hides the colour within the coats counted.")
        return
    _show(grounds_table(ways, units))


def _as_planned(question: Question) -> Question:
    """The question with the mix that the pick's amounts are worked out with."""
    return replace(question, film=film_asked(question.film, own_sheet()))


def _own_colours(question: Question) -> ColourList:
    upload = st.file_uploader(
        "The shop's own colours (CSV with code, L, a, b); invented ones unless given",
        type=["csv", "txt"],
        key="colours_file",
    )
    if upload is None:
        return parse_colours(read_text(data_file(DEMO_COLOURS)), DEMO_COLOURS)
    text = decode(upload.getvalue(), upload.name)
    return parse_colours(text, upload.name, question.condition)


def _show(table: Table) -> None:
    st.html(details_html(table))
