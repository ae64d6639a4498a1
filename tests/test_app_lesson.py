"""The trainer's pages without a browser: what is asked changes what is shown."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Button, FileUploader

from shadecore.lesson.colours import examples
from shadecore.lesson.guess import colours_of, draw_exercise, exercise_of_colours
from shadecore.lesson.panels import lesson
from shadecore.question.question import FilmAsked, PhotoDoubt, Question
from shadecore.screens.lesson.link import write_colours
from shadecore.telling.lesson_words import SOLIDS_ONLY

SECONDS = 60
ROOT = Path(__file__).resolve().parents[1]


def _lesson() -> None:
    # Runs as a script of its own, which knows only what it imports itself.
    from shadecore.screens.lesson import page as lesson_page  # noqa: PLC0415

    lesson_page.page()


def _guess() -> None:
    from shadecore.screens.guess import page as guess_page  # noqa: PLC0415

    guess_page.page()


def _handout() -> None:
    from shadecore.screens.printing import page as handout_page  # noqa: PLC0415

    handout_page.page()


def _open(page: object, **query: str) -> AppTest:
    app = AppTest.from_function(page, default_timeout=SECONDS)  # type: ignore[arg-type]
    for name, value in query.items():
        app.query_params[name] = value
    return app.run()


def _html(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(str(part.proto.body) for part in app.get("html"))


def _button(app: AppTest, label: str) -> Button:
    return next(each for each in app.button if each.label == label)


def test_panels_show_the_film_after_the_coats_of_the_slider() -> None:
    app = _open(_lesson)
    found = lesson(examples()[0].topcoat)
    for coats in (0, 4, 12):
        app.slider[0].set_value(coats).run()
        page = _html(app)
        for panel in found.panels:
            assert f'style="background:{panel.film[coats].hex}"' in page
            assert f">{panel.difference[coats]:.1f}" in page
        assert page.count("✓ hides") == sum(each.hides(coats) for each in found.panels)


def test_buttons_step_the_coats_and_the_link_follows() -> None:
    app = _open(_lesson, coats="4")
    _button(app, "One coat more").click().run()
    assert app.slider[0].value == 5
    assert app.query_params["coats"] == "5"
    _button(app, "One coat less").click().run()
    _button(app, "One coat less").click().run()
    assert app.slider[0].value == 3


@pytest.mark.parametrize(("coats", "label"), [("0", "less"), ("12", "more")])
def test_at_an_end_there_is_no_step_further(coats: str, label: str) -> None:
    app = _open(_lesson, coats=coats)
    assert _button(app, f"One coat {label}").disabled


def test_an_example_is_taken_and_reaches_the_link() -> None:
    app = _open(_lesson)
    app.get("button_group")[0].set_value("yellow").run()
    assert app.text_input[0].value == "82 4 78"
    assert app.query_params["lesson"] == "82 4 78"
    assert "this yellow" in "".join(each.value for each in app.markdown)


def test_the_painters_colour_is_taken_with_its_film_and_tolerance() -> None:
    app = AppTest.from_function(_lesson, default_timeout=SECONDS)
    app.session_state["question"] = Question(
        "#2040a0", tolerance=1.0, film=FilmAsked(14.0)
    )
    app.run()
    app.get("button_group")[0].set_value("from the pick").run()
    assert not app.exception
    assert app.query_params["tolerance"] == "1"
    assert app.query_params["film_um"] == "14"
    assert "this blue" in "".join(each.value for each in app.markdown)


def test_a_wrong_colour_is_explained_and_the_page_stays_usable() -> None:
    app = _open(_lesson, colour="bluish")
    assert not app.exception
    assert any("'bluish' is not a colour" in each.value for each in app.error)
    app.get("button_group")[0].set_value("green").run()
    assert not app.error
    assert "sc-panels" in _html(app)


def test_a_link_with_nonsense_still_opens_the_lesson() -> None:
    app = _open(_lesson, coats="99", tolerance="wide", film_um="-3", units="ell")
    assert not app.exception
    assert app.slider[0].value == 2


def test_an_answer_is_scored_and_kept_in_the_link() -> None:
    app = _open(_guess, seed="2")
    question = draw_exercise(2).questions[0]
    best = min(question.best)
    app.button[best].click().run()
    assert 'data-score="3"' in _html(app)
    assert app.query_params["answers"] == str(best)
    costs = _html(app).split('class="sc-costs"')[1]
    for coats in question.coats:
        number = f"{coats}" if coats <= question.cap else f"over {question.cap}"
        assert f"<b>{number}</b>" in costs
    _button(app, "Next colour").click().run()
    assert any("Colour 2 of 8" in each.value for each in app.subheader)


def test_a_link_with_all_answers_shows_the_result() -> None:
    exercise = draw_exercise(2)
    colours = write_colours(colours_of(exercise))
    app = _open(_guess, seed="2", answers="0-0-0-0-0-0-0-0", set=colours)
    assert not app.info
    points = sum(each.points(0) for each in exercise.questions)
    assert f'data-score="{points}"' in _html(app)
    assert any(each.value == "The result" for each in app.subheader)
    _button(app, "Start again").click().run()
    assert any("Colour 1 of 8" in each.value for each in app.subheader)
    assert "answers" not in app.query_params


def test_a_link_shows_its_own_colours_whatever_the_set_is_now() -> None:
    """Another version drew other colours as set 2; coats are counted anew."""
    colours = ("#102a6b", "#d8d2c4", "#7a1020")
    app = _open(_guess, seed="2", set=write_colours(colours))
    assert not app.info
    assert any("Colour 1 of 3" in each.value for each in app.subheader)
    assert "#102a6b" in _html(app)
    assert app.query_params["set"] == write_colours(colours)
    app.button[0].click().run()
    question = exercise_of_colours(2, colours).questions[0]
    assert f'data-score="{question.points(0)}"' in _html(app)


def test_a_link_of_an_earlier_version_says_so_in_a_sentence() -> None:
    app = _open(_guess, seed="2", answers="0-0")
    (said,) = [each.value for each in app.info]
    assert "An earlier version made this link" in said
    assert any("Colour 1 of 8" in each.value for each in app.subheader)
    # From now on it names its colours.
    assert app.query_params["set"] == write_colours(colours_of(draw_exercise(2)))
    _button(app, "Start again").click().run()
    assert not app.info


def test_another_set_brings_other_colours() -> None:
    app = _open(_guess, seed="2", set=write_colours(colours_of(draw_exercise(2))))
    app.button[0].click().run()
    before = _html(app)
    _button(app, "Another set").click().run()
    assert app.query_params["seed"] == "3"
    assert "answers" not in app.query_params
    assert _html(app) != before
    assert app.query_params["set"] == write_colours(colours_of(draw_exercise(3)))


def test_a_link_with_nonsense_still_opens_the_exercise() -> None:
    app = _open(_guess, seed="-3", answers="9-x")
    assert any("Colour 1 of 8" in each.value for each in app.subheader)
    assert not app.exception


def test_a_shelf_that_asks_nothing_is_explained() -> None:
    app = _open(_guess, shelf="name,L\nsnow,92\n", own_shelf="True")
    assert any("put a white" in each.value for each in app.error)
    _button(app, "Take the invented greys").click().run()
    assert not app.error
    assert any("Colour 1 of 8" in each.value for each in app.subheader)


def test_a_palette_with_a_bad_row_is_charted_without_it() -> None:
    app = _open(_handout)
    field: FileUploader = next(
        each for each in app.get("file_uploader") if each.key == "palette_file"
    )
    field.upload("p.csv", b"code,L,a,b\nR1,48,62,40\nR2,x,0,0\n", "text/csv").run()
    assert not app.exception
    assert any("line 3" in each.value for each in app.error)
    labels = [each.label for each in app.get("download_button")]
    assert labels == [
        "Handout (PDF)",
        "Handout (HTML)",
        "Wall chart (PDF)",
        "Wall chart, A3 (PDF)",
        "Wall chart (HTML)",
    ]


def test_a_palette_that_cannot_be_read_leaves_the_handout() -> None:
    app = _open(_handout)
    field: FileUploader = next(
        each for each in app.get("file_uploader") if each.key == "palette_file"
    )
    field.upload("p.csv", b"%PDF-1.7\0\0", "text/csv").run()
    assert any("not a text file" in each.value for each in app.error)
    labels = [each.label for each in app.get("download_button")]
    assert labels == ["Handout (PDF)", "Handout (HTML)"]


def test_the_lessons_colour_is_the_handouts() -> None:
    app = _open(_handout, lesson="34 0 -34")
    assert app.text_input[0].value == "34 0 -34"
    assert app.get("button_group")[1].value == "blue"


def test_the_painters_shelf_comes_along_and_the_greys_can_stand_in() -> None:
    app = _open(_lesson, shelf="name,L\nsnow,92\nsoot,22\n")
    assert 'data-panel="snow"' in _html(app)
    app.toggle[0].set_value(True).run()
    assert 'data-panel="snow"' not in _html(app)
    assert app.query_params["lesson_greys"] == "True"


def test_full_screen_shows_panels_slider_and_legend_alone() -> None:
    app = _open(_lesson)
    _button(app, "Full screen").click().run()
    assert app.query_params["large"] == "True"
    assert 'data-panel="full"' in _html(app)
    assert not app.title
    assert not app.text_input
    app.slider[0].set_value(5).run()
    assert app.query_params["coats"] == "5"
    _button(app, "Leave full screen").click().run()
    assert app.title
    assert "large" not in app.query_params


def test_full_screen_shows_the_exercise_alone_and_goes_on() -> None:
    app = _open(_guess, large="True")
    assert not app.title
    labels = [each.label for each in app.button]
    assert labels[-1] == "Leave full screen"
    assert "Start again" not in labels
    app.button[0].click().run()
    assert any("Colour 1 of 8: " in each.value for each in app.subheader)
    assert app.query_params["large"] == "True"
    _button(app, "Leave full screen").click().run()
    assert app.title
    assert "large" not in app.query_params
    assert any("Colour 1 of 8: " in each.value for each in app.subheader)


def test_a_set_answered_over_the_greys_of_before_still_opens() -> None:
    """Its darkest grey was darker; the places of the answers are the same."""
    app = _open(_guess, seed="1", answers="4-0", set="b22234-1e90ff-20402a")
    assert not app.exception
    assert any("Colour 3 of 3" in each.value for each in app.subheader)


@pytest.mark.parametrize("large", ["", "True"])
def test_a_photographed_colour_keeps_its_doubt_in_the_lesson(large: str) -> None:
    app = AppTest.from_function(_lesson, default_timeout=SECONDS)
    app.query_params["large"] = large
    doubt = PhotoDoubt((1.0, 0.0, 0.0, 4.0, 0.0, 9.0))
    app.session_state["question"] = Question("45 55 30", photo=doubt)
    app.run()
    said = " ".join(each.value for each in app.markdown).replace("\\", "")
    # Half of a 95 percent interval is 1.96 standard deviations.
    doubts = "L* 45.0 ± 2.0, a* 55.0 ± 3.9, b* 30.0 ± 5.9"
    assert f"{doubts} (95 %, read off a photo)" in said


@pytest.mark.parametrize("page", [_lesson, _handout])
def test_an_effect_colour_that_is_not_shown_is_not_passed_over(page: object) -> None:
    app = AppTest.from_function(page, default_timeout=SECONDS)  # type: ignore[arg-type]
    app.session_state["question"] = Question("35 0 -1.5", kind="metallic")
    app.run()
    assert not app.exception
    assert [each.value for each in app.caption].count(SOLIDS_ONLY) == 1
    assert SOLIDS_ONLY not in [each.value for each in _open(page).caption]


def test_no_term_of_colour_science_stands_where_nobody_asked() -> None:
    for each in (_guess, _lesson):
        app = _open(each)
        told = [part.value for part in (*app.caption, *app.markdown, *app.subheader)]
        assert "CIEDE2000" not in " ".join(
            [*told, _html(app).split('<table class="sc-judges"')[0]]
        )
