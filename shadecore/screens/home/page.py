"""The first page: what the tool does, and three ways to start."""

from typing import Final, NamedTuple

import streamlit as st

from shadecore.question.answer import answer
from shadecore.question.link import belongs
from shadecore.question.question import Question
from shadecore.screens import pictures, ways
from shadecore.telling.counts import count_words


class _Start(NamedTuple):
    title: str
    text: str
    button: str
    page: str


_STARTS: Final = (
    _Start(
        "I have a colour",
        "Lab values of a colour code, a spectrum, sRGB or Munsell. Out come the "
        "undercoat, the coats and how sure that is.",
        "Pick the undercoat",
        "pick",
    ),
    _Start(
        "I have a photo",
        "A swatch beside a grey card, white paper or a 24-patch chart. Out come its "
        "Lab with an interval, and the pick.",
        "Measure the photo",
        "photo",
    ),
    _Start(
        "I am teaching",
        "One film over five greys, coat by coat: why a light undercoat helps reds and "
        "yellows, and an exercise to guess.",
        "Open the lesson",
        "lesson",
    ),
)


def page() -> None:
    """Run the page from top to bottom."""
    query = st.query_params.to_dict()
    if any(belongs(name) for name in query):
        # A link of a pick, from when the pick was the first page.
        ways.go_to("pick", query)
    st.title("Which undercoat, and how many coats?", anchor=False)
    st.markdown(
        "The shade of the sealer decides whether a colour hides in three coats or in "
        "six. shadecore picks it from the greys on your shelf, says how sure the count "
        "is, and plans the rest of the job."
    )
    for column, start in zip(st.columns(len(_STARTS)), _STARTS, strict=True):
        with column, st.container(border=True, height="stretch"):
            st.subheader(start.title, anchor=False)
            st.markdown(start.text)
            if st.button(start.button, key=start.page, type="primary", width="stretch"):
                ways.go_to(start.page)
    _show_example()
    st.caption(
        "Counts are modelled, with their interval; colours, greys and prices of the "
        "examples are invented. The product's data sheet and a sprayed-out test card "
        "have the last word. Everything stays on this computer."
    )


def _show_example() -> None:
    with st.spinner("Mixing the example"):
        found = answer(Question())
    best, closest = found.recommended, found.closest
    st.html(pictures.beside_html(found))
    st.markdown(
        f"The same red over {best.undercoat.name} and over {closest.undercoat.name}, "
        f"the grey that matches it in lightness: {count_words(best.count)} against "
        f"{count_words(closest.count)}. Under each coat stands the difference to the "
        "full colour (CIEDE2000); a double frame marks the coats that hide. A screen "
        "is not a paint chip."
    )
