"""Steps that effect colours need beside the usual ones.

Tack and drop coats, let-down panels and the number of mid-coats are common practice, no
source; what the paint's data sheet says goes before them.
"""

from collections.abc import Sequence
from typing import Final

from shadecore.colour.kinds import CANDY
from shadecore.job.own_steps import StepChange
from shadecore.job.step_places import FIRST
from shadecore.products.product import ProductSheet
from shadecore.question.question import Question

PANEL: Final = "let_down_panel"
DROP: Final = "drop_coat"
MID: Final = "mid_coats"
_BASE: Final = "base_coat"
_STRIPS_MIN: Final = 60.0
"""To spray a panel of strips, beside its flashes; rule of thumb."""


def effect_changes(
    question: Question,
    coats: int,
    midcoats: int,
    sheet: ProductSheet,
    own: Sequence[StepChange],
) -> tuple[StepChange, ...]:
    """What the kind of the colour asks for.

    Parameters
    ----------
    question : Question
        With its kind.
    coats, midcoats : int
        Coats of the ground, and mid-coats or candy coats to spray over it.
    sheet : ProductSheet
        The products.
    own : sequence of StepChange
        The shop's; where they drop the base coat, nothing is asked for.

    Returns
    -------
    tuple of StepChange
        None for a solid colour.
    """
    if any(each.key == _BASE and each.drop for each in own):
        return ()
    if question.flakes:
        return _turning(sheet.of_kind(_BASE).key)
    if question.over_a_ground:
        panel_min = _STRIPS_MIN + _flashes_min(sheet, coats, midcoats)
        return _over_a_ground(
            sheet.over_ground.key, midcoats, panel_min, candy=question.kind == CANDY
        )
    return ()


def kept_together(
    changes: Sequence[StepChange], own: Sequence[StepChange]
) -> tuple[StepChange, ...]:
    """Moves that put back what a shop's own steps came in between.

    A shop's step after the base coat, such as a tape test, follows the last coat of the
    colour, and the drop coat or mid-coats belong to the colour.

    Parameters
    ----------
    changes : sequence of StepChange
        As :func:`effect_changes` gives them.
    own : sequence of StepChange
        The shop's; a step that it says something of stays where it is.

    Returns
    -------
    tuple of StepChange
    """
    told = {each.key for each in own}
    return tuple(
        StepChange(each.key, after=each.after)
        for each in changes
        if each.key in {DROP, MID} - told
    )


def _turning(product: str) -> tuple[StepChange, ...]:
    """Steps of a metallic or pearl."""
    return (
        StepChange(
            PANEL,
            after=FIRST,
            title="Spray out a card",
            purpose="Shows colour and hiding from face to flop before the car does, "
            "sprayed as the car will be.",
            check="Cleared, dry and held beside the car in daylight; compared from the "
            "face and from the flop.",
        ),
        StepChange(
            _BASE,
            title="Base coat, first coat as a tack coat",
            check="Even passes, same pressure, same distance; dull between coats. "
            "Hides from the face and from the flop before the drop coat.",
        ),
        StepChange(
            DROP,
            after=_BASE,
            title="Drop coat",
            purpose="A light last coat lets the flakes lie alike, so that no stripes "
            "or clouds show. It replaces what the thin tack coat left out.",
            check="Even passes, same pressure, last coat as a drop coat: no stripes or "
            "clouds from the face or the flop. Tape or finger test before clear.",
            product=product,
            coats=1,
        ),
    )


def _flashes_min(sheet: ProductSheet, coats: int, midcoats: int) -> float:
    """What the coats of a let-down panel dry between them, at the sheet's reference."""
    clear = sheet.of_kind("clear_coat")
    return sum(
        (count - 1) * each.windows.flash_min
        + (0.0 if each is clear else each.windows.recoat_after_min)
        for each, count in (
            (sheet.of_kind(_BASE), coats),
            (sheet.over_ground, midcoats),
            (clear, clear.coats),
        )
    )


def _over_a_ground(
    product: str, midcoats: int, panel_min: float, *, candy: bool
) -> tuple[StepChange, ...]:
    """Steps of a three-stage or candy colour."""
    name = "candy" if candy else "mid-coat"
    return (
        StepChange(
            PANEL,
            after=FIRST,
            title=f"Let-down panel: the {name} in strips",
            purpose=f"Ground, then strips with 1, 2 and more coats of {name}, all "
            "under clear: shows how many match the car.",
            check="Held to the car in daylight from face and flop; the number of coats "
            "noted for the job.",
            work_min=panel_min,
        ),
        StepChange(
            _BASE,
            title="Ground coat",
            purpose="The ground is what hides, in the counted coats; its colour shows "
            "in the finish.",
            check="Hides, even and dull, and matches the car's own ground; dry to the "
            "touch before the next coats.",
        ),
        StepChange(
            MID,
            after=_BASE,
            title="Candy coats" if candy else "Mid-coats",
            purpose="A candy never hides its ground: every coat darkens it, so the "
            "number decides the colour."
            if candy
            else "The mid-coat never hides its ground: the number of coats decides the "
            "colour.",
            check="Even passes, same pressure, every coat alike; as many coats as "
            "matched on the panel. Tape or finger test before clear.",
            product=product,
            coats=midcoats,
        ),
    )
