"""Start the screens: ``streamlit run app.py``."""

import streamlit as st

from shadecore.screens import (
    guess_page,
    handout_page,
    home_page,
    lesson_page,
    photo_page,
    pick_page,
    plan_page,
    style,
    ways,
)

st.set_page_config(page_title="shadecore: which undercoat?", layout="wide")
pages = {
    "home": st.Page(home_page.page, title="Start", url_path="home", default=True),
    "pick": st.Page(pick_page.page, title="Pick", url_path="pick"),
    "photo": st.Page(photo_page.page, title="Photo", url_path="photo"),
    "plan": st.Page(plan_page.page, title="Plan", url_path="plan"),
    "lesson": st.Page(lesson_page.page, title="Lesson", url_path="lesson"),
    "guess": st.Page(guess_page.page, title="Guess", url_path="guess"),
    "handout": st.Page(handout_page.page, title="Print", url_path="handout"),
}
ways.remember(pages)
style.show_style()
st.navigation(list(pages.values()), position="top").run()
