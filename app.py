"""Start the screens: ``streamlit run app.py``."""

import streamlit as st

from shadecore.screens import pick_page, plan_page

st.set_page_config(page_title="shadecore: which undercoat?", layout="wide")
st.navigation(
    [
        st.Page(pick_page.page, title="Pick", url_path="pick", default=True),
        st.Page(plan_page.page, title="Plan", url_path="plan"),
    ],
    position="top",
).run()
