"""The pick as it is drawn: what is said beside the count."""

import pytest

import shadecore
from shadecore.coats.pick import pick
from shadecore.colour.topcoat import parse_topcoat
from shadecore.screens.pictures import pick_html, strip_html
from shadecore.undercoats.shelf_table import demo_shelf

SHELF = demo_shelf()


def test_a_mix_that_saves_a_coat_is_named_beside_the_pick() -> None:
    two = (SHELF[0], SHELF[-1])
    blends = shadecore.shelf_blends(two)
    answers = [
        pick(parse_topcoat(text), two, blends=blends)
        for text in ("60 0 2", "50 -40 10")
    ]
    (found,) = {each for each in answers if each.mix is not None} or {answers[0]}
    assert found.mix is not None
    assert found.mix.coats is not None
    assert found.recommended.coats is not None
    saved = found.recommended.coats - found.mix.coats
    assert f", saves {saved}." in pick_html(found)
    plain = pick(parse_topcoat("50 -40 10"), two)
    assert "saves" not in pick_html(plain)


@pytest.mark.parametrize("text", ["50 60 60"])
def test_the_column_of_counts_has_no_words(text: str) -> None:
    answer = pick(parse_topcoat(text), SHELF)
    cells = strip_html(answer, "metric").split('<td class="end count">')[1:]
    counts = [each.split("<")[0] for each in cells]
    assert len(counts) == len(answer.lines)
    assert all(len(each.replace("&gt;", ">")) <= 3 for each in counts)
