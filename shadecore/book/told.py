"""How colours of a file were measured, by the file and by whoever takes it in."""

from dataclasses import dataclass
from typing import Final

from shadecore.book.errors import BookError
from shadecore.colour.condition import Condition
from shadecore.formats.echo import tail

USUAL: Final = Condition("D50", 2, "excluded")
"""What a file means that does not say it: ISO 13655 measures prints so."""


@dataclass(frozen=True)
class Told:
    """What a file, or whoever takes it in, says of how colours were measured.

    Attributes
    ----------
    illuminant, specular : str
        As a condition has them; empty where nobody says.
    observer : int
        In degrees; 0 where nobody says.
    """

    illuminant: str = ""
    observer: int = 0
    specular: str = ""


NOTHING_TOLD: Final = Told()


def measured(said: Told, given: Told, name: str, *, spectra: bool) -> Condition:
    """How colours of a file were measured.

    Parameters
    ----------
    said : Told
        What the file says.
    given : Told
        What whoever takes it in says: it fills in what the file does not say. Spectra
        have no illuminant and no observer, and of their geometry it goes before the
        file.
    name : str
        What to call the file in a message.
    spectra : bool
        Whether they are.

    Returns
    -------
    Condition
        As ISO 13655 has it where nobody says.

    Raises
    ------
    BookError
        If the two say different things of colours that are not spectra.
    """
    for field_name in ("illuminant", "observer", "specular"):
        theirs, mine = getattr(said, field_name), getattr(given, field_name)
        if theirs and mine and theirs != mine and not spectra:
            message = (
                f"{tail(name)} says that its colours were measured with the "
                f"{field_name} {theirs}, not {mine}; leave out what "
                "was given, or export it anew."
            )
            raise BookError(message)
    # A spectrum that cannot be used gives way to the Lab beside it, of which the file
    # says the illuminant.
    specular = given.specular if spectra else ""
    return Condition(
        said.illuminant or given.illuminant or USUAL.illuminant,
        said.observer or given.observer or USUAL.observer,
        specular or said.specular or given.specular or USUAL.specular,
    )


def not_said(said: Told, given: Told, condition: Condition) -> str:
    """A sentence on what nobody says of how colours were measured.

    Parameters
    ----------
    said, given : Told
        What the file says, and whoever takes it in.
    condition : Condition
        What was taken.

    Returns
    -------
    str
        Empty where all is said.
    """
    light = said.illuminant or given.illuminant
    if light and (said.observer or given.observer):
        return ""
    return (
        f"The file does not say illuminant and observer; {condition.illuminant}/"
        f"{condition.observer}° was taken, as ISO 13655 has it."
    )
