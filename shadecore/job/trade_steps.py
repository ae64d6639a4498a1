"""Steps that a job may have beside the usual ones, of ``data/trade-steps.toml``."""

from dataclasses import dataclass
from functools import cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.toml_lists import Choices, Rising
from shadecore.formats.toml_rules import Choice, Text, Whole
from shadecore.formats.toml_table import Rule, read_table
from shadecore.products.grits import FINEST_GRIT
from shadecore.products.product import HAZARDS, KINDS
from shadecore.products.ranges import WAIT_MIN, WORK_MIN

_FILE: Final = "trade-steps.toml"


@dataclass(frozen=True)
class TradeStep:
    """A step of the trade, whatever the products.

    Attributes
    ----------
    key : str
        Its name in the file.
    title, purpose, check : str
        What is done, what for, and what to check before going on.
    after : str
        Key of the usual step it follows.
    work_min, wait_min : float
        Hands-on time, and the time after it before the next step. [min]
    grits : tuple of int
        P grits, coarse first.
    hazards : tuple of str
        Of ``shadecore.products.product.HAZARDS``.
    source : str
        Where all this is from.
    kind : str
        Kind of product that it uses, where the sheet has one; empty for none.
    """

    key: str
    title: str
    purpose: str
    check: str
    after: str
    work_min: float
    wait_min: float
    grits: tuple[int, ...]
    hazards: tuple[str, ...]
    source: str
    kind: str = ""


_RULES: Final[dict[str, Rule]] = {
    "title": Text(),
    "purpose": Text(),
    "check": Text(),
    "after": Text(),
    "work_min": WORK_MIN.rule(needed=False, default=0.0),
    "wait_min": WAIT_MIN.rule(needed=False, default=0.0),
    "grits": Rising(Whole(1, FINEST_GRIT), needed=False),
    "hazards": Choices(HAZARDS, needed=False),
    "source": Text(),
    "kind": Choice(("", *KINDS), needed=False, default=""),
}


@cache
def trade_steps() -> dict[str, TradeStep]:
    """All of them by their key.

    Returns
    -------
    dict of str to TradeStep

    Raises
    ------
    JobError
        If the file cannot be used.
    """
    found = {}
    for key, table in read_table(data_file(_FILE), JobError).each_table():
        found[key] = TradeStep(key, **table.read(_RULES))
    return found
