"""The one TOML reader: limits, lines, rules, and sentences that can be understood."""

import re
import tomllib
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import CardError, JobError, TableError
from shadecore.formats.toml_lists import Choices, Rising
from shadecore.formats.toml_rules import (
    Above,
    Choice,
    Flag,
    FreeText,
    ListOf,
    MapOf,
    Moment,
    Number,
    OrNone,
    Text,
    Whole,
)
from shadecore.formats.toml_scan import Limits, key_lines
from shadecore.formats.toml_table import (
    Rule,
    Source,
    Table,
    parse_table,
    read_table,
)

SOME = settings(deadline=None, derandomize=True, max_examples=200)
PYTHON_WORDS = re.compile(
    r"\b(bool|int|float|str|dict|list of dict|NoneType|datetime|tuple|None|True|False)"
    r"\b|Error|object"
)


def refused(text: str, **rules: Rule) -> str:
    with pytest.raises(JobError) as caught:
        parse_table(text, "mine.toml", JobError).read(rules)
    message = str(caught.value)
    assert message.startswith("mine.toml, line ")
    assert message.endswith(".")
    assert "\n" not in message
    assert len(message) <= 300
    return message


# Limits


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a = " + "9" * 5000, "line 1: a number has 5,000 digits, more than 60"),
        ("a = 1\nb = -0." + "1" * 61, "line 2: a number has 61 digits"),
        ("a = 1\nb = 0x" + "9" * 100_000, "line 2: a number has 100,001 digits"),
        ("a = 1\nb = " + "[" * 1000, "line 2: more than 16 lists or tables"),
        ("b = " + "[\n" * 1000, "line 17: more than 16 lists or tables"),
        ("b = " + "{a=" * 1000 + "}" * 1000, "line 1: more than 16 lists or tables"),
        (".".join("a" * 1000) + " = 1", "line 1: more than 16 lists or tables"),
        ("[" + ".".join("a" * 1000) + "]", "line 1: more than 16 lists or tables"),
        ("a = [" + "1,\n" * 300_000, "line 10000: a list has more than 10,000 items"),
        ("a = {" + "a=1," * 20_000 + "}", "line 1: a list has more than 10,000 items"),
        ("# " + "x" * 1_000_000, "line 1: it has 1,000,002 characters"),
    ],
)
def test_what_is_too_much_is_refused_before_it_is_parsed(
    text: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(_text: str) -> dict[str, Any]:
        pytest.fail("it was parsed")

    monkeypatch.setattr(tomllib, "loads", never)
    assert said in refused(text)


def test_limits_of_the_callers_own() -> None:
    deep = "a = " + "[" * 20 + "]" * 20
    assert parse_table(deep, "x", limits=Limits(depth=20)).values
    with pytest.raises(TableError, match="more than 19 lists"):
        parse_table(deep, "x", limits=Limits(depth=19))
    with pytest.raises(TableError, match="it has 84 characters, more than the 83"):
        parse_table("#" * 84, "x", limits=Limits(characters=83))


@pytest.mark.parametrize(
    "text",
    [
        'a = "[[[[[[[[[[[[[[[[[[[[[[[[["',
        "a = '[[[[[[[[[[[[[[[[[[[[[[[[['",
        'a = """\n[[[[[[[[[[[[[[[[[[[[[[[[""[[""""',
        "a = '''[[[[[[[[[[[[[[[[[[[[[[[['''''",
        "# [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\na = 1",
        'a = "' + "9" * 5000 + '"',
        "# " + "9" * 5000,
        "a = [" + "[],\n" * 9_999 + "]",
        "\n".join(f"[[t]]\nx = {{ y = [{n}] }}" for n in range(300)),
        "\n".join(f"a{n} = 1.5" for n in range(300)),
    ],
)
def test_what_only_looks_like_too_much_is_read(text: str) -> None:
    assert parse_table(text, "x").values == tomllib.loads(text)


def test_a_text_is_parsed_once_however_wrong_it_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    loads, calls = tomllib.loads, []

    def counted(text: str) -> dict[str, Any]:
        calls.append(len(text))
        return loads(text)

    monkeypatch.setattr(tomllib, "loads", counted)
    lines = "[t]\n" + "\n".join(f"a{n} = {n}" for n in range(20_000))
    rules: dict[str, Rule] = {"t": MapOf(Whole(0, 20_000), most=20_000), "u": Flag()}
    assert "line 20002: u must be true" in refused(f"{lines}\n[u]\nb = 1", **rules)
    assert "line 20001: t.a19999 must be" in refused(f"{lines}0", **rules)
    assert "line 20002: 'b =' cannot be read" in refused(f"{lines}\nb =\n")
    assert "line 20002: 'b = [' cannot be read" in refused(f"{lines}\nb = [\n\n\n")
    assert len(calls) == 4


# Faults of the text


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("name = \n", 1),
        ("# a\nname = 'x'\nname = 'y'\n", 3),
        ("name = 'x'\n[gun\n", 2),
        ("a = 1\nb = '''\nnever closed\n", 2),
        ("a = 1\nb = [1,\n2,\n", 2),
        ("[t]\na = 1\n[u.v]\nb = [\n{ c = 1 },\n{ d =\n", 6),
        ("a = 1\nb = 2026-13-45\n", 2),
        ("a = 1\r\nb = 2\r\nc\r\n", 3),
        ("a = 1\n\0", 2),
    ],
)
def test_what_is_not_toml_is_named_by_its_line(text: str, line: int) -> None:
    message = refused(text)
    assert message.startswith(f"mine.toml, line {line}: ")
    assert "cannot be read as TOML" in message


def test_the_error_is_of_the_class_asked_for() -> None:
    with pytest.raises(CardError):
        parse_table("a", "x", CardError)
    with pytest.raises(CardError):
        parse_table("a = 1", "x", CardError).read({})
    with pytest.raises(TableError):
        parse_table("a", "x")


@SOME
@given(st.text(alphabet="abc.=[]{}\"'#\\\n ,019-:T"))
def test_any_text_is_a_table_or_a_sentence(text: str) -> None:
    said, values = "", None
    try:
        values = parse_table(text, "mine.toml", JobError).values
    except JobError as error:
        said = str(error)
    if values is not None:
        assert values == tomllib.loads(text)
    else:
        assert re.match(r"mine\.toml, line \d+: .*\.$", said)
        assert len(said) <= 300


def test_files(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes("\N{ZERO WIDTH NO-BREAK SPACE}a = 1\r\nb = 'é'\r\n".encode())
    assert read_table(path).values == {"a": 1, "b": "é"}
    path.write_bytes(b"a = 1\nb = '\xe9'\n")
    with pytest.raises(JobError, match=r"line 2, is not UTF-8 text; save it as UTF-8"):
        read_table(path, JobError)
    with pytest.raises(JobError, match="no such file or directory; check the name"):
        read_table(tmp_path / "none.toml", JobError)
    path.write_bytes(b"#" * 500)
    with pytest.raises(TableError, match=r"more than the 100 characters"):
        read_table(path, limits=Limits(characters=100))
    path.write_bytes(b"#" * 200)
    with pytest.raises(TableError, match=r"it has 200 characters"):
        read_table(path, limits=Limits(characters=100))


# Rules

MOMENT = datetime(2026, 12, 1, 8, 0)  # noqa: DTZ001 - the shop's own time
GOOD: list[tuple[Rule, str, object]] = [
    (Number(0, 5), "2", 2.0),
    (Whole(0, 5), "2", 2),
    (Above(5), "0.5", 0.5),
    (Text(), '"  a b "', "a b"),
    (FreeText(), '" a\\n\\tb "', " a\n\tb "),
    (FreeText(), '""', ""),
    (Flag(), "true", True),
    (Choice(("a", "b")), '"b"', "b"),
    (Choices(("a", "b")), '["b"]', ("b",)),
    (Rising(Whole(1, 9)), "[1, 3]", (1, 3)),
    (Moment(), "2026-12-01T08:00:00", MOMENT),
    (Moment(), "2026-12-01 08:00:00", MOMENT),
    (ListOf(Moment()), "[]", ()),
    (ListOf(Moment()), "[2026-12-01T08:00:00]", (MOMENT,)),
    (MapOf(Moment()), "{ wash = 2026-12-01T08:00:00 }", {"wash": MOMENT}),
    (MapOf(Whole(0, 9)), "{ hood = 1, 'a b' = 2 }", {"hood": 1, "a b": 2}),
    (MapOf(ListOf(Whole(0, 9))), "{ a = [1] }", {"a": (1,)}),
    (OrNone(Whole(0, 9)), "3", 3),
    (Rising(Whole(1, 9), empty=True), "[]", ()),
    (Choices(("a",), needed=False), "[]", ()),
]


@pytest.mark.parametrize(("rule", "text", "value"), GOOD)
def test_what_rules_take(rule: Rule, text: str, value: object) -> None:
    assert parse_table(f"x = {text}", "x").read({"x": rule}) == {"x": value}


@pytest.mark.parametrize(
    ("rule", "text", "said"),
    [
        (Flag(), "1000000", "x must be true or false, not 1000000."),
        (Whole(0, 5), "true", "x must be a whole number from 0 to 5, not true."),
        (Whole(0, 5), "1.0", "not 1.0."),
        (Number(0, 5, "mm"), "nan", "x must be a number from 0 to 5 mm, not nan."),
        (Number(0, 5), "inf", "not inf."),
        (Number(0, 5), "1979-05-27", "not 1979-05-27."),
        (Number(0, 5), "[{}]", "not a list."),
        (Number(0, 5), "{}", "not a table."),
        (Above(5), "0", "x must be a number above 0 and up to 5, not 0."),
        (Text(), '"' + "a" * 5000 + '"', f"not '{'a' * 40}...'."),
        (Text(), '"a\\nb"', "text in quotes, on one line"),
        (Text(), '" "', "not ' '."),
        (FreeText(most=3), '"abcd"', "of at most 3 characters, not 'abcd'."),
        (Choice(("a", "b")), '"c"', 'x must be one of "a", "b", not \'c\'.'),
        (Moment(), "2026-12-01", "like 2026-12-01T08:00:00, without a zone, not 2026"),
        (Moment(), "2026-12-01T08:00:00Z", "not 2026-12-01T08:00:00+00:00."),
        (Moment(), "08:00:00", "not 08:00:00."),
        (ListOf(Moment()), "3", "x must be a list of at most 1000, each a date and"),
        (ListOf(Whole(0, 9)), "[1, 2, 10]", "x[3] must be a whole number from 0 to 9"),
        (ListOf(Whole(0, 9), most=2), "[1, 2, 3]", "a list of at most 2"),
        (MapOf(Whole(0, 9)), "{ 'a b' = 1.5 }", "x.a b must be a whole number"),
        (MapOf(ListOf(Whole(0, 9))), "{ a = [1, 'b'] }", "x.a[2] must be a whole"),
        (MapOf(Whole(0, 9), most=1), "{ a = 1, b = 1 }", "a table of at most 1 names"),
        (Rising(Whole(1, 9)), "[3, 3]", "a list of rising numbers"),
    ],
)
def test_what_rules_refuse(rule: Rule, text: str, said: str) -> None:
    message = refused(f"y = 1\nx = {text}", x=rule, y=Whole(1, 1))
    assert said in message
    assert "line 2: x" in message
    assert not PYTHON_WORDS.search(message.replace("a date", "")), message


def test_what_is_left_out_takes_its_default_or_is_asked_for() -> None:
    rules: dict[str, Rule] = {
        "a": Moment(needed=False),
        "b": ListOf(Moment()),
        "c": MapOf(Whole(0, 9)),
        "d": FreeText(default="x"),
        "e": Number(0, 1, needed=False),
        "f": OrNone(Text()),
    }
    found = parse_table("", "x").read(rules)
    assert found == {"a": None, "b": (), "c": {}, "d": "x", "e": None, "f": None}
    said = refused("", start=Moment())
    assert "line 1: start is missing; give a date and time like 2026" in said


def test_a_key_that_is_not_known_is_named_with_those_like_it() -> None:
    rules: dict[str, Rule] = {"tip_mm": Number(0, 1), "inlet_bar": Number(0, 1)}
    assert refused("tip = 1", **rules).endswith(
        "tip is not known; take one of tip_mm, inlet_bar."
    )
    many: dict[str, Rule] = {
        f"{word}_{n}": Flag(needed=False)
        for word in ("colour", "shelf")
        for n in "abcdef"
    } | {f"thickness_{n}": Flag(needed=False) for n in range(30)}
    said = refused("colour_z = 1", **many)
    assert "colour_z is not known; take one of colour_" in said
    assert "or 39 others." in said


def test_long_names_are_cut() -> None:
    key = "k" * 5000
    assert "kkk... is not known" in refused(f"{key} = 1")
    with pytest.raises(TableError) as caught:
        parse_table("a = 1", "n" * 5000).read({})
    assert len(str(caught.value)) <= 300


def test_lists_of_tables() -> None:
    top = parse_table("[[breaks]]\na = 1\n[[breaks]]\na = 2\n", "x")
    second = top.tables("breaks")[1]
    assert second.read({"a": Whole(0, 9)}) == {"a": 2}
    with pytest.raises(TableError, match=r"line 4: breaks\[2\]\.a must be"):
        second.read({"a": Flag()})
    with pytest.raises(TableError, match="breaks has 2 tables; leave at most 1"):
        top.tables("breaks", most=1)
    with pytest.raises(TableError, match="must be a list of tables, each under"):
        parse_table("breaks = 1", "x").tables("breaks")
    with pytest.raises(TableError, match=r"pick must be a table, under \[pick\]"):
        parse_table("pick = 1", "x").table("pick")
    assert isinstance(parse_table("[pick]", "x").table("pick"), Table)
    assert parse_table("", "x").table("pick") is None


# Lines


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ((), 1),
        (("a",), 2),
        (("b",), 3),
        (("d",), 7),
        (("t",), 9),
        (("t", "x"), 10),
        (("t", "in", "y"), 11),
        (("t", "none"), 9),
        (("t", "in", "none"), 11),
        (("none",), 1),
        (("list", 0, "z"), 13),
        (("list", 1), 14),
        (("list", 1, "z"), 15),
        (("list", 2), 12),
        (("list", 1, "none"), 14),
        (("late", "x"), 17),
        (("quoted key", "e.f"), 19),
        (("dotted", "deep", "k"), 21),
    ],
)
def test_lines_of_keys(key: tuple[str | int, ...], line: int) -> None:
    text = """# 1
a = 1
b = [
  "a = 2", # 4
  "t",
]
d = '''
x = 9 '''
[t]
x = 1 # x = 2
in = { y = 2 }
[[list]]
z = 1
[[list]]
z = 2
[late]
x = 3
["quoted key"]
"e.f" = 1
[dotted]
deep . k = 1
"""
    assert Source(text, "", TableError).line_of(key) == line


VALUES = st.recursive(
    st.integers(-9, 9) | st.text(alphabet="a\n\"'[]{}=#,.\\ ", max_size=6),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text(alphabet='a.b "\n=', max_size=3), inner, max_size=3)
    ),
    max_leaves=12,
)


def held(value: object, key: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """All keys of nested tables and lists."""
    found = {key} if key else set()
    items: Any = ()
    if isinstance(value, dict):
        items = value.items()
    elif isinstance(value, list):
        items = enumerate(value)
    for part, item in items:
        found |= held(item, (*key, part))
    return found


@SOME
@given(st.dictionaries(st.text(alphabet="ab. \"'\n", max_size=4), VALUES, max_size=5))
def test_each_key_of_any_toml_has_a_line(values: dict[str, Any]) -> None:
    """The parser of the standard library says which keys there are."""
    text = tomli_w.dumps(values, multiline_strings=True)
    lines = key_lines(text)
    assert set(lines) == held(tomllib.loads(text))
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())
