"""Paint, time and money of each undercoat, by hand."""

from dataclasses import fields, replace

import pytest

import shadecore
from shadecore.coats.cost import Rates, costs
from shadecore.coats.pick import pick
from shadecore.errors import SettingError
from shadecore.undercoats.prices import unit_ml
from shadecore.undercoats.shelf import Shelf

FILM = shadecore.CoatFilm(10.0, 0.25, 0.8)
"""A coat sprays 10 / 0.25 / 0.8 = 50 ml on each square metre."""
RATES = Rates(
    area_m2=8.0,
    topcoat_price_per_l=60.0,
    sealer_ml_per_m2=125.0,
    minutes_per_coat=15.0,
    hourly_rate=40.0,
)
US_GALLON_L = 231 * 0.254**3
"""231 cubic inches."""


def grey(
    lightness: float, price: float | None = None, unit: str = ""
) -> shadecore.Undercoat:
    return shadecore.undercoat(
        f"Grey {lightness:g}", (lightness, 0, 0), price=price, unit=unit
    )


def asked(
    colour: str, shelf: Shelf, tolerance: float = 2.0, cap: int = 12
) -> shadecore.Answer:
    return pick(
        shadecore.parse_topcoat(colour), shelf, shadecore.Settings(tolerance, FILM, cap)
    )


def test_an_undercoat_by_hand() -> None:
    """Each coat takes 0.4 L and 15 min on 8 m2: 24 for paint and 10 for time.

    The sealer takes 1 L, at 20 a litre.
    """
    answer = asked("58 0 2", (grey(58.0, 20.0, "L"),))
    (cost,) = costs(answer, RATES)
    coats = answer.recommended.coats
    assert coats is not None
    assert cost.outlook is answer.recommended
    assert cost.topcoat_l == pytest.approx(0.4 * coats)
    assert cost.minutes == pytest.approx(15.0 * coats)
    assert cost.money == pytest.approx(34.0 * coats + 20.0)
    assert cost.more_than_best == 0.0


def test_each_coat_more_costs_as_much_more() -> None:
    """A red is cheap over white and dear over grey."""
    answer = asked("45 60 35", tuple(grey(each) for each in (90.0, 70.0, 50.0)))
    found = costs(answer, RATES)
    coats = [cost.outlook.coats or 0 for cost in found]
    assert len(set(coats)) > 1
    for cost, count in zip(found, coats, strict=True):
        assert cost.money == pytest.approx(34.0 * count)
        assert cost.more_than_best == pytest.approx(34.0 * (count - coats[0]))


def test_the_recommended_costs_nothing_more() -> None:
    answer = asked("45 60 35", shadecore.demo_shelf())
    found = costs(answer, Rates())
    best = next(cost for cost in found if cost.outlook is answer.recommended)
    assert best.more_than_best == 0.0
    for cost in found:
        assert cost.more_than_best == pytest.approx(cost.money - best.money)
    assert [cost.outlook for cost in found] == [
        outlook for outlook in answer.outlooks if outlook.coats is not None
    ]


def test_a_dearer_sealer_may_be_recommended() -> None:
    """Fewest coats are recommended, money or not: the other may cost less."""
    answer = asked("9 0 -1", (grey(25.0, 900.0, "L"), grey(40.0, 10.0, "L")))
    assert {outlook.coats for outlook in answer.outlooks} == {1}
    found = costs(answer, RATES)
    apart = [cost.more_than_best for cost in found]
    assert apart[0] == 0.0
    assert abs(apart[1]) == pytest.approx(890.0)


@pytest.mark.parametrize(
    ("unit", "litres"),
    [
        ("L", 1.0),
        ("l", 1.0),
        (" ml ", 0.001),
        ("gal", US_GALLON_L),
        ("GAL", US_GALLON_L),
        ("qt", US_GALLON_L / 4.0),
        ("pt", US_GALLON_L / 8.0),
        ("fl oz", US_GALLON_L / 128.0),
    ],
)
def test_units_of_a_price(unit: str, litres: float) -> None:
    """The US gallon is 231 cubic inches, 4 quarts, 8 pints or 128 fluid ounces.

    A litre of sealer is sprayed, so the money is the price of a litre.
    """
    free, priced = (
        costs(asked("58 0 2", (grey(58.0, *label),)), RATES)[0].money
        for label in ((None, ""), (30.0, unit))
    )
    assert priced - free == pytest.approx(30.0 / litres)
    assert unit_ml(unit) == (pytest.approx(1000.0 * litres), False)
    assert unit_ml(f"2,5 {unit.strip()}") == (pytest.approx(2500.0 * litres), True)


@pytest.mark.parametrize(
    ("price", "unit"), [(30.0, "tin"), (30.0, ""), (None, "L"), (0.0, "L")]
)
def test_a_sealer_without_a_usable_price_is_free(
    price: float | None, unit: str
) -> None:
    (cost,) = costs(asked("58 0 2", (grey(58.0, price, unit),)), RATES)
    coats = cost.outlook.coats or 0
    assert cost.money == pytest.approx(34.0 * coats)


def test_undercoats_that_do_not_hide_are_left_out() -> None:
    """A red hides over white in 5 coats or so and not over black."""
    shelf = (grey(90.0), grey(10.0))
    answer = asked("45 60 35", shelf, cap=5)
    assert answer.outlooks[-1].coats is None
    found = costs(answer, RATES)
    assert [cost.outlook.undercoat for cost in found] == [shelf[0]]


def test_nothing_hides_and_nothing_costs() -> None:
    answer = asked("80 5 100", (grey(10.0),), tolerance=0.5, cap=1)
    assert costs(answer, RATES) == ()


def test_money_grows_with_each_rate() -> None:
    answer = asked("58 0 2", (grey(58.0, 20.0, "L"),))
    usual = costs(answer, RATES)[0].money
    for field in fields(Rates):
        dearer = replace(RATES, **{field.name: 1.5 * getattr(RATES, field.name)})
        assert costs(answer, dearer)[0].money > usual
        assert costs(answer, replace(RATES, **{field.name: 0.0}))[0].money < usual


def test_no_area_costs_nothing() -> None:
    answer = asked("58 0 2", (grey(58.0, 20.0, "L"),))
    none = Rates(area_m2=0.0, minutes_per_coat=0.0)
    assert costs(answer, none)[0].money == 0.0


@pytest.mark.parametrize("wrong", [-0.01, float("nan"), float("inf")])
@pytest.mark.parametrize("name", [field.name for field in fields(Rates)])
def test_rates_out_of_range(name: str, wrong: float) -> None:
    with pytest.raises(SettingError, match=name.replace("_", " ")) as caught:
        Rates(**{name: wrong})
    assert str(caught.value).endswith(".")
