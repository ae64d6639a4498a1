"""What the colour of a job goes over, in words."""

from shadecore.job.choice import Choice
from shadecore.telling.names import sealer_words


def under_head(choice: Choice) -> str:
    """How what lies under the colour is headed.

    Parameters
    ----------
    choice : Choice
        What the job takes.

    Returns
    -------
    str
    """
    return "Sealer" if choice.sealed else "No sealer"


def under_words(choice: Choice) -> str:
    """What lies under the colour, with what is known of it.

    Parameters
    ----------
    choice : Choice
        What the job takes.

    Returns
    -------
    str
        Such as ``White N 9 (L* 90.2, N 9.0)`` or ``the old finish (L* 40.0, N 3.9)``.
    """
    said = sealer_words(choice.undercoat)
    if choice.sealed:
        return said
    return f"{'the ' if choice.known else ''}{said[:1].lower()}{said[1:]}"


def under_trouble(choice: Choice | None) -> tuple[str, ...]:
    """What is not known of what lies under the colour.

    Parameters
    ----------
    choice : Choice or None
        What the job takes; None where no colour is sprayed.

    Returns
    -------
    tuple of str
        Sentences; empty where all is known.
    """
    if choice is None:
        return ()
    told = []
    if not choice.known:
        told.append(
            "No sealer is sprayed, and the colour of what lies on top is not known: "
            "the coats are counted over the grey of the shelf that takes most. Say "
            "the surfacer's colour, or the old finish's where nothing is sprayed."
        )
    if choice.in_part:
        told.append(
            "What lies under the colour is sprayed on some panels only: the coats are "
            "counted over it, and the other panels may take more."
        )
    return tuple(told)
