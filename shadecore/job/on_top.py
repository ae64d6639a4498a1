"""What the colour is sprayed over: what the last coat before it leaves on top."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from shadecore.job.steps import Step
from shadecore.products.product import ProductSheet

SEALER: Final = "sealer"
SURFACER: Final = "surfacer"
OLD: Final = ""
"""Stands for the finish that is there, where nothing is sprayed before the colour."""
EDGES: Final = "_9"
"""Ends the keys of steps on edges and jambs."""


@dataclass(frozen=True)
class OnTop:
    """What lies on top when the colour is sprayed.

    Attributes
    ----------
    kind : str
        Kind of product, or ``OLD``.
    in_part : bool
        Whether it lies on some panels only, so that something else shows beside it.
    """

    kind: str
    in_part: bool = False


SEALED: Final = OnTop(SEALER)


def on_top(steps: Sequence[Step], sheet: ProductSheet, *, sealed: bool) -> OnTop:
    """What lies on top when the colour is sprayed.

    Parameters
    ----------
    steps : sequence of Step
        Of the job, in the order they are done.
    sheet : ProductSheet
        The products.
    sealed : bool
        Whether the job takes a sealer at all.

    Returns
    -------
    OnTop
        Of the outsides: edges and jambs have a sealer of their own.
    """
    kinds = {each.key: each.kind for each in sheet.products}
    found = OnTop(OLD)
    for step in steps:
        kind = kinds.get(step.product or "", "")
        if step.key.endswith(EDGES) or not step.coats:
            continue
        if kind == "base_coat":
            break
        if kind == SEALER and not sealed:
            continue
        found = OnTop(kind, in_part=bool(step.panels))
    return found
