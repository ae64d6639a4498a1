"""Whatever a record may hold, the book gives it back as it was."""

from datetime import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.book.errors import BookError
from shadecore.book.kinds import kind_of
from shadecore.book.records import (
    SEEN_SOURCES,
    AngleReading,
    BookCard,
    BookColour,
    BookPhoto,
    BookSeen,
    BookShelf,
    Stocked,
)
from shadecore.book.schema import references_of
from shadecore.book.shop_records import (
    JOB_STATES,
    BookJob,
    BookLeftOver,
    BookSheet,
    BookSteps,
    PaintLine,
    ShopSettings,
    SprayGun,
)
from shadecore.card.reading import Card, Step
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.colour.kinds import KINDS
from shadecore.job.estimate import ShopRates
from shadecore.job.own_steps import StepChange
from shadecore.job.shop_hours import ShopHours
from shadecore.products.left_overs import LeftOver
from shadecore.undercoats.shelf import Undercoat

_money = st.floats(0, 1e6)
_letters = st.characters(exclude_categories=("C", "Z")) | st.just(" ")
_printable = st.text(_letters, max_size=20)
_names = _printable.map(lambda each: f"{each}x")
_texts = st.text(
    st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=60
)
_numbers = st.floats(-1000, 1000)
_labs = st.tuples(_numbers, _numbers, _numbers)
_spectra = st.lists(st.floats(0, 1.1), min_size=31, max_size=31).map(tuple)
_maybe_spectra = st.one_of(st.just(()), _spectra)
_moments = st.none() | st.datetimes()
_conditions = st.builds(
    Condition,
    st.sampled_from(ILLUMINANTS),
    st.sampled_from(OBSERVERS),
    st.sampled_from(SPECULAR),
)
_links = st.sampled_from(["", "0b1c", "some-uid"])
_plain = st.dictionaries(
    _names,
    st.booleans() | st.integers(-(10**15), 10**15) | _numbers | _texts,
    max_size=5,
)
_amounts = st.none() | st.floats(0, 1e6)
_undercoats = st.builds(
    Undercoat,
    _names,
    _labs,
    _spectra,
    _amounts,
    _printable,
    st.lists(st.tuples(_names, st.integers(1, 9)), max_size=2).map(tuple),
)
_readings = st.one_of(
    st.tuples(_numbers), _labs, st.lists(_numbers, min_size=31, max_size=31).map(tuple)
)
_line = st.text(_letters, max_size=20).map(str.strip)
_maybe_minutes = st.none() | st.floats(0, 600)
_changes = st.builds(
    StepChange,
    st.from_regex(r"[a-z][a-z0-9_]{0,20}", fullmatch=True),
    st.booleans(),
    st.none() | st.sampled_from(["", "wash", "mask_2"]),
    st.none() | _line.map(lambda each: each or "Mask"),
    st.none() | _line,
    st.none() | _line,
    _maybe_minutes,
    _maybe_minutes,
    st.none() | st.floats(0.5, 48),
    st.none()
    | st.lists(st.integers(1, 2000), max_size=3, unique=True).map(sorted).map(tuple),
    st.none() | _line,
    st.none() | st.integers(1, 4),
)

_THINGS = {
    BookColour: st.builds(
        BookColour,
        _names,
        _labs,
        _texts,
        _conditions,
        _maybe_spectra,
        st.one_of(st.just(()), st.lists(_numbers, min_size=6, max_size=6).map(tuple)),
        st.lists(
            st.builds(AngleReading, st.floats(-90, 180), _labs, _maybe_spectra),
            max_size=3,
        ).map(tuple),
        st.sampled_from(["", *KINDS]),
        _printable,
        _printable,
        _links,
        _links,
        _printable,
        _moments,
        _texts,
        _plain,
    ),
    BookShelf: st.builds(
        BookShelf,
        _names,
        st.lists(
            st.builds(Stocked, _undercoats, _amounts),
            min_size=1,
            max_size=3,
            unique_by=lambda each: each.undercoat.name,
        ).map(tuple),
        _texts,
    ),
    BookCard: st.builds(
        BookCard,
        st.just("uid"),
        st.builds(
            Card,
            st.lists(st.builds(Step, st.integers(1, 9), _readings, _readings)).map(
                tuple
            ),
            _numbers,
            _numbers,
            st.none() | _readings,
        ),
        st.floats(0.1, 1000.0),
        _printable,
        _moments,
        _texts,
    ),
    BookSeen: st.builds(
        BookSeen,
        st.just("uid"),
        st.sampled_from(SEEN_SOURCES),
        st.integers(1, 5),
        st.none() | st.integers(5, 50),
        st.sampled_from([True]),
        st.none() | _undercoats,
        st.none() | st.floats(0.1, 1000),
        st.none() | st.floats(0.01, 100),
        st.booleans(),
        _links,
        _links,
        _links,
        _printable,
        _printable,
        _moments,
        _texts,
    ),
    BookPhoto: st.builds(BookPhoto, st.just("uid"), _printable, _texts),
    BookSheet: st.builds(BookSheet, _names, _texts, _texts),
    BookSteps: st.builds(
        BookSteps,
        _names,
        st.lists(_changes, min_size=1, max_size=3).map(tuple),
        _texts,
    ),
    PaintLine: st.builds(PaintLine, _names, _links, _printable, _texts, _moments),
    SprayGun: st.builds(SprayGun, _names, _texts, _moments),
    BookLeftOver: st.builds(
        BookLeftOver,
        _names,
        st.builds(
            LeftOver,
            _names,
            st.floats(0.1, 1e6),
            st.dates(),
            st.booleans(),
            _printable,
        ),
        _links,
        _links,
        _texts,
    ),
    BookJob: st.builds(
        BookJob,
        _names,
        _texts,
        st.sampled_from(JOB_STATES),
        _printable,
        _printable,
        _printable,
        _links,
        _links,
        _links,
        st.none() | st.integers(0, 50),
        st.none() | st.integers(0, 50),
        _amounts,
        _amounts,
        _moments,
        _moments,
        _printable,
        _texts,
        _printable,
        _printable,
        _links,
        _texts,
    ),
    ShopSettings: st.builds(
        ShopSettings,
        st.sampled_from(["metric", "us"]),
        st.sampled_from(["A4", "Letter"]),
        _printable,
        st.sampled_from(
            [None, ShopHours(time(7, 30), time(18), (time(12), time(12, 45)))]
        ),
        _links,
        _links,
        _links,
        st.booleans(),
        st.none()
        | st.builds(ShopRates, _money, st.floats(0, 500), _money, st.floats(0, 500)),
    ),
}


@pytest.mark.parametrize("record", _THINGS, ids=lambda each: each.__name__)
def test_every_record_is_read_back_equal(record: type) -> None:
    kind = kind_of(record)

    @settings(max_examples=60, deadline=None)
    @given(thing=_THINGS[record])
    def check(thing: object) -> None:
        row = kind.row(thing)
        assert kind.thing(row) == thing
        for name, value in vars(kind.thing(row)).items():
            assert type(value) is type(getattr(thing, name))
        assert set(kind.references) == {name for name in row if name in _ANY_LINK}

    check()


_ANY_LINK = frozenset(
    name for record in _THINGS for name in references_of(kind_of(record).table)
)


@settings(max_examples=200, deadline=None)
@given(body=st.binary(max_size=80))
def test_a_damaged_row_gets_one_sentence(body: bytes) -> None:
    kind = kind_of(SprayGun)
    row = {**kind.row(SprayGun("Gun")), "body": body.decode("latin-1")}
    try:
        kind.thing(row)
    except BookError as error:
        assert "damaged" in str(error)  # noqa: PT017 - a body may be whole by chance


def test_the_kind_of_a_plain_value_is_kept() -> None:
    colour = BookColour(
        "Red", (45.0, 60.0, 35.0), question={"a": 1, "b": 1.0, "c": True, "d": "1"}
    )
    kind = kind_of(BookColour)
    back = kind.thing(kind.row(colour)).question
    assert [type(value) for value in back.values()] == [int, float, bool, str]


def test_what_json_cannot_hold_is_refused() -> None:
    kind = kind_of(BookCard)
    card = Card((Step(1, (1.0,), (2.0,)),))
    with pytest.raises(BookError):
        kind.row(BookCard("uid", card, 10.0, sprayed="late"))  # type: ignore[arg-type]
    with pytest.raises(BookError):
        BookCard("uid", Card((Step(1, (float("nan"),), (2.0,)),)), 10.0)
