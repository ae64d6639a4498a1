"""Answers in a notebook: a short line, a picture, a frame that agrees with them."""

import numpy as np
import pandas as pd

import shadecore

RED, GREY = "45 60 35", "60 0 0"


def test_a_line_names_the_undercoat_and_is_short() -> None:
    answer = shadecore.pick(RED)
    assert answer.recommended.undercoat.name in repr(answer)
    assert len(repr(answer)) < 120


def test_the_picture_has_a_row_for_each_undercoat_and_escapes_its_name() -> None:
    shelf = [shadecore.undercoat("<b>", 80), shadecore.undercoat("plain", 40)]
    html = shadecore.pick(RED, shelf)._repr_html_()
    assert "&lt;b&gt;" in html
    assert "<b><b>" not in html
    assert html.count("<tr") == 1 + len(shelf)


def test_a_frame_holds_the_counts() -> None:
    answer = shadecore.pick(RED, coat_cap=3)
    frame = answer.to_frame()
    assert list(frame["undercoat"]) == [e.undercoat.name for e in answer.outlooks]
    found = [None if value is pd.NA else value for value in frame["coats"]]
    assert found == [each.coats for each in answer.outlooks]
    assert None in found


def test_many_answers_agree_with_single_ones() -> None:
    lab = np.array([[45.0, 60.0, 35.0], [60.0, 0.0, 0.0]])
    picks = shadecore.pick_many(lab)
    assert repr(picks) == "<Picks of 2 colours over 5 sealers>"
    frame = picks.to_frame()
    shelf = shadecore.demo_shelf()
    for row, colour in enumerate((RED, GREY)):
        best = shadecore.pick(colour).recommended
        assert shelf[frame["undercoat"][row]].name == best.undercoat.name
        assert frame["coats"][row] == best.coats
