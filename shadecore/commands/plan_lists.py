"""What there is to choose from in a job, as lines for the terminal."""

from collections.abc import Callable
from typing import Final

from shadecore.job.step_sets import step_sets
from shadecore.job.substrates import substrates
from shadecore.job.trade_steps import trade_steps
from shadecore.job.usual_steps import USUAL


def _steps_lines() -> list[str]:
    own = trade_steps()
    usual = [f"{key:20} {each.title}" for key, each in USUAL.items()]
    return [
        *("Usual steps:", *usual, "Steps of the trade beside them:"),
        *(f"{key:20} {each.title}, after {each.after}" for key, each in own.items()),
    ]


def _set_lines() -> list[str]:
    return [f"{key:20} {each.name}: {each.what}" for key, each in step_sets().items()]


def _substrate_lines() -> list[str]:
    return [
        f"{key:20} {each.name}: {' '.join((*each.first, *each.never, *each.ask))}"
        for key, each in substrates().items()
    ]


LISTS: Final[dict[str, tuple[Callable[[], list[str]], str]]] = {
    "steps": (_steps_lines, "steps by the keys that a set of steps names them by"),
    "sets": (_set_lines, "sets of steps that come with this tool"),
    "substrates": (_substrate_lines, "what panels may be made of or covered with"),
}
"""Lines and what they are, by the word that asks for them."""
