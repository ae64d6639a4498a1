"""Start the screens: ``streamlit run app.py``."""

from shadecore.screens.start import main

main()
