"""Whether the sealer may be left out, answered in coats."""

from dataclasses import dataclass
from typing import Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.pick import outlook_over
from shadecore.job.choice import Choice, old_finish
from shadecore.job.request import JobRequest

MORE_COATS: Final = "more_coats"
NEVER_HIDES: Final = "never_hides"
ADHESION: Final = "adhesion"
SANDED_THROUGH: Final = "sanded_through"
UNKNOWN_PAINT: Final = "unknown_paint"
_DOUBTFUL: Final = ("old_lacquer",)
"""Substrates that solvent may lift."""
_KNOWN_FINISHES: Final = ("old_two_pack", "e_coat", "old_lacquer")


@dataclass(frozen=True)
class LeftOut:
    """The colour over the old finish beside the colour over the sealer.

    Attributes
    ----------
    over_old : Outlook
        Over the old finish.
    sealed : Outlook
        Over the sealer that the job takes otherwise.
    against : tuple of str
        What speaks against leaving the sealer out: ``MORE_COATS``, ``NEVER_HIDES``,
        ``ADHESION`` always, ``SANDED_THROUGH``, ``UNKNOWN_PAINT``.
    """

    over_old: Outlook
    sealed: Outlook
    against: tuple[str, ...]

    @property
    def coats_more(self) -> int | None:
        """Coats that it takes more, negative for fewer; None where one never hides."""
        old, sealed = self.over_old.coats, self.sealed.coats
        return None if old is None or sealed is None else old - sealed


def left_out(request: JobRequest, answer: Answer, choice: Choice) -> LeftOut | None:
    """Compare the old finish with the sealer.

    Parameters
    ----------
    request : JobRequest
        The job.
    answer : Answer
        The pick.
    choice : Choice
        What the job takes; where that is no sealer, the recommended one is compared.

    Returns
    -------
    LeftOut or None
        None where nobody said what colour the old finish has.
    """
    old = old_finish(request)
    if old is None:
        return None
    over_old = outlook_over(answer, old)
    sealed = choice.outlook if choice.sealed else choice.recommended
    return LeftOut(over_old, sealed, _against(request, over_old, sealed))


def _against(
    request: JobRequest, over_old: Outlook, sealed: Outlook
) -> tuple[str, ...]:
    found = [ADHESION]
    if over_old.coats is None:
        found.append(NEVER_HIDES)
    elif sealed.coats is not None and over_old.coats > sealed.coats:
        found.append(MORE_COATS)
    if request.bare_metal or request.filler or request.question.areas:
        found.append(SANDED_THROUGH)
    keys = request.details.substrate_keys
    if any(key in _DOUBTFUL for key in keys) or not set(keys) & set(_KNOWN_FINISHES):
        found.append(UNKNOWN_PAINT)
    return tuple(found)
