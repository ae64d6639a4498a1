"""Kinds of job, and what is done otherwise in each."""

from typing import Final

from shadecore.job.own_steps import StepChange
from shadecore.job.step_sets import step_sets

PANELS: Final = "panels"
WHOLE_CAR: Final = "whole_car"
SPOT_REPAIR: Final = "spot_repair"
EDGES_FIRST: Final = "edges_first"
TWO_TONE: Final = "two_tone"
RE_CLEAR: Final = "re_clear"
KINDS: Final = (PANELS, WHOLE_CAR, SPOT_REPAIR, EDGES_FIRST, TWO_TONE, RE_CLEAR)
"""All but the first are sets of ``data/step-sets.toml``."""
BOOTH: Final = "booth"
OPEN_SHOP: Final = "open_shop"
PLACES: Final = (BOOTH, OPEN_SHOP)
"""Where it is sprayed."""


MASKED: Final = ("mask", "unmask")
"""Steps that a job of panels has beside the usual ones, as every other kind does."""


def kind_changes(kind: str) -> tuple[StepChange, ...]:
    """What a kind of job does otherwise than the usual one.

    Parameters
    ----------
    kind : str
        One of ``KINDS``.

    Returns
    -------
    tuple of StepChange
        A shop's own changes go on top.
    """
    if kind == PANELS:
        return tuple(StepChange(key) for key in MASKED)
    return step_sets()[kind].changes
