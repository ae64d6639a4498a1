"""Words of the core as a browser shows them: nothing in them is read as Markdown."""

from pathlib import Path

import pytest
from browser import ANSWER_MS, opened, served
from markdown_forms import FORMS
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

SCRIPT = """
import streamlit as st
from markdown_forms import FORMS
from shadecore.screens import say

for form in FORMS:
    say.error(form)
    st.button(say.plain(form), key=form)
say.words("the", "end")
"""
JOINER = "\N{WORD JOINER}"


def test_texts_are_shown_as_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parent))
    script = tmp_path / "forms.py"
    script.write_text(SCRIPT)
    with served(script) as address, opened() as page:
        page.goto(address)
        expect(page.get_by_text("the end")).to_be_visible(timeout=ANSWER_MS)
        for place in ("stAlert", "stButton"):
            found = page.get_by_test_id(place)
            assert found.count() == len(FORMS)
            shown = [
                text.replace(JOINER, "").strip() for text in found.all_inner_texts()
            ]
            assert shown == list(FORMS)
            inside = found.locator("[data-testid=stMarkdownContainer]")
            marked = inside.locator("a, img, code, em, strong, del, h1, li, table, hr")
            assert marked.count() == 0
            icons = inside.locator(
                "[data-testid=stIconMaterial], .katex, .stMarkdownBadge"
            )
            assert icons.count() == 0
