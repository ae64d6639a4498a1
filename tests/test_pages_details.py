"""Tables and sentences beside an answer: they say what the library worked out."""

from dataclasses import replace
from functools import cache

import pytest

from shadecore.card.hiding_power import HidingPower
from shadecore.cli import main
from shadecore.coats.answer import Answer
from shadecore.coats.cost import Rates, costs
from shadecore.coats.grounds import Ground, rank_grounds
from shadecore.coats.mixes import MixOutlook, compare_mixes
from shadecore.coats.pick import pick
from shadecore.coats.sand_throughs import SandThroughs, compare_sand_throughs
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import parse_topcoat
from shadecore.film.gun import mix_film
from shadecore.pages.blocks import Cell, Table
from shadecore.pages.details import (
    cost_table,
    differences_table,
    grounds_table,
    mixes_table,
    sand_throughs_table,
    sealers_table,
)
from shadecore.recipes.library import recipe_library
from shadecore.telling.counts import interval_words, number_of
from shadecore.telling.hiding_words import (
    hiding_power_words,
    hiding_words,
    mix_words,
    sand_through_words,
)
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.units import UNITS, percent

METRIC, US = UNITS["metric"], UNITS["us"]
POWER = HidingPower((40.0, 30.0, 60.0), (5.0, 3.0, 8.0), 0.98)


@cache
def answer() -> Answer:
    return pick(parse_topcoat("45 60 35"), demo_shelf())


@cache
def followed() -> SandThroughs:
    areas = (demo_shelf()[0], demo_shelf()[-1])
    return compare_sand_throughs(answer().belief, areas, areas[0], Settings())


@cache
def mixed() -> tuple[MixOutlook, ...]:
    mixes = tuple(
        mix_film(each, 38.0, 0.5, 0.26, 0.65) for each in ((1.0, 1.0), (2.0, 1.0))
    )
    return compare_mixes(answer().topcoat, demo_shelf(), Settings(), mixes, 15.0)


@cache
def ways() -> tuple[Ground, ...]:
    library = recipe_library()
    own = (("Brick", parse_topcoat("45 45 30")),)
    return rank_grounds(answer().belief, own, demo_shelf(), Settings(), library)


def square(table: Table) -> bool:
    return all(len(row) == len(table.headings) for row in table.rows)


def test_hiding_power_in_metric() -> None:
    words = hiding_power_words(POWER, METRIC)
    assert "contrast ratio 0.98" in words
    assert "from 40 µm dry film (90 %: 30 µm to 60 µm)" in words
    assert "5.0 m²/L (90 %: 3.0 to 8.0)" in words


def test_hiding_power_in_us_units() -> None:
    """25.4 um are a mil and 40.7458 ft2/gal are a m2/L."""
    words = hiding_power_words(POWER, US)
    assert "from 1.57 mil dry film (90 %: 1.18 mil to 2.36 mil)" in words
    assert "204 ft²/gal (90 %: 122 to 326)" in words
    assert "m²" not in words


def test_mixes() -> None:
    table = mixes_table(mixed(), METRIC)
    assert square(table)
    assert [row[0] for row in table.rows] == ["1:1", "2:1"]
    for row, each in zip(table.rows, mixed(), strict=True):
        best, film = each.answer.recommended, each.mix.film.dry_film_um
        assert best.coats is not None
        assert row[1] == best.undercoat.name
        assert row[2] == f"{best.coats} ({interval_words(best.count)})"
        assert row[3:5] == (f"{film:.0f} µm", f"{best.coats * film:.0f} µm")
        assert row[6] == f"{15 * best.coats} min"
        assert row[7] == percent(each.mix.run_share)
    # 100 um at 1:1 may run: the tool's own rule of thumb.
    assert "100 µm at 1:1" in table.note


def test_a_mix_that_may_run_is_marked() -> None:
    wet = mix_film((1.0, 1.0), 80.0, 0.5, 0.26, 0.65)
    assert wet.may_run
    table = mixes_table((replace(mixed()[0], mix=wet),), METRIC)
    assert table.rows[0][7].endswith(" %, may run")


def test_a_mix_that_never_hides_has_dashes() -> None:
    one = mixed()[0]
    never = replace(
        one.answer.recommended,
        count=replace(one.answer.recommended.count, coats=None, high=None),
        paint_ml_per_m2=None,
    )
    lost = replace(one, answer=replace(one.answer, recommended=never), minutes=None)
    row = mixes_table((lost,), METRIC).rows[0]
    assert row[2].startswith("over 12 (")
    assert row[4:7] == ("-", "-", "-")


def test_patches() -> None:
    found = followed()
    table = sand_throughs_table(found)
    assert square(table)
    row = table.rows[0]
    assert row[0] == " / ".join(each.name for each in found.areas)
    assert row[1:] == tuple(f"{left:.1f}" for left in found.difference[:6])
    assert table.numbers == frozenset(range(1, 7))


def test_patches_with_few_coats_counted() -> None:
    few = replace(followed(), difference=followed().difference[:2])
    assert sand_throughs_table(few).headings == ("Areas", "after 1", "after 2")


@pytest.mark.parametrize(
    ("coats", "sealed", "ends"),
    [
        (6, 4, "hides in 4 coats: seal first."),
        (5, 4, "and gives the colour one even ground."),
        (4, 4, "sealing saves no colour here."),
        (3, 4, "sealing saves no colour here."),
        (None, 4, "seal first."),
        (None, 12, "and gives the colour one even ground."),
        (6, None, "does not hide within 12 coats either."),
    ],
)
def test_whether_to_seal(coats: int | None, sealed: int | None, ends: str) -> None:
    words = sand_through_words(
        replace(
            followed(),
            count=replace(followed().count, coats=coats),
            sealed_coats=sealed,
        ),
        2.0,
    )
    assert words.endswith(ends)


def test_patches_in_words() -> None:
    found = replace(
        followed(), count=replace(followed().count, coats=1, low=1, high=None)
    )
    words = sand_through_words(found, 2.0)
    assert words.startswith(
        "The areas look alike from 1 coat on (90 %: 1 to over 12). "
        f"Sealed with {demo_shelf()[0].name} first"
    )
    closed = replace(
        followed(), count=replace(followed().count, coats=3, low=2, high=5)
    )
    assert "from 3 coats on (90 %: 2 to 5)" in sand_through_words(closed, 2.0)
    apart = sand_through_words(
        replace(followed(), count=replace(followed().count, coats=None)), 1.5
    )
    assert apart.startswith(
        "The areas still differ by more than 1.5 CIEDE2000 within 12 coats"
    )


def test_grounds() -> None:
    table = grounds_table(ways(), METRIC)
    assert square(table)
    assert len(table.rows) == min(10, len(ways()))
    for row, way in zip(table.rows, ways(), strict=False):
        assert row[0].startswith(way.name)
        assert ("over" in row[0]) == (way.ground_coats > 0)
        assert int(row[1]) + int(row[2]) == int(row[3]) == way.coats
        assert row[4] == f"{way.paint_ml_per_m2:.0f} ml/m²"
    totals = [int(row[3]) for row in table.rows]
    assert totals == sorted(totals)
    assert any(way.ground_coats for way in ways())


def test_no_more_ways_than_are_worth_reading() -> None:
    assert len(grounds_table(ways()[:1] * 25, METRIC).rows) == 10
    assert grounds_table((), METRIC).rows == ()


def test_costs() -> None:
    found = costs(answer(), Rates(area_m2=4.0, hourly_rate=60.0))
    table = cost_table(found, METRIC)
    assert square(table)
    for row, each in zip(table.rows, found, strict=True):
        assert row[0] == each.outlook.undercoat.name
        assert row[1] == str(each.outlook.coats)
        assert float(row[4]) == pytest.approx(each.money, abs=0.005)
        assert float(row[5]) == pytest.approx(each.more_than_best, abs=0.005)
        assert row[5][0] in "+-"
    assert table.rows[0][5] == "+0.00"


def test_costs_in_us_units_show_no_litres() -> None:
    """A quart is 0.946353 L: 231 / 4 cubic inches, by law."""
    found = costs(answer(), Rates(area_m2=4.0))
    for row, each in zip(cost_table(found, US).rows, found, strict=True):
        assert str(row[2]).endswith(" qt")
        assert float(str(row[2]).removesuffix(" qt")) == pytest.approx(
            each.topcoat_l / 0.946352946, abs=0.005
        )


def test_each_sealer_with_its_count_interval_chance_and_paint() -> None:
    table = sealers_table(answer(), US)
    assert square(table)
    for row, each in zip(table.rows, answer().outlooks, strict=True):
        name = row[0]
        assert isinstance(name, Cell)
        assert name.text == each.undercoat.name
        assert ("fewest coats" in name.note) == (each == answer().recommended)
        assert ("closest in lightness" in name.note) == (each == answer().closest)
        assert row[2:4] == (number_of(each.count), interval_words(each.count))
        chance = (
            "" if each.coats is None else percent(each.count.chance[each.coats - 1])
        )
        assert row[4] == chance
        assert (row[5] == "-") == (each.coats is None)


def test_no_more_differences_than_coats_counted() -> None:
    few = replace(answer(), settings=Settings(coat_cap=2))
    heads = differences_table(few, METRIC).headings
    assert [each for each in heads if str(each).startswith("coat ")] == [
        "coat 1",
        "coat 2",
    ]


def test_a_mix_says_what_it_saves_and_no_more() -> None:
    best = answer().recommended
    assert best.coats is not None
    sooner = replace(best, count=replace(best.count, coats=best.coats - 1))
    assert mix_words(sooner, best).endswith("which saves 1 coat.")
    assert "saves" not in mix_words(best, best)
    never = replace(best, count=replace(best.count, coats=None))
    assert "saves" not in mix_words(best, never)


def test_hiding_from_colour_alone_is_called_a_guess() -> None:
    words = hiding_words(answer(), METRIC)
    hiding = answer().hiding
    assert f"{hiding.contrast_ratio:.2f}" in words
    assert f"{hiding.low:.2f} to {hiding.high:.2f}" in words
    assert words.endswith("a guess.")
    known = hiding_words(replace(answer(), basis="test card"), METRIC)
    assert "guess" not in known


def test_a_ratio_just_under_the_line_does_not_read_as_on_it() -> None:
    near = replace(
        answer(), hiding=replace(answer().hiding, contrast_ratio=0.978, high=0.99)
    )
    assert "contrast ratio 0.978" in hiding_words(near, METRIC)


@pytest.mark.parametrize(
    "words",
    [
        ("grounds", "28", "2", "-38", "--units", "us"),
        ("mixes", "45", "60", "35", "--units", "us"),
    ],
)
def test_wide_tables_fit_the_terminal(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 79
