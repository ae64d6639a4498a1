"""The lesson on metallics: what it says is what the engine counted."""

from functools import cache
from itertools import pairwise

import colour
import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from shadecore.coats.settings import Settings
from shadecore.colour.angles import MIDDLE_DEG, STANDARD_ANGLES_DEG
from shadecore.colour.kinds import WITH_FLAKES
from shadecore.lesson.colours import examples
from shadecore.lesson.metallic import (
    LEAK,
    TurnedLesson,
    compare_effect_rules,
    effect_examples,
    leak_rise,
    turned_lesson,
)
from shadecore.lesson.rules import Ruled, compare_rules
from shadecore.screens.lesson.metallic import angles_html, angles_spec
from shadecore.telling.colours import angle_words
from shadecore.telling.metallic_words import (
    effect_rules_words,
    last_words,
    leak_words,
)
from shadecore.undercoats.shelf_table import demo_shelf

SETTINGS = Settings()


@cache
def silver() -> TurnedLesson:
    return turned_lesson(effect_examples()[0])


@cache
def rules() -> tuple[Ruled, ...]:
    return compare_effect_rules(effect_examples())


def test_the_examples_are_effect_colours_at_five_angles() -> None:
    for each in effect_examples():
        assert each.kind in WITH_FLAKES
        assert each.readings.angles == STANDARD_ANGLES_DEG
        lightness = [lab[0] for lab in each.readings.lab]
        assert all(face > flop for face, flop in pairwise(lightness))


@pytest.mark.parametrize("lightness", [4.0, 12.0, 25.0, 40.0, 80.0, 110.0])
def test_a_leak_against_lightness_of_another_package(lightness: float) -> None:
    """CIE 1976 lightness as colour-science 0.4 has it (CIE 15)."""
    before = float(colour.colorimetry.luminance_CIE1976(lightness, 100.0))
    after = float(colour.colorimetry.lightness_CIE1976(before + 100.0 * LEAK, 100.0))
    assert float(leak_rise(lightness)) == pytest.approx(after - lightness, abs=0.02)


def test_a_leak_shows_more_the_darker_the_colour() -> None:
    rises = leak_rise(np.array([110.0, 78.0, 36.0, 20.0, 13.0]))
    assert np.all(np.diff(rises) > 0.0)


def test_the_strips_are_the_answers() -> None:
    found = silver()
    assert [each.undercoat for each in found.strips] == list(demo_shelf())
    by_name = {each.undercoat.name: each for each in found.answer.outlooks}
    for strip in found.strips:
        assert strip.estimate == by_name[strip.undercoat.name]
        worst = [max(row) for row in strip.difference]
        assert worst == pytest.approx(list(strip.estimate.difference))
        assert all(len(row) == len(found.angles) for row in strip.film)


def test_a_light_undercoat_hides_last_nearer_the_flop_than_a_dark_one() -> None:
    """The trade says so of silvers; common practice, no source."""
    white, black = silver().strips[0], silver().strips[-1]
    assert white.undercoat.lightness > black.undercoat.lightness
    assert white.estimate.last_angle > MIDDLE_DEG
    assert white.estimate.last_angle > black.estimate.last_angle


def test_the_rules_are_the_answers() -> None:
    first = rules()[0]
    found = silver().answer
    assert (first.best, first.best_coats) == (
        found.recommended.undercoat,
        found.recommended.coats,
    )
    assert first.closest == found.closest.undercoat
    assert all(each.closest_coats >= each.best_coats for each in rules())


def test_matching_at_45_costs_effect_colours_less_than_solids() -> None:
    solids = compare_rules(examples())

    def lost(rows: tuple[Ruled, ...]) -> float:
        return sum(each.closest_coats - each.best_coats for each in rows) / len(rows)

    assert lost(rules()) < lost(solids)


def test_the_words_say_what_was_counted() -> None:
    found = silver()
    last = last_words(found)
    for strip in found.strips:
        assert strip.undercoat.name in last
        assert angle_words(strip.estimate.last_angle) in last
    readings = found.example.readings
    for place in (0, -1):
        rise = float(leak_rise(readings.lab[place][0]))
        assert f"by {rise:.1f} at the" in leak_words(found)
    told = effect_rules_words(rules(), rules())
    assert "wrong thing to match" not in told
    assert "no coat too many for any of 4" in told
    assert " 0 " not in told


def test_the_table_shows_every_angle_and_sealer() -> None:
    page = angles_html(silver(), 1)
    for angle in silver().angles:
        assert angle_words(angle) in page
    for strip in silver().strips:
        assert strip.undercoat.name in page
    drawn = angles_spec(silver(), 1, "#000000")
    names = [strip.undercoat.name for strip in silver().strips]
    tables = [list(rows) for rows in drawn["datasets"].values()]
    assert max(map(len, tables)) == len(names) * len(silver().angles)
    assert names in [[row["Sealer"] for row in rows] for rows in tables]


def _section() -> None:
    from shadecore.coats.settings import Settings  # noqa: PLC0415
    from shadecore.screens.lesson.metallic import show_metallic  # noqa: PLC0415

    show_metallic(Settings())


def test_the_section_is_worked_out_when_it_is_opened() -> None:
    app = AppTest.from_function(_section, default_timeout=120).run()
    assert not app.exception
    closed = len(app.markdown)
    app.toggle(key="lesson_metallic").set_value(True).run()
    assert not app.exception
    assert len(app.markdown) > closed
    assert app.slider(key="lesson_metallic_coats").value == 1
