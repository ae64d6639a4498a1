"""What follows from a pick: mixes, cost, patches, coloured grounds."""

import streamlit as st

from shadecore.coats.answer import Answer
from shadecore.coats.cost import Rates, costs
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.grounds import rank_grounds
from shadecore.coats.mixes import compare_mixes
from shadecore.coats.sand_throughs import compare_sand_throughs
from shadecore.colour.colour_table import DEMO_COLOURS, parse_colours
from shadecore.colour.topcoat import Topcoat
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.film.gun import mix_film
from shadecore.formats.table import decode, read_text
from shadecore.question.link import RANGES, PickState
from shadecore.recipes.library import recipe_library
from shadecore.screens import say
from shadecore.screens.pictures import details_html
from shadecore.telling.details import (
    cost_table,
    grounds_table,
    mixes_table,
    patches_table,
    patches_words,
)
from shadecore.undercoats.shelf import Shelf
from shadecore.units import Units

_COMPARED = ((1.0, 1.0), (2.0, 1.0))


def show_mixes(
    answer: Answer, shelf: Shelf, state: PickState, paints: LikelyPaints, units: Units
) -> None:
    """Show 1:1 beside 2:1.

    Parameters
    ----------
    answer : Answer
        The pick.
    shelf : tuple of Undercoat
        The shelf.
    state : PickState
        Gun and paint.
    paints : LikelyPaints
        What the topcoat may be.
    units : Units
        What films and amounts are shown in.
    """
    mixes = tuple(
        mix_film(
            mix,
            state.wet_um,
            state.overlap_percent / 100.0,
            state.solids_percent / 100.0,
            state.transfer_percent / 100.0,
        )
        for mix in _COMPARED
    )
    outlooks = compare_mixes(
        answer.topcoat, shelf, answer.settings, mixes, state.minutes_per_coat, paints
    )
    st.html(details_html(mixes_table(outlooks, units)))


def show_cost(answer: Answer) -> None:
    """Ask for the rates and show what each undercoat costs.

    Parameters
    ----------
    answer : Answer
        The pick.
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
        with column:
            st.number_input(label, *RANGES[name], key=name)
    rates = Rates(**{name: st.session_state[name] for name in Rates.__annotations__})
    st.html(details_html(cost_table(costs(answer, rates))))


def show_patches(answer: Answer, shelf: Shelf) -> None:
    """Ask which undercoats lie bare side by side and follow them.

    Parameters
    ----------
    answer : Answer
        The pick.
    shelf : tuple of Undercoat
        The shelf.
    """
    by_name = {each.name: each for each in shelf}
    kept = [name for name in st.session_state["areas"].split("\n") if name in by_name]
    if "areas_chosen" not in st.session_state:
        st.session_state["areas_chosen"] = kept
    names = st.multiselect(
        "Undercoats side by side on the panel", by_name, key="areas_chosen"
    )
    st.session_state["areas"] = "\n".join(names)
    if len(names) <= 1:
        st.markdown("Choose two or more, such as a sanded-through spot and its panel.")
        return
    patches = compare_sand_throughs(
        answer.belief,
        tuple(by_name[name] for name in names),
        answer.recommended.undercoat,
        answer.settings,
    )
    say.words(patches_words(patches, answer.settings.tolerance))
    st.html(details_html(patches_table(patches)))


def show_grounds(answer: Answer, shelf: Shelf, units: Units) -> None:
    """Ask for the shop's own colours and rank grounds.

    Parameters
    ----------
    answer : Answer
        The pick.
    shelf : tuple of Undercoat
        The shelf.
    units : Units
        What amounts are shown in.
    """
    upload = st.file_uploader(
        "The shop's own colours (CSV with code, L, a, b); invented ones unless given",
        type=["csv", "txt"],
        key="colours_file",
    )
    try:
        if upload is None:
            colours = parse_colours(read_text(data_file(DEMO_COLOURS)), DEMO_COLOURS)
        else:
            text = decode(upload.getvalue(), upload.name)
            colours = parse_colours(text, upload.name)
    except ShadecoreError as error:
        say.error(error)
        return
    for row in colours.bad:
        say.error(f"Left out: {row}")
    own = tuple(
        (code, Topcoat((float(lab[0]), float(lab[1]), float(lab[2])), code))
        for code, lab in zip(colours.codes, colours.lab, strict=True)
    )
    ways = rank_grounds(answer.belief, own, shelf, answer.settings, recipe_library())
    if not ways:
        st.markdown("None of these hides the colour within the coats counted.")
        return
    st.html(details_html(grounds_table(ways, units)))
