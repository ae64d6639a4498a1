"""What is poured at the bench: pint's units and sums worked out by hand."""

from datetime import date

import pint
import pytest

from shadecore.errors import JobError
from shadecore.products.amount import parse_amount, volume_ml
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix, parse_own
from shadecore.products.left_overs import LeftOver, may_be_used
from shadecore.products.sheet_file import demo_sheet

UNITS = pint.UnitRegistry()
SHEET = demo_sheet()
BASE, CLEAR = SHEET.of_kind("base_coat"), SHEET.of_kind("clear_coat")
SEALER = SHEET.of_kind("sealer")


def clear(asked: BenchAsk) -> BenchMix:
    return bench_mix(CLEAR, asked)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        *(
            ("600 ml", "ml"),
            ("0.5 L", "liter"),
            ("0,125cl", "cl"),
            ("20 fl oz", "floz"),
        ),
        *(("1 pt", "pint"), ("1 qt", "quart"), ("1 gal", "gallon")),
        *(("180 g", "g"), ("1.2kg", "kg"), ("3 LB", "lb")),
    ],
)
def test_amounts_by_pint(text: str, unit: str) -> None:
    number = float("".join(c for c in text if c in "0123456789.,").replace(",", "."))
    wanted = UNITS.Quantity(number, unit)
    found = parse_amount(text)
    if wanted.check("[mass]"):
        assert (found.ml, found.g) == (None, pytest.approx(wanted.to("g").magnitude))
    else:
        assert (found.ml, found.g) == (pytest.approx(wanted.to("ml").magnitude), None)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("600", "cannot be read; write it like 600 ml"),
        ("", "cannot be read"),
        ("-5 ml", "cannot be read"),
        ("0 ml", "must be above 0"),
        ("1,000 ml", "The comma of '1,000 ml' may mark thousands or decimals"),
        ("8 oz", "may be fluid or by weight"),
        ("3 cups", "The unit of '3 cups' is not known"),
        ("9" * 400 + " ml", "must be above 0"),
    ],
)
def test_amounts_that_cannot_be_read(text: str, said: str) -> None:
    with pytest.raises(JobError, match=said) as caught:
        parse_amount(text)
    assert len(str(caught.value)) <= 300


def test_a_cup_is_no_mass() -> None:
    assert volume_ml("1 L", "A cup") == pytest.approx(1000.0)
    with pytest.raises(JobError, match="A cup is a volume, not '180 g'"):
        volume_ml("180 g", "A cup")


def test_the_cup_in_hand() -> None:
    """Four fifths of 600 ml are 480: 320 and 160 ml of 2:1, at 1.00 and 1.02 kg/L."""
    found = clear(BenchAsk(cup_ml=600.0))
    assert [each.volume_ml for each in found.pours] == pytest.approx([320.0, 160.0])
    assert [each.scale_g for each in found.pours] == pytest.approx([320.0, 483.2])
    assert found.fills == 1


def test_a_weight() -> None:
    """181.2 g of it are 180 ml."""
    found = clear(BenchAsk(mass_g=181.2))
    assert found.ready_ml == pytest.approx(180.0)
    assert found.ready_g == pytest.approx(181.2)


def test_one_coat_more() -> None:
    """28 um on 2 m2 are 56 ml of film; 77/150 solids, 65 % transfer, 50 ml lost."""
    found = clear(BenchAsk(coats=1, area_m2=2.0))
    solids = (2 * 0.48 + 0.58) / 3
    assert found.ready_ml == pytest.approx(56.0 / solids / 0.65 + 50.0)
    thin = clear(BenchAsk(coats=1, area_m2=2.0, dry_film_um=14.0, cup_loss_l=0.0))
    assert thin.ready_ml == pytest.approx(28.0 / solids / 0.65)


def test_more_than_a_cup_holds_is_mixed_alike_several_times() -> None:
    found = clear(BenchAsk(volume_ml=1000.0, cup_ml=600.0))
    assert (found.fills, found.ready_ml) == (3, pytest.approx(1000.0 / 3.0))
    exact = clear(BenchAsk(volume_ml=960.0, cup_ml=600.0))
    assert exact.fills == 2
    # Cans are those of all fillings.
    clears = [each.volume_l for each in found.portions]
    assert sum(clears) == pytest.approx(1.0)


def test_a_can_sold_half_full_is_mixed_in_the_can() -> None:
    found = bench_mix(BASE, BenchAsk(held_ml=500.0))
    assert [each.volume_ml for each in found.pours] == pytest.approx([500.0, 500.0])
    assert found.portions[0].cost == 0.0
    assert found.portions[1].cost > 0.0
    with pytest.raises(JobError, match="already says how much to mix"):
        bench_mix(BASE, BenchAsk(held_ml=500.0, cup_ml=600.0))


def test_several_cans_of_a_colour_are_boxed() -> None:
    assert not bench_mix(BASE, BenchAsk(volume_ml=400.0)).boxed
    (boxed,) = bench_mix(BASE, BenchAsk(volume_ml=3000.0)).boxed
    assert boxed.component.name == "Base coat"
    assert sum(number for _, number in boxed.cans) > 1


def test_a_sealer_mixed_of_two_of_the_shops_own() -> None:
    """600 ml of 4:1:1 hold 400 ml of sealer: 3 to 1 of it are 300 and 100 ml."""
    own = (parse_own("3 White N 9"), parse_own("1 part of Dark grey N 4"))
    assert own == (("White N 9", 3.0), ("Dark grey N 4", 1.0))
    found = bench_mix(SEALER, BenchAsk(volume_ml=600.0, own=own))
    poured = [(each.component.name, each.volume_ml) for each in found.pours]
    assert [name for name, _ in poured[:2]] == ["White N 9", "Dark grey N 4"]
    assert [ml for _, ml in poured] == pytest.approx([300.0, 100.0, 100.0, 100.0])
    plain = bench_mix(SEALER, BenchAsk(volume_ml=600.0))
    assert found.ready_g == pytest.approx(plain.ready_g)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (BenchAsk(), "said in one way"),
        (BenchAsk(volume_ml=1.0, mass_g=1.0), "said in one way"),
        (BenchAsk(coats=1.0), "give both"),
        (BenchAsk(area_m2=1.0, cup_ml=600.0), "give both"),
        (BenchAsk(coats=99.0, area_m2=1.0), "The number of coats must be"),
        (BenchAsk(cup_ml=600.0, fill=1.5), "filled above 0 and up to 100 percent"),
        (BenchAsk(cup_ml=float("nan"), volume_ml=1.0), "must hold more than 0 ml"),
        (BenchAsk(cup_ml=0.001, volume_ml=900.0), "take a larger cup"),
        (BenchAsk(volume_ml=9.0, own=(("x", 0.0),)), "The parts of 'x' must be above"),
    ],
)
def test_what_cannot_be_mixed(asked: BenchAsk, said: str) -> None:
    with pytest.raises(JobError, match=said):
        clear(asked)
    with pytest.raises(JobError, match="'Polishing compound' is not mixed"):
        bench_mix(SHEET.of_kind("polish"), asked)


def test_own_paints_without_parts() -> None:
    with pytest.raises(JobError, match="has no parts; write them first"):
        parse_own("White N 9")


# Left-overs

MONDAY = date(2026, 3, 2)


def test_a_mix_with_hardener_is_never_used_again() -> None:
    rest = LeftOver("clear_coat", 80.0, MONDAY)
    assert may_be_used(rest, CLEAR, MONDAY).verdict == "hardened"


def test_a_mix_without_hardener_goes_by_its_sheet() -> None:
    """180 days after 2 March are 29 August, by the calendar."""
    rest = LeftOver("base_coat", 200.0, MONDAY, batch="A 17")
    last = date(2026, 8, 29)
    found = may_be_used(rest, BASE, last)
    assert (found.verdict, found.until, found.allowed) == ("yes", last, True)
    assert may_be_used(rest, BASE, date(2026, 8, 30)).verdict == "too_old"


def test_an_opened_can_goes_by_its_sheet_too() -> None:
    can = LeftOver("clear_coat", 600.0, MONDAY, mixed=False)
    assert may_be_used(can, CLEAR, MONDAY).verdict == "not_told"


def test_left_overs_that_cannot_be() -> None:
    for ml in (0.0, -1.0, float("nan"), 1e9):
        with pytest.raises(JobError, match="above 0 and up to"):
            LeftOver("x", ml, MONDAY)
    with pytest.raises(JobError, match="on one line; shorten it"):
        LeftOver("x", 1.0, MONDAY, batch="a\nb")
    with pytest.raises(JobError, match="name it as in the sheet"):
        LeftOver(" ", 1.0, MONDAY)
    rest = LeftOver("base_coat", 1.0, MONDAY)
    with pytest.raises(JobError, match="is of 'base_coat', not of 'clear_coat'"):
        may_be_used(rest, CLEAR, MONDAY)
    with pytest.raises(JobError, match="after 2026-03-01; correct its date"):
        may_be_used(rest, BASE, date(2026, 3, 1))
