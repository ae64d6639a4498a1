"""A question read back from plain values, with what could not be used."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any, NamedTuple, TypeVar

from shadecore.card.card_table import parse_card
from shadecore.card.reading import Card
from shadecore.coats.cost import Rates
from shadecore.coats.loading import Loading
from shadecore.coats.seen import Seen
from shadecore.coats.seen_table import Noted, parse_seen
from shadecore.colour.angle_text import read_angles
from shadecore.colour.angles import AngleReadings
from shadecore.colour.condition import WORKING, Condition
from shadecore.errors import ShadecoreError, sentence
from shadecore.formats.echo import shown
from shadecore.formats.toml_table import Wrong
from shadecore.question.photo_line import read_photo_line
from shadecore.question.plain import MEASURED_CARD, PLAIN
from shadecore.question.question import FilmAsked, Mixing, Question
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf, parse_shelf

_Part = TypeVar("_Part")


class Read(NamedTuple):
    """A question that was read.

    Attributes
    ----------
    question : Question
        With what is usual in the place of what could not be used.
    problems : tuple of str
        What could not be used: a sentence each.
    """

    question: Question
    problems: tuple[str, ...]


def from_plain(values: Mapping[str, object]) -> Read:
    """Read a question from plain values; names that are not its own are passed over.

    Parameters
    ----------
    values : mapping of str to object
        What is left out is as usual.

    Returns
    -------
    Read
    """
    problems: list[str] = []
    known = _checked(values, problems)
    condition = Condition(known["illuminant"], known["observer"], known["specular"])
    shelf = _shelf(known["shelf"], problems)
    film = {each.name: known.get(each.name) for each in fields(FilmAsked)}
    question = Question(
        colour=known["colour"],
        kind=known["kind"],
        angles=_part("angles", lambda: _angles(known["angles"]), None, problems),
        condition=condition,
        photo=_part(
            "photo",
            lambda: read_photo_line(known["photo"], known["colour"]),
            None,
            problems,
        ),
        tolerance=known["tolerance"],
        film=FilmAsked(**{**film, "dry_film_um": known["film_um"]}),
        coat_cap=known["coat_cap"],
        film_limit_um=known["film_limit_um"],
        usual_coats=known["usual_coats"],
        shelf=shelf,
        mixing=Mixing(known["blends"], known["strength"]),
        card=_card(known["test_card"], values.get(MEASURED_CARD), condition, problems),
        seen=_seen(known["seen"], shelf, problems),
        loading=Loading(
            known["loading_mean"],
            known["loading_spread"],
            known["loading_jobs"],
            known["loading_of"],
        ),
        areas=tuple(name for name in known["areas"].split("\n") if name),
        rates=Rates(**{each.name: known[each.name] for each in fields(Rates)}),
        units=known["units"],
    )
    return Read(question, tuple(problems))


def _checked(values: Mapping[str, object], problems: list[str]) -> dict[str, Any]:
    """A value for each name: the one given where it may be, else the usual one."""
    known: dict[str, Any] = {}
    for each in PLAIN:
        known[each.name] = each.usual
        if each.name in values:
            try:
                known[each.name] = each.read(values[each.name])
            except Wrong:
                given = shown(values[each.name])
                usual = "what is usual" if each.ends is None else f"{each.usual:g}"
                problems.append(
                    f"{each.name} is {given} and must be {each.expected}; {usual} is "
                    "taken instead."
                )
    return known


def _part(
    name: str, read: Callable[[], _Part], otherwise: _Part, problems: list[str]
) -> _Part:
    try:
        return read()
    except ShadecoreError as error:
        problems.append(sentence(f"{name} cannot be used: {error}"))
        return otherwise


def _angles(line: str) -> AngleReadings | None:
    return read_angles(line) if line else None


def _shelf(text: str, problems: list[str]) -> Shelf:
    if not text:
        return demo_shelf()
    nothing: tuple[Shelf, tuple[object, ...]] = (demo_shelf(), ())
    shelf, bad = _part(
        "shelf", lambda: parse_shelf(text, "The shelf"), nothing, problems
    )
    problems.extend(sentence(f"The shelf, {row}") for row in bad)
    return shelf


def _seen(text: str, shelf: Shelf, problems: list[str]) -> tuple[Seen, ...]:
    if not text:
        return ()
    nothing: tuple[Noted, ...] = ()
    noted = _part(
        "seen", lambda: parse_seen(text, "The records", shelf), nothing, problems
    )
    return tuple(each.seen for each in noted)


def _card(
    text: str, measured: object, condition: Condition, problems: list[str]
) -> Card | None:
    """The card, as it is kept or as an older job file has it."""
    if not text and isinstance(measured, str) and measured:
        return _part(
            MEASURED_CARD,
            lambda: parse_card(measured, "The card", condition),
            None,
            problems,
        )
    if not text:
        return None
    return _part(
        "test_card", lambda: parse_card(text, "The card", WORKING), None, problems
    )
