"""What is set for a question, in the few words that a button holds."""

from typing import Final

from shadecore.coats.settings import TOLERANCES
from shadecore.colour.angles import AngleReadings
from shadecore.colour.condition import WORKING, Condition
from shadecore.question.question import Question
from shadecore.units import Units

_TOLERANCE_NAMES: Final = {
    value: name.replace("-", " ") for name, (value, _) in TOLERANCES.items()
}


def film_set(question: Question, units: Units) -> str:
    """The film of one coat.

    Parameters
    ----------
    question : Question
        What is asked.
    units : Units
        What films are shown in.

    Returns
    -------
    str
        Such as ``10 µm a coat``.
    """
    return f"{units.film.show(question.film.coat.dry_film_um)} a coat"


def tolerance_name(tolerance: float) -> str:
    """A tolerance by what it is for.

    Parameters
    ----------
    tolerance : float
        [CIEDE2000]

    Returns
    -------
    str

    Examples
    --------
    >>> tolerance_name(2.0), tolerance_name(1.5)
    ('whole car', 'own: 1.5')
    """
    return _TOLERANCE_NAMES.get(tolerance, f"own: {tolerance:g}")


def card_set(question: Question) -> str:
    """Whether there is a test card.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    str
    """
    return "no test card" if question.card is None else "with a test card"


def records_set(question: Question) -> str:
    """How much was seen of the paint.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    str
        Such as ``2 records``.
    """
    number = len(question.seen)
    if not number:
        return "no records"
    return "1 record" if number == 1 else f"{number} records"


def angles_set(readings: AngleReadings | None) -> str:
    """At how many angles a colour was read.

    Parameters
    ----------
    readings : AngleReadings or None
        None where it was read at one only.

    Returns
    -------
    str
        Such as ``3 angles``.
    """
    if readings is None:
        return "Add angles"
    number = len(readings.angles)
    return "1 angle" if number == 1 else f"{number} angles"


def condition_set(condition: Condition) -> str:
    """How the colour was measured.

    Parameters
    ----------
    condition : Condition
        The condition.

    Returns
    -------
    str
        Terms of colour science for who chose by them; plain words for what is usual.

    Examples
    --------
    >>> condition_set(WORKING), condition_set(Condition("A", 2))
    ('measured as usual', 'measured in A/2°')
    """
    if condition == WORKING:
        return "measured as usual"
    inside = ", specular" if condition.specular == "included" else ""
    return f"measured in {condition.illuminant}/{condition.observer}°{inside}"


def mixing_set(question: Question) -> str:
    """Whether two sealers may be mixed.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    str
    """
    return "with mixes of two" if question.mixing.allowed else "no mixes"
