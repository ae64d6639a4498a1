"""Kinds of topcoat, which are asked and never guessed."""

from typing import Final

from shadecore.errors import ColourError
from shadecore.formats.echo import shown

SOLID, METALLIC, PEARL = "solid", "metallic", "pearl"
THREE_STAGE, CANDY = "three-stage", "candy"
KINDS: Final = (SOLID, METALLIC, PEARL, THREE_STAGE, CANDY)
NOT_SAID: Final = ""
WITH_FLAKES: Final = (METALLIC, PEARL)
"""Kinds whose films hold flakes, so that their colour turns with the angle."""
OVER_A_GROUND: Final = (THREE_STAGE, CANDY)
"""Kinds that let their ground show for good: what hides is the ground."""


def check_kind(text: str) -> str:
    """A kind as it is called here.

    Parameters
    ----------
    text : str
        As written; empty for not said.

    Returns
    -------
    str

    Raises
    ------
    ColourError
        If it is none of ``KINDS``.

    Examples
    --------
    >>> check_kind("Three stage")
    'three-stage'
    """
    kind = "-".join(text.strip().lower().replace("-", " ").split())
    if kind and kind not in KINDS:
        message = f"The kind {shown(text)} is none of {', '.join(KINDS)}."
        raise ColourError(message)
    return kind


def flakes_of(kind: str, *, turned: bool) -> tuple[str, ...]:
    """Kinds of flakes that a paint may hold.

    Parameters
    ----------
    kind : str
        One of ``KINDS``, or ``NOT_SAID``.
    turned : bool
        Whether it was read at several angles. Where nobody said the kind, such readings
        may be those of either kind with flakes, so both are kept.

    Returns
    -------
    tuple of str
        None for a solid colour.

    Examples
    --------
    >>> flakes_of("pearl", turned=False), flakes_of("", turned=True)
    (('pearl',), ('metallic', 'pearl'))
    """
    if kind in WITH_FLAKES:
        return (kind,)
    return WITH_FLAKES if kind == NOT_SAID and turned else ()
