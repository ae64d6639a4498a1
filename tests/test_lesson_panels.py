"""One film over five greys: what is shown, what is numbered, what is marked."""

from pathlib import Path

import numpy as np
import pytest
from check_values import weights_of

from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.colour.colour_science import colour_science
from shadecore.colour.topcoat import parse_topcoat
from shadecore.film.build import CoatFilm
from shadecore.lesson.colours import Example, examples, shown
from shadecore.lesson.guess import draw_exercise
from shadecore.lesson.metallic import effect_examples, turned_lesson
from shadecore.lesson.panels import Lesson, lesson
from shadecore.lesson.rules import compare_rules
from shadecore.undercoats.shelf_table import demo_shelf

ROOT = Path(__file__).resolve().parents[1]
LESSONS = {each.name: lesson(each.topcoat) for each in examples()}
every_example = pytest.mark.parametrize("name", LESSONS)
D65_10 = np.array([0.31382, 0.33100])
"""Chromaticity of D65 for the 10 degree observer, CIE 15 table T.3."""


def _levels(code: str) -> list[int]:
    return [int(code[i : i + 2], 16) for i in (1, 3, 5)]


def test_greys_are_named_by_their_munsell_value() -> None:
    """ASTM D1535 by colour-science."""
    colour = colour_science()
    for each in demo_shelf():
        luminance = colour.colorimetry.luminance_CIE1976(each.lightness)
        value = colour.munsell_value(luminance, method="ASTM D1535")
        assert each.name.endswith(f" N {round(float(value), 1):g}")


def test_the_lesson_names_the_greys_as_every_page_does() -> None:
    """The table that the pick, the wall chart and the first page read, too."""
    rows = (ROOT / "data" / "demo-shelf.csv").read_text("utf-8").splitlines()[2:]
    wanted = [row.split(",")[0] for row in rows]
    for one in (LESSONS["red"].panels, turned_lesson(effect_examples()[0]).strips):
        assert [each.undercoat.name for each in one] == wanted
    assert [each.name for each in draw_exercise(1).undercoats] == wanted


@every_example
def test_shown_colours_are_srgb_of_their_lab(name: str) -> None:
    """By colour-science's own way from XYZ to sRGB, within 1/255; IEC 61966-2-1."""
    colour = colour_science()
    for panel in LESSONS[name].panels:
        for film in panel.film:
            xyz = colour.Lab_to_XYZ(film.lab, D65_10)
            srgb = colour.XYZ_to_sRGB(
                xyz, D65_10, chromatic_adaptation_transform="CAT16"
            )
            expected = 255.0 * np.clip(srgb, 0.0, 1.0)
            assert _levels(film.hex) == pytest.approx(expected, abs=1.0)
            beyond = max(0.0, -srgb.min(), srgb.max() - 1.0)
            if not 0.5 / 255 < beyond < 1.5 / 255:
                assert film.outside == (beyond > 1.0 / 255)


def test_a_colour_no_screen_has_is_marked() -> None:
    """A cyan of CIELAB far outside sRGB, and a mid grey inside it."""
    out, inside = shown([[60.0, -60.0, -40.0], [50.0, 0.0, 0.0]])
    assert out.outside
    assert not inside.outside


@every_example
def test_the_number_is_the_difference_of_what_is_shown(name: str) -> None:
    """CIEDE2000 by colour-science."""
    colour = colour_science()
    found = LESSONS[name]
    for panel in found.panels:
        for film, left in zip(panel.film, panel.difference, strict=True):
            expected = colour.delta_E(film.lab, found.full.lab, method="CIE 2000")
            assert left == pytest.approx(float(expected), abs=0.01)


@every_example
def test_the_mark_stands_where_the_difference_stays_small(name: str) -> None:
    found = LESSONS[name]
    tolerance = found.settings.tolerance
    for panel in found.panels:
        for coats, left in enumerate(panel.difference):
            if panel.hides(coats):
                assert left <= tolerance
        if panel.hides_from is not None and panel.hides_from > 1:
            assert panel.difference[panel.hides_from - 1] > tolerance
        assert not panel.hides(0)


@every_example
def test_a_panel_starts_bare_and_nears_the_full_colour(name: str) -> None:
    found = LESSONS[name]
    for panel in found.panels:
        assert panel.film[0].lab == pytest.approx(panel.undercoat.lab)
        assert len(panel.film) == found.settings.coat_cap + 1
        assert panel.difference[-1] < panel.difference[0]


@every_example
def test_the_film_shown_keeps_to_the_estimate(name: str) -> None:
    """It hides in the estimate's coats, inside its interval, over every undercoat."""
    found = LESSONS[name]
    beyond = found.settings.coat_cap + 1
    for panel in found.panels:
        own = panel.hides_from or beyond
        assert own == (panel.estimate.coats or beyond)
        after = [left for left in panel.difference[own:] if own < beyond]
        assert all(left <= found.settings.tolerance for left in after)
        if own > 1:
            assert panel.difference[own - 1] > found.settings.tolerance
        assert (panel.estimate.count.low or beyond) <= own
        assert own <= (panel.estimate.count.high or beyond)


@every_example
def test_the_answer_is_that_of_the_pick(name: str) -> None:
    found = LESSONS[name]
    assert found.answer == pick(found.topcoat, demo_shelf(), Settings())


@every_example
def test_the_full_reflectance_has_the_colour_asked_for(name: str) -> None:
    """CIELAB from the spectrum by ASTM E2022 weights of colour-science.

    The film is a recipe near the colour, not the colour itself.
    """
    colour = colour_science()
    found = LESSONS[name]
    xyz = np.array(found.reflectance) @ weights_of("D65", 10) / 100.0
    lab = colour.XYZ_to_Lab(xyz, D65_10)
    assert colour.delta_E(lab, found.full.lab, method="CIE 2000") < 4.0


@every_example
def test_the_film_closes_coat_by_coat(name: str) -> None:
    through = np.array(LESSONS[name].see_through)
    assert through.shape == (13, 31)
    assert np.all(through[0] == 1.0)
    assert np.all(np.diff(through, axis=0) <= 1e-6)
    assert np.all(through >= 0.0)


def _coats(found: Lesson, word: str) -> int:
    panel = next(each for each in found.panels if each.undercoat.name.startswith(word))
    return panel.hides_from or found.settings.coat_cap + 1


@pytest.mark.parametrize("name", ["red", "orange", "yellow"])
def test_a_light_undercoat_helps_reds_and_yellows(name: str) -> None:
    """Common practice, no source; and the closest in lightness costs coats more."""
    found = LESSONS[name]
    assert _coats(found, "White") < _coats(found, "Dark")
    assert _coats(found, "White") < _coats(found, "Near-black")


def test_the_examples_show_both_kinds() -> None:
    works = {each.name: each.lightness_works for each in compare_rules(examples())}
    fails = [name for name, fine in works.items() if not fine]
    assert fails == ["red", "orange", "yellow"]
    assert [each.name for each in examples()] == [
        *fails,
        "blue",
        "green",
        "light grey",
        "white",
    ]


def test_both_rules_come_to_what_the_pick_says() -> None:
    settings = Settings(tolerance=1.0)
    (row,) = compare_rules([Example("any", parse_topcoat("50 40 10"))], settings)
    answer = pick(parse_topcoat("50 40 10"), demo_shelf(), settings)
    assert row.best == answer.recommended.undercoat
    assert row.closest == answer.closest.undercoat
    assert row.best_coats == (answer.recommended.coats or row.cap + 1)
    assert row.closest_coats == (answer.closest.coats or row.cap + 1)


def test_a_thicker_film_needs_fewer_coats() -> None:
    thick = lesson(examples()[0].topcoat, Settings(film=CoatFilm(20.0)))
    for each, thin in zip(thick.panels, LESSONS["red"].panels, strict=True):
        if thin.hides_from is not None:
            assert each.hides_from is not None
            assert each.hides_from < thin.hides_from


def test_as_many_coats_are_followed_as_are_counted() -> None:
    short = lesson(examples()[0].topcoat, Settings(coat_cap=3, film=CoatFilm(2.0)))
    assert {len(each.film) for each in short.panels} == {4}
    assert len(short.see_through) == 4
    assert short.panels[0].hides_from is None
