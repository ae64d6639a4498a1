"""All pages behind one address; run by Streamlit."""

import streamlit as st

from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.screens import bottom_bar, phone, shop, style, uploads, ways
from shadecore.screens.book import page as book
from shadecore.screens.guess import page as guess
from shadecore.screens.home import page as home
from shadecore.screens.lesson import page as lesson
from shadecore.screens.lesson.link import FIRST_SEED
from shadecore.screens.photo import page as photo
from shadecore.screens.pick import page as pick
from shadecore.screens.plan import page as plan
from shadecore.screens.printing import page as printing
from shadecore.undercoats.shelf_table import demo_shelf


def main() -> None:
    """Show the page that the address names."""
    st.set_page_config(page_title="shadecore: which sealer?", layout="wide")
    pages = {
        "home": st.Page(home.page, title="Start", url_path="home", default=True),
        "pick": st.Page(pick.page, title="Pick", url_path="pick"),
        "photo": st.Page(photo.page, title="Photo", url_path="photo"),
        "plan": st.Page(plan.page, title="Plan", url_path="plan"),
        "book": st.Page(book.page, title="Book", url_path="book"),
        "lesson": st.Page(lesson.page, title="Lesson", url_path="lesson"),
        "guess": st.Page(guess.page, title="Guess", url_path="guess"),
        "handout": st.Page(printing.page, title="Print", url_path="handout"),
        "phone": st.Page(phone.page, title="Open on phone", url_path="phone"),
    }
    ways.remember(pages)
    shop.begin()
    style.show_style()
    page = st.navigation(list(pages.values()), position="top")
    bottom_bar.show_bottom_bar(page.url_path or "home")
    uploads.begin(page.url_path)
    ways.begin_at_top(page.url_path)
    page.run()


def make_ready() -> None:
    """Work out what the first visitor of each page would have to wait for."""
    answer(Question())
    guess.exercise_of(FIRST_SEED, demo_shelf())


if __name__ == "__main__":
    main()
