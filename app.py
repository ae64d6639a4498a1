"""Start the screens: ``streamlit run app.py``."""

import streamlit as st

from shadecore.screens import (
    guess_page,
    handout_page,
    lesson_page,
    pick_page,
    plan_page,
)

st.set_page_config(page_title="shadecore: which undercoat?", layout="wide")
st.navigation(
    [
        st.Page(pick_page.page, title="Pick", url_path="pick", default=True),
        st.Page(plan_page.page, title="Plan", url_path="plan"),
        st.Page(lesson_page.page, title="Lesson", url_path="lesson"),
        st.Page(guess_page.page, title="Guess", url_path="guess"),
        st.Page(handout_page.page, title="Handout", url_path="handout"),
    ],
    position="top",
).run()
