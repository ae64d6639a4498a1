"""Questions in links: they come back equal, and what cannot be used is named."""

import math
from dataclasses import replace
from urllib.parse import parse_qsl, urlencode

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from questions import QUESTION, TEXT

from shadecore.colour.condition import Condition
from shadecore.question.link import belongs, from_link, to_link
from shadecore.question.plain import BY_NAME, NAMES, PLAIN, RANGES, to_plain
from shadecore.question.question import FilmAsked, Question
from shadecore.question.read_plain import from_plain
from shadecore.undercoats.shelf import undercoat_from_reflectance

SOME = settings(
    deadline=None,
    derandomize=True,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)


@SOME
@given(QUESTION)
def test_a_question_comes_back_through_an_address(question: Question) -> None:
    address = urlencode(to_link(question))
    found = from_link(dict(parse_qsl(address, keep_blank_values=True)))
    assert found.problems == ()
    assert found.question == question


@SOME
@given(QUESTION)
def test_a_question_comes_back_from_plain_values(question: Question) -> None:
    plain = to_plain(question)
    assert all(type(value) in {str, bool, int, float} for value in plain.values())
    assert from_plain(plain) == (question, ())


def test_only_what_differs_is_in_the_link() -> None:
    assert to_link(Question()) == {}
    question = Question(
        "#ffffff", condition=Condition(observer=2), film=FilmAsked(12.5, from_gun=True)
    )
    assert to_link(question) == {
        "colour": "#ffffff",
        "film_um": "12.5",
        "from_gun": "True",
        "observer": "2",
    }


def test_a_shelf_of_spectra_keeps_them_in_a_link_of_usual_length() -> None:
    """Mail programs take 2000 characters; common practice, no source."""
    spectra = [[0.1 + 0.02 * i + 0.01 * n for n in range(31)] for i in range(3)]
    shelf = tuple(
        undercoat_from_reflectance(f"mine {i}", [round(r, 4) for r in spectrum])
        for i, spectrum in enumerate(spectra)
    )
    query = to_link(Question(shelf=shelf))
    assert len(urlencode(query)) < 2000
    assert from_link(query).question.shelf == shelf


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("tolerance", "wide"),
        ("tolerance", ""),
        ("tolerance", "0"),
        ("tolerance", "-2"),
        ("tolerance", "20.001"),
        ("tolerance", "nan"),
        ("tolerance", "inf"),
        ("film_um", "0.4"),
        ("film_um", "-5"),
        ("film_um", "1e400"),
        ("area_m2", "inf"),
        ("coat_cap", "0"),
        ("coat_cap", "51"),
        ("coat_cap", "3.5"),
        ("coat_cap", "9" * 5000),
        ("observer", "5"),
        ("observer", "ten"),
        ("illuminant", "moon"),
        ("illuminant", ""),
        ("specular", "perhaps"),
        ("units", "furlong"),
        ("blends", "no"),
        ("blends", "1"),
        ("from_gun", "true"),
        ("strength", "-1"),
        ("hourly_rate", "1e9"),
        ("shelf", "name\n"),
        ("test_card", "area,coats\nblack,2\n"),
        ("card", "area,coats\nblack,2\n"),
        ("photo", "1 2 3; 4 5"),
        ("shelf.z", "%%%"),
        ("colour.z", "eNpLzs8FAAL"),
    ],
)
def test_what_cannot_be_used_is_named_and_the_rest_kept(name: str, value: str) -> None:
    found = from_link(
        {name: value, "tolerance": "1.5", "colour": "1 2 3"} | {name: value}
    )
    wanted = Question("1 2 3", tolerance=1.5)
    if name == "tolerance":
        wanted = replace(wanted, tolerance=Question().tolerance)
    assert found.question == wanted
    (problem,) = found.problems
    assert problem.startswith("In the link, ")
    assert name.removesuffix(".z") in problem
    assert len(problem) <= 330


def test_names_of_other_pages_are_passed_over() -> None:
    query = {"no_such_thing": "1", "__class__": "1", "job": "x", "seed": "3"}
    assert from_link(query) == (Question(), ())
    assert not any(map(belongs, query))
    assert all(map(belongs, NAMES))


@SOME
@given(st.dictionaries(st.sampled_from(sorted(NAMES)), TEXT))
def test_whatever_a_link_says_the_question_can_be_used(query: dict[str, str]) -> None:
    question, problems = from_link(query)
    for each in PLAIN:
        value = each.of(question)
        assert type(value) is type(each.usual)
        if each.choices:
            assert value in each.choices
        if each.ends is not None:
            assert each.ends[0] <= float(value) <= each.ends[1]
    assert all(len(problem) <= 330 for problem in problems)


def test_every_usual_value_is_allowed() -> None:
    for each in PLAIN:
        assert each.read(each.usual) == each.usual
        assert each.choices or each.ends or isinstance(each.usual, bool | str)


@pytest.mark.parametrize("name", sorted(RANGES))
def test_both_ends_of_a_range_come_back_and_what_lies_beyond_does_not(
    name: str,
) -> None:
    kind = type(BY_NAME[name].usual)
    for end, beyond in zip(RANGES[name], (-math.inf, math.inf), strict=True):
        assert from_link({name: repr(kind(end))}).problems == ()
        over = (
            math.nextafter(end, beyond)
            if kind is float
            else end + math.copysign(1, beyond)
        )
        assert len(from_link({name: repr(kind(over))}).problems) == 1


def test_a_card_of_an_older_link_is_read_as_it_was_measured() -> None:
    """An older link has the readings under the condition of the colour."""
    rows = "area,coats,L,a,b\nblack,2,38,48,27\nwhite,2,47,62,37\n"
    old = {"card": rows, "illuminant": "D50", "observer": "2"}
    found = from_link(old).question
    assert found.card is not None
    kept = to_link(found)
    assert "card" not in kept
    assert from_link(kept).question == found
    plain = from_link({"card": rows}).question
    assert plain.card is not None
    assert plain.card.steps[0].over_black == (38.0, 48.0, 27.0)
    assert found.card.steps[0].over_black != pytest.approx((38.0, 48.0, 27.0), abs=0.1)
