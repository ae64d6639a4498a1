"""Answers for a file of colours of any kind, as one set of arrays."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Answer, Outlook, Picks
from shadecore.coats.count import Counts
from shadecore.coats.seen import Seen
from shadecore.colour.colour_file import KindsOfColours, chosen
from shadecore.colour.kinds import flakes_of
from shadecore.question.answer import answer, answer_many
from shadecore.question.question import Question


class KindShown(NamedTuple):
    """What kind a colour of a file is.

    Attributes
    ----------
    kind : str
        One of :data:`shadecore.colour.kinds.KINDS`; empty where nobody said.
    last_angle : float or None
        Aspecular angle that hides last over the recommended undercoat; None for a
        solid film. [degrees]
    """

    kind: str
    last_angle: float | None


class Replies(NamedTuple):
    """Answers for a file of colours of any kind, solid ones all at once.

    Attributes
    ----------
    turned : dict of int to Answer
        Of colours with flakes, by their row.
    solid : list of int
        Rows of the others.
    picks : Picks or None
        Of those, in that order; None where there are none.
    """

    turned: dict[int, Answer]
    solid: list[int]
    picks: Picks | None


def replies_of_kinds(
    question: Question,
    every: KindsOfColours,
    seen: Mapping[int, Sequence[Seen]],
    progress: Callable[[float], None] | None = None,
) -> Replies:
    """Answer for colours of any kind, each by its own engine.

    Parameters
    ----------
    question : Question
        Shelf, tolerance, film and limits.
    every : KindsOfColours
        The colours.
    seen : mapping of int to sequence of Seen
        What the shop has seen of some of them, by their row.
    progress : callable, optional
        Called with the share of the solid colours that is done, 0..1.

    Returns
    -------
    Replies

    Raises
    ------
    ShadecoreError
        If a colour, the shelf or a setting cannot be used.
    """
    flaky = [
        bool(flakes_of(kind, turned=readings is not None))
        for kind, readings in zip(every.kinds, every.readings, strict=True)
    ]
    solid = [row for row, holds in enumerate(flaky) if not holds]
    picks = None
    if solid:
        records = {at: seen[row] for at, row in enumerate(solid) if row in seen}
        picks = answer_many(question, chosen(every, solid).lab, progress, records)
    turned = {
        row: answer(
            replace(_asked(question, every, row), seen=tuple(seen.get(row, ())))
        )
        for row, holds in enumerate(flaky)
        if holds
    }
    return Replies(turned, solid, picks)


def answer_kinds(
    question: Question,
    every: KindsOfColours,
    seen: Mapping[int, Sequence[Seen]],
) -> tuple[Picks, tuple[KindShown, ...]]:
    """Answer for colours of any kind.

    Parameters
    ----------
    question : Question
        Shelf, tolerance, film and limits; mixes of two sealers are left out.
    every : KindsOfColours
        The colours.
    seen : mapping of int to sequence of Seen
        What the shop has seen of some of them, by their row.

    Returns
    -------
    picks : Picks
        Over the shelf, in the order of the file.
    kinds : tuple of KindShown
        Of each colour.

    Raises
    ------
    ShadecoreError
        If a colour, the shelf or a setting cannot be used.
    """
    turned, solid, picks = replies_of_kinds(question, every, seen)
    parts = [_as_picks(each, question) for each in turned.values()]
    if picks is not None:
        parts.append(picks)
    back = np.argsort([*turned, *solid])
    kinds = tuple(
        KindShown(kind, turned[row].recommended.last_angle if row in turned else None)
        for row, kind in enumerate(every.kinds)
    )
    return _joined(parts, back), kinds


def _asked(question: Question, every: KindsOfColours, row: int) -> Question:
    lab = " ".join(repr(float(value)) for value in every.colours.lab[row])
    readings = every.readings[row]
    return replace(
        question,
        colour="" if readings is not None else lab,
        kind=every.kinds[row],
        angles=readings,
    )


def _as_picks(reply: Answer, question: Question) -> Picks:
    """One answer as arrays of one row, in the order of the shelf."""
    names = [each.name for each in question.shelf]
    places = {each.undercoat.name: each for each in reply.outlooks}
    outlooks = [places[name] for name in names]
    counts = [_count(each) for each in outlooks]
    coats, low, high = (
        np.array([[row[at] for row in counts]], dtype=np.intp) for at in range(3)
    )
    return Picks(
        counts=Counts(
            chance=np.array([[each.count.chance for each in outlooks]]),
            coats=coats,
            low=low,
            high=high,
            average=np.array([[each.coats_average for each in outlooks]]),
            ln_film=np.full((1, len(outlooks)), np.nan),
        ),
        order=np.array([[names.index(each.undercoat.name) for each in reply.outlooks]]),
        closest=np.array([names.index(reply.closest.undercoat.name)]),
        contrast_ratio=np.array([reply.hiding.contrast_ratio]),
        contrast_low=np.array([reply.hiding.low]),
        contrast_high=np.array([reply.hiding.high]),
        poor_chance=np.array([reply.poor_chance]),
        nearest=np.array([reply.nearest_recipe]),
    )


def _count(outlook: Outlook) -> tuple[int, int, int]:
    count = outlook.count
    coats, low, high = (
        count.cap + 1 if each is None else each
        for each in (count.coats, count.low, count.high)
    )
    return coats, low, high


def _joined(parts: Sequence[Picks], rows: NDArray[np.intp]) -> Picks:
    """Parts one below the other, their rows put into another order."""

    def one(of: Sequence[object], name: str) -> NDArray[np.generic]:
        return np.concatenate([getattr(each, name) for each in of])[rows]

    counts = [each.counts for each in parts]
    return Picks(
        counts=Counts(**{f.name: one(counts, f.name) for f in fields(Counts)}),  # type: ignore[arg-type]
        **{f.name: one(parts, f.name) for f in fields(Picks) if f.name != "counts"},  # type: ignore[arg-type]
    )
