"""What other devices and the class are told, before and beside the pages."""

import math
from typing import Final

from shadecore.errors import sentence
from shadecore.lesson.guess import ExerciseColour
from shadecore.telling.counts import coats_words, number_words
from shadecore.telling.numbers import listed
from shadecore.undercoats.shelf import Shelf

CLOSED: Final = (
    "shadecore is not shared with other devices now. Turn that on at the computer that "
    "runs it, under “Open on phone”."
)
MISDIRECTED: Final = (
    "This address is not the one that was shared. Scan the code on the computer's "
    "screen again."
)
FOREIGN: Final = (
    "A page from elsewhere may not speak to shadecore. Open shadecore by its own "
    "address."
)
TOO_LONG: Final = "That was longer than any code. Type the digits on the screen."
TOO_MANY_FILES: Final = (
    "Too many large files were open at once; the last ones were not taken. Remove "
    "some, or open smaller ones."
)
ASK_TITLE: Final = "Device code"
ASK_HEAD: Final = "One more step"
ASK_TEXT: Final = (
    "Type the device code that stands on the computer's screen, under “Open on "
    "phone”. This phone asks for it once."
)
ASK_BUTTON: Final = "Come in"
BROKEN: Final = (
    "Something went wrong on this page; what was set before is still in the link. The "
    "computer that runs shadecore has written down what it was."
)
NO_NETWORK: Final = (
    "This computer is on no network that a phone can join. Join the shop's Wi-Fi, "
    "then turn this on again."
)
NO_CLASS: Final = "No class is open now. Ask for the code when it starts."
NOT_JOINED: Final = "This phone is not in the class; give the class code."


def wrong_code_words(wait_s: float) -> str:
    """That a code was wrong, and how long its sender has to wait.

    Parameters
    ----------
    wait_s : float
        Until another one is looked at; 0 where that is at once. [s]

    Returns
    -------
    str

    Examples
    --------
    >>> print(wrong_code_words(0.4))
    That is not the code; type the digits on the screen. Try again in 1 second.
    """
    wrong = "That is not the code; type the digits on the screen."
    if not wait_s:
        return wrong
    whole = math.ceil(wait_s)
    return f"{wrong} Try again in {whole} {'second' if whole == 1 else 'seconds'}."


def grouped(code: str) -> str:
    """A code in two groups, which are easier to read out.

    Parameters
    ----------
    code : str
        Digits.

    Returns
    -------
    str

    Examples
    --------
    >>> grouped("12345678")
    '1234 5678'
    """
    half = len(code) // 2
    return f"{code[:half]} {code[half:]}"


def not_listening(address: str, port: int, reason: str) -> str:
    """Why the second door could not be opened.

    Parameters
    ----------
    address : str
        This computer's address on the network.
    port : int
        The port.
    reason : str
        What the system says.

    Returns
    -------
    str
    """
    return (
        f"{address} cannot be opened at port {port}: {reason}. Turn sharing off and on "
        "again, or start with another --port."
    )


def costs_words(question: ExerciseColour) -> tuple[str, ...]:
    """Coats over each undercoat.

    Parameters
    ----------
    question : ExerciseColour
        The colour.

    Returns
    -------
    tuple of str
        Such as ``3 coats``.
    """
    return tuple(
        f"{number_words(each, question.cap)} {'coat' if each == 1 else 'coats'}"
        for each in question.coats
    )


def result_words(
    question: ExerciseColour, undercoats: Shelf, choice: int | None
) -> str:
    """What a phone is told when the results are shown.

    Parameters
    ----------
    question : ExerciseColour
        The colour.
    undercoats : tuple of Undercoat
        The choices.
    choice : int or None
        What the phone answered.

    Returns
    -------
    str
    """
    fewest = listed([undercoats[place].name for place in sorted(question.best)])
    best = f"Fewest coats: {fewest}."
    if choice is None:
        return f"No answer from this phone. {best}"
    more = question.coats_more(choice)
    if more:
        return f"Your choice takes {coats_words(more)} too many. {best}"
    return f"Right: no coat too many. {best}"


def answers_words(given: int, phones: int) -> str:
    """How far a class has got with a colour.

    Parameters
    ----------
    given, phones : int
        Answers to this colour, and phones that have joined.

    Returns
    -------
    str
    """
    if not phones:
        return "No phone has joined yet"
    return f"{given} of {phones} {'phone' if phones == 1 else 'phones'} answered"


def not_ready(reason: str) -> str:
    """What is said where the pages could not be made ready beforehand.

    Parameters
    ----------
    reason : str
        What went wrong; may be empty.

    Returns
    -------
    str
    """
    why = f" ({reason})" if reason.strip() else ""
    return sentence(
        f"The pages could not be made ready beforehand{why}; the app is open all the "
        "same, and the first page takes longer or says what to do."
    )


def started(url: str) -> str:
    """What the command line says when the screens are served.

    Parameters
    ----------
    url : str
        Where, on this computer.

    Returns
    -------
    str
    """
    return f"shadecore is open at {url} on this computer. Ctrl-C ends it."


PHONE_INTRO: Final = (
    "A phone or a tablet in the booth opens the same pages as this computer, and sees "
    "the same job."
)
PHONE_SWITCH: Final = "Let phones on this network in"
WHICH_NETWORK: Final = "This computer is on several networks: take the phone's."
OPENING: Final = "Opening …"
SCAN: Final = "Scan with the phone's camera, or type:"
ONCE: Final = "Each phone is asked for it once."
NEW_CODE: Final = "New device code"
NEW_CODE_HELP: Final = "Shuts out every phone that came in by the old one."
ON_DEVICE: Final = (
    "This device is in. Sharing is turned on and off on the computer that runs "
    "shadecore."
)
NOT_FOUND_TITLE: Final = "The phone does not find the page"
PHONE_CAUTION: Final = (
    "For the shop's own Wi-Fi only: whoever has the device code sees and changes what "
    "this computer shows, and what is sent is not encrypted. It is off again when "
    "shadecore ends."
)


def not_found_help(port: int) -> str:
    """How the shop's network is let in.

    Parameters
    ----------
    port : int
        Where the server listens.

    Returns
    -------
    str
        Lines of a list.
    """
    return (
        "* The phone must be on the same Wi-Fi as this computer; a guest network keeps "
        "devices apart, and so does a phone's mobile data or VPN.\n"
        "* **Windows** asks once whether Python may be reached: allow *private "
        "networks*. Later: Windows Security, Firewall, *Allow an app*, Python.\n"
        "* **macOS**: System Settings, Network, Firewall, Options: allow incoming "
        "connections for Python.\n"
        f"* **Linux**: open port {port}, such as `sudo ufw allow {port}/tcp` or "
        f"`sudo firewall-cmd --add-port={port}/tcp`.\n"
        "* `shadecore app --share` turns this on from the start."
    )


START_CLASS: Final = "Let the class answer from their phones"
START_CLASS_HELP: Final = (
    "Up to 30 phones on this network join by a code. They see the exercise and nothing "
    "else of the shop; nothing about pupils is kept."
)
END_CLASS: Final = "End the class"
CLASS_CODE: Final = "Class code"
SHOW_RESULTS: Final = "Show the results"
TALLY_HEADS: Final = ("Sealer", "", "Answers", "Takes")
"""Over what a class answered, and over the coats that each sealer takes."""
CLASS_RESULT: Final = "The class's result"


def class_line(name: str, question: ExerciseColour, tally: tuple[int, ...]) -> str:
    """How a class answered one colour.

    Parameters
    ----------
    name : str
        What the colour is called.
    question : ExerciseColour
        The colour.
    tally : tuple of int
        Answers by undercoat.

    Returns
    -------
    str
    """
    right = sum(tally[place] for place in question.best)
    return (
        f"{name.capitalize()}: {right} of {sum(tally)} answers took the fewest coats."
    )
