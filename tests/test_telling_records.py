"""Answers as rows and as plain data for programs."""

import json
import math
from typing import Any

import numpy as np
import pytest

import shadecore
from shadecore.card.hiding_power import HidingPower
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.colour.colour_table import parse_colours
from shadecore.pages.answer_page import answer_page
from shadecore.pages.text_layout import document_text
from shadecore.question.question import Question
from shadecore.telling.chart_records import CHART_COLUMNS, chart_rows
from shadecore.telling.flag_words import WARNINGS
from shadecore.telling.records import answer_record

SHELF = shadecore.demo_shelf()
LIST = parse_colours(
    "code,L,a,b\nRed,45,60,35\nYellow,72,30,80\nGrey,58,0,2\nRed,9,0,-1\n", "the list"
)


def rows(
    settings: shadecore.Settings, *, every_undercoat: bool = False
) -> list[dict[str, str]]:
    picks = pick_many(LIST.lab, SHELF, settings)
    return chart_rows(LIST, SHELF, picks, settings, every_undercoat=every_undercoat)


def leaves(data: Any) -> list[Any]:  # noqa: ANN401 - JSON is nested as it likes
    if isinstance(data, dict):
        return [leaf for value in data.values() for leaf in leaves(value)]
    if isinstance(data, list):
        return [leaf for value in data for leaf in leaves(value)]
    return [data]


def test_a_row_for_each_colour_in_the_order_of_the_list() -> None:
    found = rows(shadecore.Settings())
    assert [row["code"] for row in found] == ["Red", "Yellow", "Grey", "Red"]
    assert all(tuple(row) == CHART_COLUMNS for row in found)


@pytest.mark.parametrize("tolerance", [1.0, 2.0])
def test_a_row_says_what_the_single_answer_says(tolerance: float) -> None:
    settings = shadecore.Settings(tolerance)
    for row, lab in zip(rows(settings), LIST.lab, strict=True):
        answer = pick(
            shadecore.Topcoat((lab[0], lab[1], lab[2]), "one"), SHELF, settings
        )
        best = answer.recommended
        counts = (best.coats, best.count.low, best.count.high, answer.closest.coats)
        written = [
            row[name] for name in ("coats", "coats_low", "coats_high", "closest_coats")
        ]
        assert written == ["" if each is None else str(each) for each in counts]
        assert row["undercoat"] == best.undercoat.name
        assert row["closest_in_lightness"] == answer.closest.undercoat.name
        assert row["hiding"] == answer.hiding.rating
        assert row["flags"] == ";".join(flag.code for flag in answer.flags)


def test_a_row_for_each_colour_and_undercoat_best_first() -> None:
    found = rows(shadecore.Settings(), every_undercoat=True)
    best = rows(shadecore.Settings())
    assert len(found) == len(LIST.codes) * len(SHELF)
    for place, first in enumerate(best):
        block = found[place * len(SHELF) : (place + 1) * len(SHELF)]
        assert block[0] == first
        assert {row["undercoat"] for row in block} == {each.name for each in SHELF}
        counts = [int(row["coats"] or 13) for row in block]
        assert counts == sorted(counts)


def test_beyond_the_cap_a_count_is_empty_and_flagged() -> None:
    thin = shadecore.Settings(1.0, shadecore.CoatFilm(1.0), coat_cap=1)
    red = rows(thin)[0]
    assert (red["coats"], red["coats_high"], red["closest_coats"]) == ("", "", "")
    assert "not-within-cap" in red["flags"].split(";")


def test_flags_are_codes_that_can_be_looked_up() -> None:
    found = rows(shadecore.Settings(1.0), every_undercoat=True)
    codes = {code for row in found for code in row["flags"].split(";") if code}
    assert len(codes) > 2
    assert codes <= set(WARNINGS)


@pytest.mark.parametrize("cap", [1, 12])
@pytest.mark.parametrize("text", ["45 60 35", "9 0 -1", "#c8a400", "5R 4/14"])
def test_plain_data_is_json_without_odd_numbers(text: str, cap: int) -> None:
    answer = pick(
        shadecore.parse_topcoat(text),
        SHELF,
        shadecore.Settings(coat_cap=cap),
        blends=shadecore.shelf_blends(SHELF),
    )
    record = answer_record(answer)
    again = json.loads(json.dumps(record, allow_nan=False))
    assert again == record
    for leaf in leaves(record):
        assert leaf is None or isinstance(leaf, str | int | float)
        assert not isinstance(leaf, float) or math.isfinite(leaf)
    assert len(record["undercoats"]) == len(SHELF) + (answer.mix is not None)
    for each in record["undercoats"]:
        assert len(each["chance_hidden_by_coat"]) == cap
        assert (each["coats"] is None) == (each["paint_ml_per_m2"] is None)


def test_plain_data_carries_the_answer() -> None:
    settings = shadecore.Settings(1.0, shadecore.coat_film(paint_to_reducer=(2.0, 1.0)))
    answer = pick(shadecore.parse_topcoat("45 60 35"), SHELF, settings)
    record = answer_record(answer)
    assert record["topcoat"]["lab_d65_10"] == [45.0, 60.0, 35.0]
    assert record["settings"]["tolerance_de00"] == 1.0
    # 38 um wet, two passes, 26 percent solids in two parts of three
    assert record["settings"]["dry_film_um_per_coat"] == pytest.approx(
        38.0 * 2.0 * 0.26 * 2.0 / 3.0, abs=1e-4
    )
    assert record["recommended"] == answer.recommended.undercoat.name
    assert record["closest_in_lightness"] == answer.closest.undercoat.name
    assert record["undercoats"][0]["name"] == record["recommended"]
    assert record["undercoats"][0]["coats"] == answer.recommended.coats
    chance = record["undercoats"][0]["chance_hidden_by_coat"]
    np.testing.assert_allclose(chance, answer.recommended.count.chance, atol=5e-5)
    assert [flag["code"] for flag in record["flags"]] == [
        flag.code for flag in answer.flags
    ]
    low, high = record["hiding"]["interval_90"]
    assert low <= record["hiding"]["contrast_ratio"] <= high


TWO = (SHELF[0], SHELF[-1])


def test_a_mix_is_given_with_its_parts() -> None:
    answer = pick(
        shadecore.parse_topcoat("50 -40 10"), TWO, blends=shadecore.shelf_blends(TWO)
    )
    mixed = [each for each in answer_record(answer)["undercoats"] if each["parts"]]
    assert len(mixed) == 1
    names = {each.name for each in TWO}
    assert {part["undercoat"] for part in mixed[0]["parts"]} == names
    assert all(part["parts"] >= 1 for part in mixed[0]["parts"])


def test_the_record_says_what_the_text_says() -> None:
    """Every sentence of the text, the card's hiding power included, is in the data."""
    found = pick(shadecore.parse_topcoat("45 60 35"), SHELF)
    power = HidingPower((40.0, 30.0, 60.0), (5.0, 3.0, 8.0), 0.98)
    record = answer_record(found, power)
    assert record["hiding_power"] == {
        "contrast_ratio": 0.98,
        "dry_film_um": 40.0,
        "dry_film_um_interval_90": [30.0, 60.0],
        "spreading_rate_m2_per_l": 5.0,
        "spreading_rate_interval_90": [3.0, 8.0],
    }
    assert answer_record(found)["hiding_power"] is None
    text = " ".join(
        document_text(answer_page(Question("45 60 35"), found, power)).split()
    )
    for name in ("plan", "why", "basis_text", "caution"):
        assert record[name] in text
    for flag in record["flags"]:
        assert f"{flag['headline']}. {flag['advice']}" in text
