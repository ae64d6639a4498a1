"""What a job is sprayed over and in how many coats, and what another choice costs."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.pick import outlook_over
from shadecore.colour.topcoat import parse_topcoat
from shadecore.errors import JobError, ShadecoreError
from shadecore.formats.echo import choices, shown
from shadecore.job.on_top import OLD, SEALED, SEALER, SURFACER, OnTop
from shadecore.job.request import AS_PICKED, MIX, NO_SEALER, JobRequest
from shadecore.job.step_places import once
from shadecore.products.product import Component
from shadecore.undercoats.shelf import Undercoat, undercoat
from shadecore.undercoats.shelf_table import demo_shelf

OLD_FINISH: Final = "Old finish"
"""What the finish that is there is called among undercoats."""
_SURFACED: Final = "Surfacer"
_UNKNOWN: Final = "Not known, counted over"
"""Begins the name of the undercoat that stands in for one that nobody told."""


@dataclass(frozen=True)
class Choice:
    """The undercoat and the coats that a job is planned with.

    Attributes
    ----------
    outlook : Outlook
        Of the undercoat that is taken.
    coats : int
        Coats of colour.
    recommended : Outlook
        Of the undercoat that the pick recommends.
    sealed : bool
        Whether it is a sealer that is sprayed, and not what else lies on top.
    known : bool
        Whether somebody said what colour that has.
    in_part : bool
        Whether it lies on some of the panels only.
    """

    outlook: Outlook
    coats: int
    recommended: Outlook
    sealed: bool = True
    known: bool = True
    in_part: bool = False

    @property
    def undercoat(self) -> Undercoat:
        """The undercoat that is taken."""
        return self.outlook.undercoat

    @property
    def own(self) -> bool:
        """Whether it is another one than the pick recommends."""
        best = self.recommended
        return (self.undercoat.name, self.coats) != (best.undercoat.name, best.coats)

    @property
    def coats_more(self) -> int | None:
        """Coats beyond the recommended ones; None where those are not known."""
        best = self.recommended.coats
        return None if best is None else self.coats - best

    @property
    def difference(self) -> float:
        """What is left of the undercoat after these coats. [CIEDE2000]."""
        left = self.outlook.difference
        return left[min(self.coats, len(left)) - 1]

    @property
    def chance(self) -> float:
        """Probability that it hides in these coats, 0..1."""
        hides = self.outlook.count.chance
        return hides[min(self.coats, len(hides)) - 1]


def choose(request: JobRequest, answer: Answer, top: OnTop = SEALED) -> Choice:
    """Undercoat and coats of a job: the pick's, or what the painter says.

    Parameters
    ----------
    request : JobRequest
        The job.
    answer : Answer
        The pick.
    top : OnTop
        What the job's steps leave on top before the colour.

    Returns
    -------
    Choice
        Where no sealer is sprayed and nobody said what colour lies on top, over what
        takes most coats on the shelf.

    Raises
    ------
    JobError
        If the colour does not hide over the undercoat and nobody says in how many
        coats it is to be sprayed, or the undercoat is not known.
    """
    sealed = top.kind == SEALER and not unsealed(request)
    under = None if sealed else _under(request, top)
    if under is not None:
        outlook = outlook_over(answer, under)
    else:
        outlook = _taken(request, answer) if sealed else _worst(answer)
    coats = outlook.coats if request.coats == AS_PICKED else request.coats
    if coats is None:
        cap = answer.settings.coat_cap
        message = (
            f"The colour does not hide over {shown(outlook.undercoat.name)} within "
            f"{cap} coats; take another sealer, or say in how many coats to spray it."
        )
        if not request.sealer:
            message = (
                f"The colour does not hide within {cap} coats over any sealer here; "
                "choose a ground coat first, then plan."
            )
        raise JobError(message)
    return Choice(
        outlook,
        coats,
        answer.recommended,
        sealed=sealed,
        known=sealed or under is not None,
        in_part=top.in_part,
    )


def unsealed(request: JobRequest) -> bool:
    """Whether a job is to be sprayed over the finish that is there.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    bool
    """
    on_shelf = {each.name for each in request.question.shelf}
    return request.sealer == NO_SEALER and NO_SEALER not in on_shelf


def as_recommended(request: JobRequest) -> JobRequest:
    """A job as the pick recommends it, and with nothing done yet.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    JobRequest
        With its sealer, where the shop's own steps leave that out.
    """
    changes = request.details.changes
    sealing = (e for e in changes if not (e.drop and once(e.key) == SEALER))
    details = replace(request.details, changes=tuple(sealing))
    return replace(
        request,
        sealer="",
        coats=AS_PICKED,
        done=(),
        sprayed=(),
        looks=(),
        details=details,
    )


def old_finish(request: JobRequest) -> Undercoat | None:
    """The finish that is there, as an undercoat.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    Undercoat or None
        None where nobody said what colour it has.

    Raises
    ------
    JobError
        If its colour cannot be read.
    """
    if not request.old_finish.strip():
        return None
    return _coloured(OLD_FINISH, request.old_finish, request)


def own_cans(
    components: Sequence[Component], taken: Undercoat
) -> tuple[Component, ...]:
    """Components of a sealer whose paint is poured from the shop's own cans.

    Parameters
    ----------
    components : sequence of Component
        Of the sealer in the product sheet.
    taken : Undercoat
        The undercoat: a mix of two cans, or one can; of the invented shelf a single
        can changes nothing, since it is the sheet's paint in that grey.

    Returns
    -------
    tuple of Component
        The part that brings most of the solids, which is the paint, by the name of its
        can, or shared between the two.
    """
    if not components or (not taken.parts and taken in demo_shelf()):
        return tuple(components)
    paint = max(components, key=lambda each: each.parts * each.volume_solids)
    cans = taken.parts or ((taken.name, 1),)
    whole = sum(count for _, count in cans)
    found: list[Component] = []
    for each in components:
        if each is not paint:
            found.append(each)
            continue
        found += [
            Component(
                **{**vars(each), "name": name, "parts": each.parts * count / whole}
            )
            for name, count in cans
        ]
    return tuple(found)


def _under(request: JobRequest, top: OnTop) -> Undercoat | None:
    """What lies on top where that is no sealer; None where nobody said its colour."""
    if top.kind == OLD:
        return old_finish(request)
    if top.kind != SURFACER or not request.surfacer:
        return None
    on_shelf = {each.name: each for each in request.question.shelf}
    if request.surfacer in on_shelf:
        return replace(on_shelf[request.surfacer], name=_SURFACED)
    return _coloured(_SURFACED, request.surfacer, request)


def _worst(answer: Answer) -> Outlook:
    """The grey of the shelf that takes most coats, in the place of one not known."""
    hiding = [each for each in answer.lines if each.coats is not None]
    worst = max(hiding or answer.lines, key=lambda each: each.coats or 0)
    name = f"{_UNKNOWN} {worst.undercoat.name}"
    return replace(worst, undercoat=replace(worst.undercoat, name=name))


def _coloured(name: str, colour: str, request: JobRequest) -> Undercoat:
    try:
        lab = parse_topcoat(colour, request.question.condition).lab
        return undercoat(name, lab)
    except ShadecoreError as error:
        message = f"The {name.lower()} of the job cannot be used: {error}"
        raise JobError(message) from error


def _taken(request: JobRequest, answer: Answer) -> Outlook:
    name = request.sealer
    if not name:
        return answer.recommended
    by_name = {each.undercoat.name: each for each in answer.lines}
    if name in by_name:
        return by_name[name]
    if name == MIX:
        if answer.mix is None:
            message = (
                "No mix of two sealers saves a coat here; leave the job's sealer out."
            )
            raise JobError(message)
        return answer.mix
    message = (
        f"The job's sealer {shown(name)} is not on the shelf; take one of "
        f"{choices(by_name, name)}."
    )
    raise JobError(message)
