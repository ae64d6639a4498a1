"""What a job is sprayed over and in how many coats, and what another choice costs."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.pick import outlook_over
from shadecore.colour.topcoat import parse_topcoat
from shadecore.errors import JobError, ShadecoreError
from shadecore.formats.echo import choices, shown
from shadecore.job.request import AS_PICKED, MIX, NO_SEALER, JobRequest
from shadecore.products.product import Component
from shadecore.undercoats.shelf import Undercoat, undercoat
from shadecore.undercoats.shelf_table import demo_shelf

OLD_FINISH: Final = "Old finish"
"""What the finish that is there is called among undercoats."""


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
        Whether it is a sealer that is sprayed, and not the finish that is there.
    """

    outlook: Outlook
    coats: int
    recommended: Outlook
    sealed: bool = True

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


def choose(request: JobRequest, answer: Answer) -> Choice:
    """Undercoat and coats of a job: the pick's, or what the painter says.

    Parameters
    ----------
    request : JobRequest
        The job.
    answer : Answer
        The pick.

    Returns
    -------
    Choice

    Raises
    ------
    JobError
        If the colour does not hide over the undercoat and nobody says in how many
        coats it is to be sprayed, or the undercoat is not known.
    """
    outlook = _taken(request, answer)
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
        sealed=not unsealed(request),
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
    try:
        lab = parse_topcoat(request.old_finish, request.question.condition).lab
        return undercoat(OLD_FINISH, lab)
    except ShadecoreError as error:
        message = f"The old finish of the job cannot be used: {error}"
        raise JobError(message) from error


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


def _taken(request: JobRequest, answer: Answer) -> Outlook:
    name = request.sealer
    if not name:
        return answer.recommended
    by_name = {each.undercoat.name: each for each in answer.lines}
    if name in by_name:
        return by_name[name]
    if name == NO_SEALER:
        old = old_finish(request)
        if old is None:
            message = (
                "To leave the sealer out, say what colour the old finish has: the "
                "colour goes over that."
            )
            raise JobError(message)
        return outlook_over(answer, old)
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
