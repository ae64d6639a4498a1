"""A shop's own steps: added, moved, dropped, renamed."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Final

from shadecore.errors import JobError
from shadecore.formats.echo import choices, shown
from shadecore.job.sides import piece_names
from shadecore.job.step_places import once, place_of
from shadecore.job.steps import USUAL_KEYS, Step, hazards_of, spray_min, usual_step
from shadecore.job.trade_steps import TradeStep, trade_steps
from shadecore.job.usual_steps import LONGEST_KEY
from shadecore.products.grits import FINEST_GRIT
from shadecore.products.product import SPRAYED, Product, ProductSheet
from shadecore.products.ranges import COATS, WAIT_MIN, WITHIN_H, WORK_MIN

MOST_STEPS: Final = 500
"""Of one job; this tool's own limit."""
_KEY: Final = re.compile(r"[a-z][a-z0-9_]{0,39}")
MOST_TITLE: Final = 80
_MOST_TEXT: Final = 300


@dataclass(frozen=True)
class StepChange:
    """What a shop does otherwise at one step.

    Whatever is None stays as it is.

    Attributes
    ----------
    key : str
        The step's: of a usual step, of one in ``data/trade-steps.toml``, or a new one.
        A number after it, as in ``mask_2``, is the same once more.
    drop : bool
        Whether the step is left out.
    after : str or None
        Key of the step it comes after; ``FIRST`` for none. After a step that nobody
        knows it comes last.
    title, purpose, check : str or None
        What is done, what for, and what to check before going on.
    work_min : float or None
        Hands-on time. [min]
    wait_min : float or None
        Before the next step may start, at the sheet's reference temperature. [min]
    within_h : float or None
        Within which the next step must start. [h]
    grits : tuple of int or None
        P grits, coarse first; empty where nothing is sanded.
    product : str or None
        Key of the product in the sheet; empty where none is used.
    coats : int or None
        Coats of it.
    panels : tuple of str or None
        Keys of the panels that it is for, with or without their side; empty for all.

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    key: str
    drop: bool = False
    after: str | None = None
    title: str | None = None
    purpose: str | None = None
    check: str | None = None
    work_min: float | None = None
    wait_min: float | None = None
    within_h: float | None = None
    grits: tuple[int, ...] | None = None
    product: str | None = None
    coats: int | None = None
    panels: tuple[str, ...] | None = None

    def __post_init__(self) -> None:
        if not _KEY.fullmatch(self.key):
            message = (
                f"The step's key {shown(self.key)} must be of small letters, digits "
                "and _, at most 40 of them."
            )
            raise JobError(message)
        for name, most in CHANGE_TEXTS.items():
            self._check_text(name, getattr(self, name), most)
        for name, limits in CHANGE_RANGES.items():
            value = getattr(self, name)
            if value is not None:
                limits.check(value, f"{name} of the step {self.key!r}")
        self._check_grits()
        known = piece_names()
        unknown = next((each for each in self.panels or () if each not in known), None)
        if unknown is not None:
            message = (
                f"The step {self.key!r} names the panel {shown(unknown)}, which is "
                f"none; take one of {choices(known, unknown)}."
            )
            raise JobError(message)

    def _check_text(self, name: str, text: str | None, most: int) -> None:
        if text is None:
            return
        blank = name == "title" and not text
        fits = text.isprintable() and text == text.strip() and len(text) <= most
        if blank or not fits:
            message = (
                f"The {name} of the step {self.key!r} must be on one line, of at most "
                f"{most} characters and without blanks about it."
            )
            raise JobError(message)

    def _check_grits(self) -> None:
        grits = self.grits or ()
        rises = all(coarse < fine for coarse, fine in pairwise(grits))
        if not rises or not all(1 <= grit <= FINEST_GRIT for grit in grits):
            message = (
                f"The grits of the step {self.key!r} must rise from P1 to "
                f"P{FINEST_GRIT}; put the coarse one first."
            )
            raise JobError(message)


CHANGE_TEXTS: Final = {
    "after": LONGEST_KEY,
    "product": 80,
    "title": MOST_TITLE,
    "purpose": _MOST_TEXT,
    "check": _MOST_TEXT,
}
CHANGE_RANGES: Final = {
    "work_min": WORK_MIN,
    "wait_min": WAIT_MIN,
    "within_h": WITHIN_H,
    "coats": COATS,
}
_TOLD: Final = (
    *("title", "purpose", "check", "work_min", "wait_min", "within_h"),
    "panels",
)
"""What a step takes over as it is told."""


def changed_steps(
    steps: Sequence[Step], changes: Iterable[StepChange], sheet: ProductSheet
) -> tuple[Step, ...]:
    """Steps of a job as a shop does them.

    Parameters
    ----------
    steps : sequence of Step
        As :func:`shadecore.job.steps.job_steps` gives them.
    changes : iterable of StepChange
        Made one after the other. What names a step that this job does not have is
        passed over where it drops it, and goes to the nearest place before it where it
        comes after it: a set of changes is made for many jobs.
    sheet : ProductSheet
        The products.

    Returns
    -------
    tuple of Step

    Raises
    ------
    JobError
        If a new step has no title, a step or product is not known, or there are over
        500 steps.
    """
    found = list(steps)
    for change in changes:
        place = next(
            (n for n, each in enumerate(found) if each.key == change.key), None
        )
        if change.drop:
            if place is not None:
                del found[place]
            continue
        step = _new(change, sheet, found) if place is None else found[place]
        step = _with(step, change, sheet)
        if place is not None and change.after is None:
            found[place] = step
            continue
        if place is not None:
            del found[place]
        found.insert(place_of(change.key, change.after, found), step)
        if len(found) > MOST_STEPS:
            message = f"The job has more than {MOST_STEPS} steps; drop some."
            raise JobError(message)
    return tuple(found)


def _new(change: StepChange, sheet: ProductSheet, steps: Sequence[Step]) -> Step:
    """A step that the job does not have yet."""
    first = once(change.key)
    # Once more means as it is done in this job, with the coats that were counted.
    same = next((each for each in steps if each.key == first), None)
    if same is not None:
        return replace(same, key=change.key)
    for key in (change.key, first):
        if key in USUAL_KEYS:
            return replace(usual_step(key, sheet), key=change.key)
    trade = trade_steps().get(first)
    if trade is not None:
        return _by_sheet(_of_trade(change.key, trade), trade.kind, sheet)
    if not change.title:
        message = f"The new step {change.key!r} has no title; give it one."
        raise JobError(message)
    return _bare(change.key)


def trade_step(name: str, key: str) -> Step:
    """A step of the trade by itself.

    Parameters
    ----------
    name : str
        What it is called in ``data/trade-steps.toml``.
    key : str
        What it is called in the job.

    Returns
    -------
    Step
    """
    return _of_trade(key, trade_steps()[name])


def _bare(key: str) -> Step:
    return Step(key, "", "", None, None, (), None, 0, 0.0, "", 0.0, ())


def _by_sheet(step: Step, kind: str, sheet: ProductSheet) -> Step:
    """A step with its product, where the sheet has one; else that is asked for."""
    product = next((each for each in sheet.products if each.kind == kind), None)
    if product is None:
        return step
    used = replace(step, **_used(product))
    return replace(
        used,
        work_min=spray_min(used.coats) if used.coats else used.work_min,
        # Its own window says when the next coat may follow.
        wait_min=0.0,
        cautions=hazards_of(product, step.grits),
    )


def _of_trade(key: str, trade: TradeStep) -> Step:
    return replace(
        _bare(key),
        title=trade.title,
        purpose=trade.purpose,
        check=trade.check,
        work_min=trade.work_min,
        wait_min=trade.wait_min,
        grits=trade.grits,
        grit=trade.grits[-1] if trade.grits else None,
        cautions=hazards_of(None, trade.grits, trade.hazards),
    )


def _with(step: Step, change: StepChange, sheet: ProductSheet) -> Step:
    """A step with what a shop does otherwise."""
    told = {
        name: getattr(change, name)
        for name in _TOLD
        if getattr(change, name) is not None
    }
    if change.grits is not None:
        told |= {"grits": change.grits, "grit": max(change.grits, default=None)}
    if change.product is not None:
        told |= _with_product(change, sheet)
    if change.coats is not None:
        told["coats"] = change.coats
    changed = replace(step, **told)
    product = _product(changed.product or "", sheet)
    sprayed = product is not None and product.kind in SPRAYED
    if not sprayed and changed.coats:
        message = f"The step {step.key!r} sprays nothing; give it no coats."
        raise JobError(message)
    if sprayed and change.work_min is None and (change.coats or change.product):
        changed = replace(changed, work_min=spray_min(changed.coats))
    if change.grits is not None or change.product is not None:
        own = () if change.product is not None else step.cautions
        changed = replace(changed, cautions=hazards_of(product, changed.grits, own))
    return changed


def _with_product(change: StepChange, sheet: ProductSheet) -> dict[str, Any]:
    product = _product(change.product or "", sheet)
    if product is None:
        return {"product": None, "gun": None, "coats": 0, "flash_min": 0.0}
    return _used(product)


def _used(product: Product) -> dict[str, Any]:
    """What a step takes over from its product."""
    sprayed = product.kind in SPRAYED
    return {
        "product": product.key,
        "gun": product.gun,
        "coats": product.coats if sprayed else 0,
        "flash_min": product.windows.flash_min if sprayed else 0.0,
    }


def _product(key: str, sheet: ProductSheet) -> Product | None:
    if not key:
        return None
    by_key = {each.key: each for each in sheet.products}
    if key not in by_key:
        message = (
            f"{sheet.name} has no product {shown(key)}; take one of "
            f"{', '.join(by_key)}."
        )
        raise JobError(message)
    return by_key[key]
