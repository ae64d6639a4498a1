"""What is worked out for a job before its steps: undercoats and coats."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from shadecore.coats.answer import Answer
from shadecore.job.choice import Choice, choose
from shadecore.job.kinds import RE_CLEAR, SPOT_REPAIR, TWO_TONE
from shadecore.job.left_out import LeftOut, left_out
from shadecore.job.on_top import SEALED, OnTop
from shadecore.job.own_prices import named_sheet
from shadecore.job.request import JobRequest
from shadecore.job.spot import SpotRepair, plan_spot
from shadecore.job.two_tone import TwoTone, plan_two_tone
from shadecore.products.product import ProductSheet
from shadecore.undercoats.shelf import Shelf

SECOND_COLOUR: Final = "Second colour"
"""What the mixes of a two-tone's second colour are called."""


@dataclass(frozen=True)
class Picked:
    """What was worked out for a job before its steps.

    Attributes
    ----------
    choice : Choice or None
        Undercoat and coats; None where no colour is sprayed.
    spot : SpotRepair or None
        Of a spot repair.
    two_tone : TwoTone or None
        Of a two-tone.
    left_out : LeftOut or None
        Whether the sealer may be left out; None where nobody said what colour the old
        finish has.
    """

    choice: Choice | None
    spot: SpotRepair | None = None
    two_tone: TwoTone | None = None
    left_out: LeftOut | None = None

    @property
    def coats(self) -> int:
        """Coats of colour; 1 where none is sprayed, since its step is dropped."""
        if self.spot is not None:
            return self.spot.coats
        return 1 if self.choice is None else self.choice.coats

    @property
    def undercoat(self) -> str:
        """Name of the undercoat; empty where none is sprayed."""
        sealed = self.choice is not None and self.choice.sealed
        return self.choice.undercoat.name if self.choice and sealed else ""

    @property
    def sealers(self) -> Mapping[str, Choice]:
        """What is chosen for each mix of the sealer."""
        chosen = {} if self.choice is None else {"": self.choice}
        if self.two_tone is not None:
            chosen[SECOND_COLOUR] = self.two_tone.second
        return chosen

    def named(self, sheet: ProductSheet, shelf: Shelf) -> ProductSheet:
        """The product sheet, its sealer called as the shop's own can is.

        Parameters
        ----------
        sheet : ProductSheet
            The products.
        shelf : tuple of Undercoat
            The shelf.

        Returns
        -------
        ProductSheet
        """
        taken = (each.undercoat for each in self.sealers.values() if each.sealed)
        return named_sheet(sheet, taken, shelf)


NOTHING_PICKED: Final = Picked(None)


def picked_for(
    request: JobRequest, sheet: ProductSheet, answer: Answer, top: OnTop = SEALED
) -> Picked:
    """Undercoats and coats, as the kind of job asks for them.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.
    answer : Answer
        The pick.
    top : OnTop
        What the job's steps leave on top before the colour.

    Returns
    -------
    Picked

    Raises
    ------
    JobError
        If a colour does not hide, or an undercoat is not known.
    """
    if request.kind == RE_CLEAR:
        return Picked(None)
    choice = choose(request, answer, top)
    without = left_out(request, answer, choice)
    if request.kind == TWO_TONE:
        two = plan_two_tone(request, sheet, choice, top)
        return Picked(choice, two_tone=two, left_out=without)
    if request.kind != SPOT_REPAIR:
        return Picked(choice, left_out=without)
    spot = plan_spot(request, sheet, answer, choice)
    return Picked(replace(choice, coats=spot.coats), spot, left_out=without)
