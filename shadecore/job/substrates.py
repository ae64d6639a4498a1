"""What panels are made of or covered with, and what follows from that."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.echo import choices, shown
from shadecore.formats.toml_lists import Choices, Rising
from shadecore.formats.toml_rules import Choice, ListOf, Text, Whole
from shadecore.formats.toml_table import Rule, read_table
from shadecore.job.own_steps import StepChange
from shadecore.job.steps import USUAL_KEYS
from shadecore.job.trade_steps import trade_steps
from shadecore.products.grits import FINEST_GRIT
from shadecore.products.materials import panels
from shadecore.products.product import KINDS
from shadecore.products.ranges import WITHIN_H

_SUBSTRATES: Final = "substrates.toml"
_SENTENCES: Final = ListOf(Text())


@dataclass(frozen=True)
class Substrate:
    """What a panel is made of or covered with.

    Attributes
    ----------
    key, name : str
        Its name in ``data/substrates.toml``, and what it is called.
    first, never, ask : tuple of str
        What it needs first, what must not go on it, and what is asked of the data
        sheets: sentences.
    primer : str
        Kind of product that it gets first where it is bare; empty where none.
    steps : tuple of str
        Keys of the trade's steps that it needs.
    grits : tuple of int
        P grits before the surfacer, coarse first.
    source : str
        Where all this is from.
    forbids : tuple of str
        Keys of steps that are never planned on it.
    careful : tuple of str
        Keys of steps that only a product made for it may do.
    usual_on : tuple of str
        Keys of panels that are taken to be of it where nobody says.
    coat_within_h : float or None
        Time within which it is coated once it is sanded; None where it may wait. [h]
    """

    key: str
    name: str
    first: tuple[str, ...]
    never: tuple[str, ...]
    ask: tuple[str, ...]
    primer: str
    steps: tuple[str, ...]
    grits: tuple[int, ...]
    source: str
    forbids: tuple[str, ...] = ()
    careful: tuple[str, ...] = ()
    usual_on: tuple[str, ...] = ()
    coat_within_h: float | None = None


@cache
def substrates() -> dict[str, Substrate]:
    """All substrates by their key.

    Returns
    -------
    dict of str to Substrate

    Raises
    ------
    JobError
        If the file cannot be used.
    """
    steps = (*USUAL_KEYS, *trade_steps())
    rules: dict[str, Rule] = {
        "name": Text(),
        "first": _SENTENCES,
        "never": _SENTENCES,
        "ask": _SENTENCES,
        "primer": Choice(("", *KINDS)),
        "steps": Choices(tuple(trade_steps())),
        "grits": Rising(Whole(1, FINEST_GRIT)),
        "source": Text(),
        "forbids": Choices(steps, needed=False),
        "careful": Choices(steps, needed=False),
        "usual_on": Choices(tuple(each.key for each in panels()), needed=False),
        "coat_within_h": WITHIN_H.rule(needed=False),
    }
    found = {}
    for key, table in read_table(data_file(_SUBSTRATES), JobError).each_table():
        found[key] = Substrate(key, **table.read(rules))
    return found


def substrates_of(keys: Iterable[str]) -> tuple[Substrate, ...]:
    """Some substrates, each once, in the order of the file.

    Parameters
    ----------
    keys : iterable of str
        Their keys, in any order.

    Returns
    -------
    tuple of Substrate

    Raises
    ------
    JobError
        If one is not known.
    """
    asked = set(keys)
    unknown = sorted(asked.difference(substrates()))
    if unknown:
        message = (
            f"There is no substrate {shown(unknown[0])}; take one of "
            f"{choices(substrates(), unknown[0])}."
        )
        raise JobError(message)
    return tuple(each for key, each in substrates().items() if key in asked)


def substrate_changes(
    found: Iterable[tuple[str, tuple[Substrate, ...]]],
) -> tuple[StepChange, ...]:
    """Steps that a job needs for its substrates.

    Parameters
    ----------
    found : iterable of (str, tuple of Substrate)
        Those of its panels, by the panel's key.

    Returns
    -------
    tuple of StepChange
        Each of the trade's steps once, for the panels that need it.
    """
    asked: dict[str, list[str]] = {key: [] for key in trade_steps()}
    for panel, there in found:
        for step in dict.fromkeys(key for each in there for key in each.steps):
            asked[step].append(panel)
    return tuple(
        StepChange(key, panels=tuple(where)) for key, where in asked.items() if where
    )
