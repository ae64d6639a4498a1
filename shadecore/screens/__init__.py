"""The screens, the only place that knows Streamlit.

Functions called ``ask_...`` put widgets up and return a frozen record; functions
called ``show_...`` take a record and return nothing. Start at
:mod:`shadecore.screens.start`.
"""
