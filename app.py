"""Start the screens: ``streamlit run app.py``."""

from streamlit.starlette import App

from shadecore.serving.asgi import SCRIPT, parts

app = App(SCRIPT, **parts())
