"""Bars for people who wait: none where the errors go to a file."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from tqdm import tqdm

from shadecore.question.question import Question


@contextmanager
def bar(name: str) -> Iterator[Callable[[float], None]]:
    """Show how far something is.

    Parameters
    ----------
    name : str
        What it is.

    Yields
    ------
    callable
        To be told the share done, 0..1.
    """
    with tqdm(total=100, unit="%", desc=name, disable=None, leave=False) as shown:

        def move(share: float) -> None:
            shown.update(100.0 * share - shown.n)

        yield move


def make_ready(question: Question) -> None:
    """Work the effect paints out at their first use, with a bar.

    Parameters
    ----------
    question : Question
        Nothing is done for a solid colour.
    """
    if not question.flakes:
        return
    # Their room takes a while to load, and solid colours need none of it.
    from shadecore.effects.library import (  # noqa: PLC0415
        effect_library,
        effect_library_is_ready,
    )

    if effect_library_is_ready():
        return
    with bar("effect paints") as move:
        effect_library(move)
