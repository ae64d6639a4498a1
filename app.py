"""Start the screens: ``streamlit run app.py``."""

import streamlit as st

from shadecore.screens import pick_page

st.set_page_config(page_title="shadecore: which undercoat?", layout="wide")
st.navigation(
    [st.Page(pick_page.page, title="Pick", url_path="pick", default=True)],
    position="hidden",
).run()
