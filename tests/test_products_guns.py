"""Guns: the air that they may use, usual settings, and where the strokes go."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.products.guns import (
    HVLP_MOST_CAP_BAR,
    over_hvlp_bar,
    stroke_places_cm,
    usual_guns,
)
from shadecore.products.product import Gun
from shadecore.products.sheet_file import demo_sheet, parse_sheet

SOME = settings(deadline=None, derandomize=True, max_examples=100)
BAR_PER_PSI = 0.0689476
"""4.4482216152605 N on (0.0254 m) squared."""


def gun(cap_bar: float | None, kind: str = "hvlp") -> Gun:
    return Gun(1.3, 2.0, 15.0, 0.5, kind, cap_bar)


def test_hvlp_has_at_most_10_psi_at_the_cap() -> None:
    """US air rules, read second-hand."""
    assert pytest.approx(10 * BAR_PER_PSI, rel=1e-5) == HVLP_MOST_CAP_BAR
    assert over_hvlp_bar(gun(0.69)) == 0.0
    assert over_hvlp_bar(gun(0.8)) == pytest.approx(0.8 - 0.689, abs=1e-3)
    assert over_hvlp_bar(gun(0.8, "compliant")) == 0.0
    assert over_hvlp_bar(gun(None)) == 0.0


def test_usual_settings() -> None:
    """Common practice, no source."""
    usual = usual_guns()
    assert usual["surfacer"].inlet_bar == pytest.approx((1.379, 1.724), abs=1e-3)
    assert usual["surfacer"].cap_bar == pytest.approx((0.345, 0.483), abs=1e-3)
    assert usual["sealer"].distance_cm == pytest.approx((10.16, 17.78))
    assert usual["sealer"].cap_bar is None
    tips = {kind: each.tip_mm for kind, each in usual.items()}
    assert tips == {"surfacer": 1.4, "sealer": 1.2, "base_coat": 1.3, "clear_coat": 1.3}
    assert (usual["base_coat"].overlap, usual["clear_coat"].overlap) == (0.7, None)


def test_a_sheet_may_tell_type_and_pressure_at_the_cap() -> None:
    text = (
        "gun = { tip_mm = 1.3, inlet_bar = 2, distance_cm = 18, overlap = 0.5, "
        'type = "hvlp", cap_bar = 0.6 }'
    )
    sheet = data_file("product-line.toml").read_text("utf-8")
    start = sheet.index("[product.etch_primer.gun]")
    old = sheet[start : sheet.index("[product.etch_primer.windows]")]
    place = sheet.index("pot_life_min = 480")

    def told(gun: str) -> Gun | None:
        with_gun = f"{sheet[:place]}{gun}\n{sheet[place:]}".replace(old, "")
        return parse_sheet(with_gun, "x").of_kind("etch_primer").gun

    found = told(text)
    assert found is not None
    assert (found.type, found.cap_bar) == ("hvlp", 0.6)
    with pytest.raises(JobError, match=r'gun\.type must be one of "hvlp", "compliant"'):
        told(text.replace("hvlp", "airless"))
    # Sheets from before there were types, fans and passes.
    bare = told(text.split(", type", maxsplit=1)[0] + " }")
    assert bare == Gun(1.3, 2.0, 18.0, 0.5, "", None, 1, None)
    # The demo line keeps to what it shows.
    guns = [each.gun for each in demo_sheet().products if each.gun is not None]
    assert all(each.type == "hvlp" and not over_hvlp_bar(each) for each in guns)


@SOME
@given(st.floats(1.0, 500.0), st.floats(1.0, 60.0), st.floats(0.0, 0.95))
def test_strokes_cover_an_area_with_the_overlap(
    height: float, fan: float, overlap: float
) -> None:
    places = stroke_places_cm(height, fan, overlap)
    assert (places[0], places[-1]) == (0.0, pytest.approx(height))
    for before, after in pairwise(places):
        assert after - before <= fan * (1.0 - overlap) * (1.0 + 1e-6)
    # One stroke fewer would not do.
    if len(places) > 2:
        assert height / (len(places) - 2) > fan * (1.0 - overlap) * (1.0 - 1e-6)


@pytest.mark.parametrize(
    ("height", "fan", "overlap"),
    [(0, 20, 0.5), (10, -1, 0.5), (10, 20, 1.0), (10, 20, float("nan")), (1e9, 1, 0)],
)
def test_strokes_that_cannot_be(height: float, fan: float, overlap: float) -> None:
    with pytest.raises(JobError, match=r"\.$"):
        stroke_places_cm(height, fan, overlap)
