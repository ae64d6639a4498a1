"""Two colours on one job: which goes first, what lies under the second, the tape.

That the colour with fewer coats goes second, since its edge is then thin and the first
lies under tape for a short time, and of two alike the darker one, is common practice,
no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from shadecore.coats.answer import Answer
from shadecore.errors import JobError
from shadecore.job.choice import Choice, choose
from shadecore.job.climate import Climate
from shadecore.job.on_top import SEALED, OnTop
from shadecore.job.own_steps import MOST_TITLE, StepChange
from shadecore.job.request import AS_PICKED, JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.windows import USUAL_TAPE_MIN, Layer, closes_at
from shadecore.products.product import ProductSheet
from shadecore.question.answer import answer

FIRST: Final = "base_coat"
SECOND: Final = "base_coat_2"
SECOND_SEALER: Final = "sealer_2"
_MASKED: Final = "mask_2"


@dataclass(frozen=True)
class TwoTone:
    """The second colour of a two-tone, and how it goes with the first.

    Attributes
    ----------
    answer : Answer
        The pick for the second colour.
    second : Choice
        Its undercoat and coats.
    one_sealer : bool
        Whether the first colour's sealer serves for both.
    swap : str
        Why the second colour had better go first: ``coats`` or ``lightness``; empty
        where the order is right as it is.
    tape_min : float
        Before tape may lie on the first colour, at the sheet's reference temperature.
        [min]
    tape_told : bool
        Whether the sheet says so, or else common practice.
    """

    answer: Answer
    second: Choice
    one_sealer: bool
    swap: str
    tape_min: float
    tape_told: bool


def plan_two_tone(
    request: JobRequest, sheet: ProductSheet, first: Choice, top: OnTop = SEALED
) -> TwoTone:
    """Pick for the second colour, and hold it against the first.

    Parameters
    ----------
    request : JobRequest
        The job, with its second colour.
    sheet : ProductSheet
        The products.
    first : Choice
        Undercoat and coats of the first colour.
    top : OnTop
        What the job's steps leave on top before the colour.

    Returns
    -------
    TwoTone

    Raises
    ------
    ShadecoreError
        If there is no second colour, or it does not hide.
    """
    if request.second is None:
        message = "A two-tone needs a second colour; say which."
        raise JobError(message)
    found = answer(request.second)
    second, one_sealer = _choice(request, found, first, top)
    told = sheet.of_kind("base_coat").windows.tape_after_min
    return TwoTone(
        found,
        second,
        one_sealer,
        _swap(request, first, second, found),
        USUAL_TAPE_MIN if told is None else told,
        tape_told=told is not None,
    )


def two_tone_changes(two: TwoTone) -> tuple[StepChange, ...]:
    """Steps of a two-tone, beside those of its set.

    Parameters
    ----------
    two : TwoTone
        As :func:`plan_two_tone` gives it.

    Returns
    -------
    tuple of StepChange
    """
    sealer = StepChange(
        SECOND_SEALER,
        after=_MASKED,
        title=f"Seal the second colour's area with {two.second.undercoat.name}"[
            :MOST_TITLE
        ].strip(),
    )
    return (
        StepChange(FIRST, title="Base coat, first colour", wait_min=two.tape_min),
        # No tape has to lie on the second one: it is pulled while that is soft.
        StepChange(SECOND, coats=two.second.coats, wait_min=0.0),
        *(() if two.one_sealer else (sealer,)),
    )


def first_closes(
    timeline: Sequence[Timed], sheet: ProductSheet, climate: Climate
) -> tuple[datetime | None, bool]:
    """Until when the first colour takes clear, and whether it is cleared too late.

    It waits under tape while the second colour is sprayed beside it.

    Parameters
    ----------
    timeline : sequence of Timed
        The job's steps and their times.
    sheet : ProductSheet
        The products.
    climate : Climate
        How films dry.

    Returns
    -------
    until : datetime or None
        None where its window stays open, or it is not sprayed.
    late : bool
        Whether the first coat of clear starts after it.
    """
    by_key = {each.step.key: each for each in timeline}
    first, clear = by_key.get(FIRST), by_key.get("clear_coat")
    if first is None:
        return None, False
    until = closes_at(Layer(sheet.of_kind("base_coat"), first.end), climate)
    late = until is not None and clear is not None and clear.start > until
    return until, late


def _choice(
    request: JobRequest, found: Answer, first: Choice, top: OnTop
) -> tuple[Choice, bool]:
    """The second colour's undercoat and coats, and whether it is the first's, too."""
    asked = replace(
        request, question=request.second or request.question, coats=AS_PICKED
    )
    own = choose(asked, found, top)
    if request.sealer or not own.sealed:
        return own, True
    shared = next(
        (
            each
            for each in found.lines
            if each.undercoat == first.undercoat
            and each.coats is not None
            and each.coats <= own.coats
        ),
        None,
    )
    if shared is None or shared.coats is None:
        return own, False
    return replace(own, outlook=shared, coats=shared.coats), True


def _swap(request: JobRequest, first: Choice, second: Choice, found: Answer) -> str:
    if second.coats != first.coats:
        return "coats" if second.coats > first.coats else ""
    lighter = found.topcoat.lab[0] > request.question.topcoat.lab[0]
    return "lightness" if lighter else ""
