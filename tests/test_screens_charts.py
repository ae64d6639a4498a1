"""What stands on axes and beside curves, read from the charts' specifications."""

import json

import numpy as np
import pytest

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import ContrastCard
from shadecore.lesson.panels import lesson
from shadecore.lesson.rules import Ruled
from shadecore.screens.angle_chart import angle_spec
from shadecore.screens.lesson.charts import ratio_spec, rules_spec
from shadecore.screens.lesson.why_chart import why_spec
from shadecore.undercoats.shelf_table import demo_shelf

INK = "#000000"


def test_coats_are_whole_on_the_axis_of_the_rules() -> None:
    light, dark = demo_shelf()[0], demo_shelf()[-1]
    spec = json.dumps(rules_spec((Ruled("Red", light, 3, dark, 5, 12),), INK))
    assert "format(datum.value, 'd')" in spec
    assert "datum.label" not in spec


def test_words_on_complete_hiding_stand_where_no_ratio_goes() -> None:
    """A contrast ratio is 1 at most."""
    ratio = (0.05, 0.9, 1.0)
    card = ContrastCard((), (), ratio, ratio, ratio, None, ())
    layers = ratio_spec(card, INK)["layer"]
    (text,) = [each for each in layers if each["mark"]["type"] == "text"]
    assert text["encoding"]["text"]["value"].startswith(f"{COMPLETE_HIDING}")
    assert text["encoding"]["y"]["datum"] >= 1.0
    assert text["mark"]["baseline"] == "bottom"
    line = layers[-1]["encoding"]
    assert line["y"]["scale"]["domain"][1] > 1.1
    assert line["x"]["axis"]["format"] == "d"


@pytest.mark.parametrize("name", ["White N 9", "Near-black N 2.5", "x" * 20])
def test_names_beside_the_curves_over_the_angle_fit_on_a_phone(name: str) -> None:
    """Measured in Chromium: the axis is 288 px wide, a letter some 6.1 px."""
    spec = angle_spec({name: (1.0, 2.0)}, (15.0, 110.0), ("Film", "L*"), INK)
    (text,) = [each for each in spec["layer"] if each["mark"]["type"] == "text"]
    (label,) = spec["datasets"][text["data"]["name"]]
    end = text["encoding"]["x"]["scale"]["domain"][1]
    left_px = 288.0 * (1.0 - label["Angle"] / end)
    assert left_px >= 6.1 * len(name) + text["mark"]["dx"]


@pytest.mark.parametrize("place", range(3))
def test_the_full_colours_name_stands_above_its_curve(place: int) -> None:
    """On a phone the name is some 100 nm wide."""
    found = lesson(examples()[place].topcoat)
    own = why_spec(found, 2)["datasets"]["own"]
    (nm,), (share,) = own["nm"], own["share"]
    near = np.abs(WAVELENGTHS_NM - nm) <= 50
    assert share >= max(np.array(found.reflectance)[near])
