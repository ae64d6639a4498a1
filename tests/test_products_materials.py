"""Coverage against worked examples, and cans against brute force."""

from dataclasses import replace
from itertools import product as every

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.errors import JobError, SettingError
from shadecore.film.build import reduced_volume_solids
from shadecore.products.materials import (
    area_of,
    mix_parts,
    mixed_solids,
    panels,
    ready_volume_l,
)
from shadecore.products.product import Component, Product, Windows

UNIT = pint.UnitRegistry()
GALLON_L = UNIT.Quantity(1.0, "US_liquid_gallon").to("litre").magnitude
MIL_UM = UNIT.Quantity(1.0, "thou").to("micrometre").magnitude
FT2_M2 = UNIT.Quantity(1.0, "foot ** 2").to("metre ** 2").magnitude

PAINT = Component(
    name="paint",
    parts=2.0,
    density_g_per_l=1000.0,
    voc_g_per_l=500.0,
    water_g_per_l=0.0,
    exempt_g_per_l=0.0,
    exempt_density_g_per_l=0.0,
    volume_solids=0.26,
    price_per_l=50.0,
    can_sizes_l=(0.5, 1.0, 4.0),
)
REDUCER = replace(PAINT, name="reducer", parts=1.0, volume_solids=0.0, price_per_l=10.0)
BASE = Product(
    key="base",
    kind="base_coat",
    name="Base",
    coats=3,
    dry_film_um=10.0,
    components=(PAINT, REDUCER),
    gun=None,
    windows=Windows(10.0, 0.0, None, None, None, None, None, "scuff"),
    reducers=(),
    hardeners=(),
    hazards=(),
    voc_categories={},
)
SIZES = st.lists(
    st.sampled_from([0.1, 0.25, 0.35, 0.5, 0.946352946, 1.0, 3.785411784, 5.0]),
    min_size=1,
    max_size=4,
    unique=True,
).map(lambda sizes: tuple(sorted(sizes)))


@pytest.mark.parametrize(
    ("area_ft2", "mil", "solids", "transfer"),
    [
        (1604.17, 1.0, 1.0, 1.0),
        (166.8, 1.5, 0.52, 0.30),
        (208.52, 5.0, 0.65, 1.0),
    ],
)
def test_what_one_us_gallon_covers(
    area_ft2: float, mil: float, solids: float, transfer: float
) -> None:
    """Worked examples of coating columns, 1604, 167 and 208.5 ft2; units from pint."""
    litres = ready_volume_l(area_ft2 * FT2_M2, 1, mil * MIL_UM, solids, transfer, 0.0)
    assert litres == pytest.approx(GALLON_L, rel=5e-4)


def test_what_one_litre_covers() -> None:
    """1 L over 1 um covers 1000 m2; worked example: 65 percent at 125 um, 5.2 m2."""
    assert ready_volume_l(1000.0, 1, 1.0, 1.0, 1.0, 0.0) == pytest.approx(1.0)
    assert ready_volume_l(5.2, 1, 125.0, 0.65, 1.0, 0.0) == pytest.approx(1.0)


def test_wet_film_of_a_worked_example() -> None:
    """A coating column: 1.5 mil dry at 42 percent is 3.57 mil wet."""
    litres = ready_volume_l(1.0, 1, 1.5 * MIL_UM, 0.42, 1.0, 0.0)
    assert 1000.0 * litres / MIL_UM == pytest.approx(3.57, abs=0.005)


@given(
    st.floats(0.01, 50.0),
    st.integers(1, 10),
    st.floats(0.1, 20.0),
    st.floats(0.0, 0.5),
)
def test_ready_volume_scales(
    area: float, coats: int, factor: float, loss: float
) -> None:
    once = ready_volume_l(area, coats, 10.0, 0.13, 0.65, loss) - loss
    wider = ready_volume_l(factor * area, coats, 10.0, 0.13, 0.65, loss) - loss
    more = ready_volume_l(area, 2 * coats, 10.0, 0.13, 0.65, loss) - loss
    assert wider == pytest.approx(factor * once, rel=1e-6, abs=1e-12)
    assert more == pytest.approx(2.0 * once, rel=1e-6, abs=1e-12)


def test_solids_of_a_mix() -> None:
    """Volumes add up, as in the film's own reducing: VS' = VS V / (V + Vr)."""
    expected = reduced_volume_solids(0.26, 2.0, 1.0)
    assert mixed_solids(BASE.components) == pytest.approx(expected)
    hardener = replace(REDUCER, parts=0.5, volume_solids=0.4)
    with_hardener = mixed_solids((*BASE.components, hardener))
    assert with_hardener == pytest.approx((0.52 + 0.2) / 3.5)


def test_parts_of_a_mix_add_up() -> None:
    paint, reducer = mix_parts(BASE, 1.5)
    assert paint.volume_l == pytest.approx(1.0)
    assert reducer.volume_l == pytest.approx(0.5)
    assert paint.cans == ((1.0, 1),)
    assert reducer.cans == ((0.5, 1),)
    assert paint.cost == pytest.approx(50.0)
    assert reducer.cost == pytest.approx(5.0)


def test_cans_waste_little_then_are_few() -> None:
    """Counted by hand: 2.25 + 1.125 L from cans of 0.5, 1 and 4 L."""
    paint, reducer = mix_parts(BASE, 3.375)
    assert paint.cans == ((1.0, 2), (0.5, 1))
    assert reducer.cans == ((1.0, 1), (0.5, 1))
    assert paint.cost == pytest.approx(125.0)


@given(st.floats(0.01, 6.0), SIZES)
def test_cans_are_the_best_of_all_choices(
    litres: float, sizes: tuple[float, ...]
) -> None:
    """Brute force over every choice of up to two kinds of can."""
    sizes = sizes[:2]
    only = replace(BASE, components=(replace(PAINT, can_sizes_l=sizes),))
    (portion,) = mix_parts(only, litres)
    choices = [
        (held, sum(numbers))
        for numbers in every(*(range(int(litres / size) + 2) for size in sizes))
        if (held := sum(n * size for n, size in zip(numbers, sizes, strict=True)))
        >= litres - 5e-7
    ]
    least = min(held for held, _ in choices)
    fewest = min(cans for held, cans in choices if held <= 1.005 * least + 1e-5)
    held = sum(size * number for size, number in portion.cans)
    assert held <= 1.005 * least + 1e-5
    assert sum(number for _, number in portion.cans) == fewest


@pytest.mark.parametrize("sizes", [(0.946352946, 3.785411784), (0.946, 3.785)])
def test_a_gallon_is_taken_before_four_quarts(sizes: tuple[float, ...]) -> None:
    only = replace(BASE, components=(replace(PAINT, can_sizes_l=sizes),))
    assert mix_parts(only, 3.5)[0].cans == ((sizes[1], 1),)


@given(st.floats(0.001, 100.0), SIZES, st.floats(0.0, 500.0))
def test_cans_hold_the_need_and_cost_no_less_than_nothing(
    litres: float, sizes: tuple[float, ...], price: float
) -> None:
    paint = replace(PAINT, can_sizes_l=sizes, price_per_l=price)
    for portion in mix_parts(replace(BASE, components=(paint, REDUCER)), litres):
        held = sum(size * number for size, number in portion.cans)
        assert held >= portion.volume_l - 1e-6
        smallest = min(portion.component.can_sizes_l)
        assert held <= 1.005 * (portion.volume_l + smallest) + 1e-6
        assert portion.cost >= 0.0
        assert all(number > 0 for _, number in portion.cans)


def test_a_large_need_is_picked_in_a_moment() -> None:
    only = replace(BASE, components=(replace(PAINT, can_sizes_l=(0.1, 0.35, 4.0)),))
    (portion,) = mix_parts(only, 1000.0)
    assert portion.cans == ((4.0, 250),)


def test_many_small_cans_are_weighed_too() -> None:
    """Of 1 to 4 ml for 3 L: 750 of the largest, for whoever sells such cans only."""
    sizes = (0.001, 0.002, 0.003, 0.004, 1000.0)
    only = replace(BASE, components=(replace(PAINT, can_sizes_l=sizes),))
    assert mix_parts(only, 3.0)[0].cans == ((0.004, 750),)


@pytest.mark.parametrize("cans", [1, 3, 7])
def test_a_need_of_whole_cans_takes_no_more(cans: int) -> None:
    """0.1 + 0.2 is not 0.3 in a computer, but three cans are three cans."""
    only = replace(BASE, components=(replace(PAINT, can_sizes_l=(0.1,)),))
    (portion,) = mix_parts(only, sum([0.1] * cans))
    assert portion.cans == ((0.1, cans),)


def test_several_cans_of_a_shade_are_boxed() -> None:
    paint, reducer = mix_parts(BASE, 9.0)
    assert paint.boxed
    assert not reducer.boxed
    assert not mix_parts(BASE, 1.5)[0].boxed
    clear = replace(BASE, kind="clear_coat")
    assert not any(each.boxed for each in mix_parts(clear, 9.0))
    assert mix_parts(replace(BASE, kind="sealer"), 9.0)[0].boxed


def test_what_is_not_sold_in_cans_costs_its_volume() -> None:
    loose = replace(BASE, components=(replace(PAINT, can_sizes_l=()),))
    (portion,) = mix_parts(loose, 0.3)
    assert portion.cans == ()
    assert not portion.boxed
    assert portion.cost == pytest.approx(15.0)


def test_a_car_is_about_as_large_as_painters_say() -> None:
    """Common practice, no source: outside of a middle-sized car, 10 to 16 m2."""
    twice = ("front_fender", "front_door", "rear_door", "quarter_panel")
    sides = dict.fromkeys((*twice, "rocker_panel", "mirror_cap"), 2)
    once = dict.fromkeys(
        ("hood", "roof", "trunk_lid", "front_bumper", "rear_bumper"), 1
    )
    assert 10.0 < area_of(sides | once) < 16.0


def test_areas_add_up() -> None:
    assert area_of({}) == 0.0
    assert area_of({"hood": 0}) == 0.0
    assert all(each.area_m2 > 0.0 and each.name for each in panels())
    assert area_of({each.key: 2 for each in panels()}) == pytest.approx(
        2.0 * sum(each.area_m2 for each in panels())
    )


def test_bad_panels_are_told() -> None:
    with pytest.raises(JobError, match=r"no panel 'wing'.*hood"):
        area_of({"wing": 1})
    with pytest.raises(JobError, match="'hood' must be zero or more, not -1"):
        area_of({"hood": -1})


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_bad_amounts_are_told(wrong: float) -> None:
    with pytest.raises(JobError, match="area"):
        ready_volume_l(wrong, 1, 10.0, 0.13, 0.65, 0.0)
    with pytest.raises(JobError, match="coats"):
        ready_volume_l(1.0, wrong, 10.0, 0.13, 0.65, 0.0)
    with pytest.raises(SettingError, match="solids"):
        ready_volume_l(1.0, 1, 10.0, wrong, 0.65, 0.0)
    with pytest.raises(JobError, match="'Base' must be above 0"):
        mix_parts(BASE, wrong)


@pytest.mark.parametrize("loss", [-0.1, float("nan"), float("inf")])
def test_a_bad_loss_is_told(loss: float) -> None:
    with pytest.raises(JobError, match="loss"):
        ready_volume_l(1.0, 1, 10.0, 0.13, 0.65, loss)


def test_a_product_without_a_mix_is_refused() -> None:
    with pytest.raises(JobError, match="no parts"):
        mix_parts(replace(BASE, components=()), 1.0)
    with pytest.raises(JobError, match="no parts"):
        mixed_solids(())
