"""Prints and photos say what kind a colour is, and at which angle it hides last."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shadecore.cli import main
from shadecore.coats.seen import Seen
from shadecore.colour.colour_file import parse_colour_file
from shadecore.lesson.asked import contrast_card_of, lesson_of
from shadecore.pages.handout import handout
from shadecore.pages.html_layout import document_html
from shadecore.pages.wall_chart import wall_chart
from shadecore.question.answer import answer, answer_many, photo_choices
from shadecore.question.many_kinds import answer_kinds
from shadecore.question.question import Mixing, Question, photo_doubt
from shadecore.screens.lesson.link import EXAMPLE_LESSON, read_lesson
from shadecore.telling import chart_records
from shadecore.telling.chart_records import chart_of_kinds
from shadecore.telling.colours import angle_words
from shadecore.telling.photo_words import one_side_words

TABLE = (
    "code,kind,L,a,b,L15,a15,b15,L45,a45,b45,L110,a110,b110\n"
    "Silver,metallic,,,,108,0,-1,36,0,-1,13,0,-2\n"
    "Red,solid,45,60,35,,,,,,,,,\n"
    "Either,,,,,86,0,3,54,0,0,47,0,-1\n"
    "White,three-stage,92,0,2,,,,,,,,,\n"
)
"""Invented."""
EVERY = parse_colour_file(TABLE, "kinds.csv")
PLAIN = Question(mixing=Mixing(allowed=False))
SILVER = replace(PLAIN, colour="", kind="metallic", angles=EVERY.readings[0])


@pytest.mark.parametrize("every_undercoat", [False, True])
def test_a_chart_made_in_parts_is_the_chart(
    every_undercoat: bool,  # noqa: FBT001 - a case
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # 500 000 colours answered at once once took two gigabytes.
    seen = {2: (Seen("data-sheet", 2, 3),), 3: (Seen("data-sheet", 1, 4),)}
    shares: list[float] = []

    def chart() -> list[dict[str, str]]:
        return list(
            chart_of_kinds(
                PLAIN,
                EVERY,
                seen,
                every_undercoat=every_undercoat,
                progress=shares.append,
            )
        )

    whole = chart()
    shares.clear()
    monkeypatch.setattr(chart_records, "COLOURS_AT_ONCE", 3)
    assert chart() == whole
    assert [row["code"] for row in whole][:: len(PLAIN.shelf) ** every_undercoat] == [
        *EVERY.colours.codes
    ]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_answers_of_any_kind_stand_in_the_order_of_the_file() -> None:
    picks, kinds = answer_kinds(PLAIN, EVERY, {})
    assert [each.kind for each in kinds] == ["metallic", "solid", "", "three-stage"]
    assert [each.last_angle is None for each in kinds] == [False, True, False, True]
    solids = answer_many(PLAIN, EVERY.colours.lab[[1, 3]])
    np.testing.assert_array_equal(picks.counts.coats[[1, 3]], solids.counts.coats)
    np.testing.assert_array_equal(picks.order[[1, 3]], solids.order)
    own = answer(SILVER)
    names = [each.name for each in PLAIN.shelf]
    assert [names[place] for place in picks.order[0]] == [
        each.undercoat.name for each in own.outlooks
    ]
    best = picks.recommended[0]
    assert picks.counts.coats[0, best] == own.recommended.coats
    assert picks.counts.low[0, best] == own.recommended.count.low
    assert kinds[0].last_angle == own.recommended.last_angle


def test_the_wall_chart_names_kind_and_last_angle() -> None:
    picks, kinds = answer_kinds(PLAIN, EVERY, {})
    page = document_html(
        wall_chart(EVERY.colours, PLAIN.shelf, picks, PLAIN.settings, kinds=kinds)
    )
    for place, name in ((0, "metallic"), (2, "metallic or pearl")):
        last = kinds[place].last_angle
        assert last is not None
        assert f"{name}, hides last at the {angle_words(last)}" in page
    assert "ground of a three-stage" in page


def test_the_handout_of_an_effect_colour_names_kind_and_last_angle() -> None:
    shown = lesson_of(SILVER)
    page = document_html(handout(shown, contrast_card_of(shown), question=SILVER))
    assert "Metallic." in page
    assert angle_words(shown.answer.recommended.last_angle) in page


def test_commands_take_the_kind(tmp_path: Path) -> None:
    table = tmp_path / "kinds.csv"
    table.write_text(TABLE, "utf-8")
    out = tmp_path / "wall.html"
    assert main(["wallchart", str(table), "--out", str(out)]) == 0
    assert "metallic, hides last at the" in out.read_text("utf-8")


def test_a_photo_of_an_effect_colour_is_no_solid_and_says_what_it_lacks() -> None:
    doubt = photo_doubt(np.eye(3))
    question = replace(PLAIN, colour="36 0 -1", kind="metallic", photo=doubt)
    assert photo_choices(question) == ()
    assert answer(question).basis == "colour"
    assert len(answer(question).paints.angles) > 1
    assert "one side only" in one_side_words(question)
    assert "ground coat" in one_side_words(replace(question, kind="candy"))
    assert one_side_words(replace(question, kind="solid")) == ""


@pytest.mark.parametrize("question", [SILVER, replace(PLAIN, kind="pearl")])
def test_the_lesson_of_solids_takes_no_effect_colour_along(question: Question) -> None:
    assert read_lesson({}, question).colour == EXAMPLE_LESSON
