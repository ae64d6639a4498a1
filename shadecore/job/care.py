"""What every sprayed coat brings with it: the gun is cleaned, and clear is cured.

These steps follow from what is sprayed, so that no set of steps can leave them out of
their place. That a gun is cleaned as soon as a two-pack paint is through, and that tape
comes off warm after baking or a lamp but before a film cures in air, are common
practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Final

from shadecore.job.between import MASK_FOR_PRIMER
from shadecore.job.own_steps import StepChange, trade_step
from shadecore.job.step_places import once
from shadecore.job.steps import Step, hazards_of, usual_step
from shadecore.job.usual_steps import (
    CLEAN,
    CLEAR,
    CURE,
    LONGEST_KEY,
    UNMASK,
    clean_key,
    is_clean,
    is_cure,
)
from shadecore.products.product import Product, ProductSheet

CURE_TITLES: Final = {
    "bake": "Bake the clear",
    "lamp": "Cure the clear under the lamp",
    "air": "Let the clear cure in air",
}
"""What the step is called, by how the clear cures."""


def two_pack(product: Product) -> bool:
    """Whether a product hardens in the pot, and so in the gun.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    bool
    """
    hardens = product.pot_life_min is not None or bool(product.hardeners)
    return hardens or "isocyanate" in product.hazards


def with_care(
    steps: Sequence[Step], sheet: ProductSheet, cure: str, own: Sequence[StepChange]
) -> tuple[Step, ...]:
    """Steps with a cleaning after each two-pack paint and a cure after each clear.

    Parameters
    ----------
    steps : sequence of Step
        In the order they are done; those that are there already are put in place.
    sheet : ProductSheet
        The products.
    cure : str
        One of :data:`shadecore.job.climate.CURES`.
    own : sequence of StepChange
        The shop's; what they drop stays out.

    Returns
    -------
    tuple of Step
    """
    products = {each.key: each for each in sheet.products}
    brought = {
        key
        for each in steps
        if (product := products.get(each.product or "")) is not None and each.coats
        for key in _keys(each, product)
    }
    dropped = {each.key for each in own if each.drop}
    there = {each.key: each for each in steps if each.key in brought}
    named = {each.key for each in own if not each.drop}
    # What followed from a coat that is dropped goes with it.
    rest = [
        each
        for each in steps
        if each.key not in brought
        and (each.key in named or not (is_clean(each.key) or is_cure(each.key)))
    ]
    if not any(each.key == UNMASK and each.after is not None for each in own):
        rest = _unmasked_last(rest, products)
    found: list[Step] = []
    waiting: Step | None = None
    for step, after in zip(rest, (*rest[1:], None), strict=True):
        product = products.get(step.product or "")
        if product is None or not step.coats:
            found.append(step)
        else:
            goes_on = (
                after is not None and after.coats > 0 and after.product == step.product
            )
            clean = there.get(clean_key(step.key)) or _clean(step, product)
            cleaned = two_pack(product) and not goes_on and clean.key not in dropped
            room_min = clean.work_min if cleaned else 0.0
            found.append(replace(step, room_min=room_min))
            found += [clean] if cleaned else []
            key = _cure_key(step)
            if product.kind == CLEAR and not goes_on and key not in dropped:
                waiting = _cure(there.get(key), key, sheet, cure)
        off = after is not None and once(after.key) == UNMASK
        if waiting is not None and not (cure == "air" and off):
            found.append(waiting)
            waiting = None
    return tuple(found)


def as_it_was_done(
    steps: Sequence[Step], done: Mapping[str, datetime]
) -> tuple[Step, ...]:
    """Steps of a job that was begun when its guns were cleaned at another time.

    Parameters
    ----------
    steps : sequence of Step
        As :func:`with_care` gives them.
    done : mapping of str to datetime
        When steps were finished, by their key.

    Returns
    -------
    tuple of Step
        A cleaning, cure or masking that is done stands where it was done. One that is
        not, although later steps are, comes next; it is left out where the film was
        coated or sanded meanwhile.
    """
    found = list(steps)
    # From the last one on, so that those that come next keep their order.
    for step in reversed(steps):
        # Which sanding it follows depends on what is known of the panels.
        masked = step.key == MASK_FOR_PRIMER and step.key in done
        if not (is_clean(step.key) or is_cure(step.key) or masked):
            continue
        place = found.index(step)
        later = [each for each in found[place + 1 :] if each.key in done]
        if step.key not in done and not later:
            continue
        del found[place]
        if step.key in done:
            before = [
                each.key
                for each in found
                if each.key in done and done[each.key] <= done[step.key]
            ]
            first = {each.key for each in found[:place]}
            # Of steps that were done at the same minute the order is the plan's.
            same = [key for key in before if key in first or done[key] < done[step.key]]
            found.insert(_after(found, same), step)
        elif not any(each.coats or each.grits or each.product for each in later):
            found.insert(_after(found, [each.key for each in later]), step)
    return tuple(found)


def _after(steps: Sequence[Step], keys: Sequence[str]) -> int:
    """The place after the last of some steps."""
    places = [place for place, each in enumerate(steps, 1) if each.key in keys]
    return max(places, default=0)


def _unmasked_last(steps: list[Step], products: Mapping[str, Product]) -> list[Step]:
    """Tape stays on until the last clear coat is."""
    clears = [
        place
        for place, each in enumerate(steps)
        if each.coats and products[each.product or ""].kind == CLEAR
    ]
    place = next((n for n, each in enumerate(steps) if each.key == UNMASK), None)
    if place is None or not clears or place > clears[-1] or place < clears[0]:
        return steps
    last = clears[-1] + 1
    return [*steps[:place], *steps[place + 1 : last], steps[place], *steps[last:]]


def _keys(step: Step, product: Product) -> tuple[str, ...]:
    clean = (clean_key(step.key),) if two_pack(product) else ()
    return (*clean, *((_cure_key(step),) if product.kind == CLEAR else ()))


def _cure_key(step: Step) -> str:
    which = step.key.removeprefix(CLEAR).lstrip("_")
    return f"{CURE}_{which}"[:LONGEST_KEY] if which else CURE


def _clean(step: Step, product: Product) -> Step:
    hazards = [each for each in product.hazards if each != "dust"]
    clean = trade_step(CLEAN, clean_key(step.key))
    return replace(clean, cautions=hazards_of(None, (), hazards))


def _cure(there: Step | None, key: str, sheet: ProductSheet, cure: str) -> Step:
    usual = usual_step(CURE, sheet)
    found = replace(usual, key=key) if there is None else there
    named = found.title not in {usual.title, *CURE_TITLES.values()}
    return found if named else replace(found, title=CURE_TITLES[cure])
