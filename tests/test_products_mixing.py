"""Mixing at the bench against pint's arithmetic and worked examples."""

from dataclasses import replace
from datetime import datetime

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.products.mixing import (
    mix_held,
    mix_volume,
    mixed_density_g_per_l,
    parts_by_mass,
    usable_until,
)
from shadecore.products.product import Component
from shadecore.products.sheet_file import demo_sheet

SOME = settings(deadline=None, derandomize=True, max_examples=100)
UNITS = pint.UnitRegistry()


def component(parts: float, density: float) -> Component:
    return Component("x", parts, density, 0.0, 0.0, 0.0, 1000.0, 0.3, 10.0, (1.0,))


COMPONENTS = st.lists(
    st.builds(component, st.floats(0.1, 100.0), st.floats(600.0, 2000.0)),
    min_size=1,
    max_size=5,
)
CLEAR = (component(2.0, 980.0), component(1.0, 1020.0))


def test_a_worked_example() -> None:
    """600 ml of 2:1 are 400 and 200 ml; 0.98 and 1.02 kg/L are 392 and 204 g."""
    first, second = mix_volume(CLEAR, 600.0)
    assert (first.volume_ml, second.volume_ml) == pytest.approx((400.0, 200.0))
    assert (first.mass_g, second.mass_g) == pytest.approx((392.0, 204.0))
    assert (first.scale_g, second.scale_g) == pytest.approx((392.0, 596.0))
    assert (first.level_ml, second.level_ml) == pytest.approx((400.0, 600.0))
    assert parts_by_mass(CLEAR) == pytest.approx((39200 / 596, 20400 / 596))


@SOME
@given(COMPONENTS, st.floats(1.0, 5000.0))
def test_volumes_and_masses_by_pint(parts: list[Component], ready_ml: float) -> None:
    pours = mix_volume(parts, ready_ml)
    whole = UNITS.Quantity(ready_ml, "milliliter")
    scale = UNITS.Quantity(0.0, "gram")
    for each, pour in zip(parts, pours, strict=True):
        share = each.parts / sum(one.parts for one in parts)
        mass = whole * share * UNITS.Quantity(each.density_g_per_l, "gram / liter")
        scale += mass
        assert pour.mass_g == pytest.approx(mass.to("gram").magnitude)
        assert pour.scale_g == pytest.approx(scale.to("gram").magnitude)
    assert pours[-1].level_ml == pytest.approx(ready_ml)
    density = mixed_density_g_per_l(parts)
    assert density == pytest.approx(pours[-1].scale_g / ready_ml * 1000.0)


@SOME
@given(COMPONENTS, st.floats(1.0, 100.0))
def test_what_is_there_sets_the_others(parts: list[Component], held: float) -> None:
    pours = mix_held(parts, held)
    assert pours[0].volume_ml == pytest.approx(held)
    for each, pour in zip(parts, pours, strict=True):
        assert pour.volume_ml / held == pytest.approx(each.parts / parts[0].parts)


def test_a_can_sold_half_full_takes_its_reducer() -> None:
    half = (component(1.0, 950.0), component(1.0, 860.0))
    assert mix_held(half, 500.0, room_ml=1000.0)[1].volume_ml == pytest.approx(500.0)
    with pytest.raises(JobError, match="takes 1020 ml and the can holds 1000; pour"):
        mix_held(half, 510.0, room_ml=1000.0)


@pytest.mark.parametrize("amount", [0.0, -1.0, float("nan"), float("inf"), 1e9])
def test_amounts_that_cannot_be(amount: float) -> None:
    for mix in (mix_volume, mix_held):
        with pytest.raises(JobError, match="must be above 0 and up to 1,000,000"):
            mix(CLEAR, amount)
    with pytest.raises(JobError, match="The mix has no parts"):
        mix_volume((), 600.0)


def test_pot_life() -> None:
    product = demo_sheet().of_kind("clear_coat")
    noon = datetime(2026, 3, 2, 12, 0)  # noqa: DTZ001 - the shop's own time
    assert usable_until(product, noon, 1.0) == noon.replace(hour=14)
    # Twice as fast in the warm, but no longer in the cold.
    assert usable_until(product, noon, 0.5) == noon.replace(hour=13)
    assert usable_until(product, noon, 2.0) == noon.replace(hour=14)
    assert usable_until(replace(product, pot_life_min=None), noon, 1.0) is None
