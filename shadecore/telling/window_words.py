"""Windows that closed and steps that came too soon, in words."""

import math
from datetime import timedelta
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.late import (
    AirNotClear,
    BareTooLong,
    Broken,
    CameTooSoon,
    GunWaited,
    StepWindowClosed,
    WaitCutShort,
    WindowClosed,
)
from shadecore.job.schedule import Timed
from shadecore.job.windows import REMEDIES
from shadecore.telling.numbers import time_words

_REMEDY: Final = {
    "scuff": "scuff it dull with a fine pad and wipe it",
    "sand": "sand it with P600 and wipe it; flake and pearl need one more coat",
    "re-etch": "sand it off to the metal and etch again",
}
"""What to do about a missed window, by the word in the sheet."""
_MINUTE: Final = timedelta(minutes=1)


def broken_words(timed: Timed) -> str:
    """What is broken of a step's time, and what that costs.

    Parameters
    ----------
    timed : Timed
        The step in its time.

    Returns
    -------
    str
        Sentences; empty where nothing is.
    """
    step = brief(timed.step.title)
    return " ".join(_sentence(step, each, done=timed.done) for each in timed.broken)


def _sentence(step: str, broken: Broken, *, done: bool) -> str:
    starts = "started" if done else "starts"
    match broken:
        case WindowClosed(product, late, open_for, missed):
            held = " If that was not done, the film may not hold." if done else ""
            return (
                f"{step} {starts} {_spell(late)} after the window of {brief(product)} "
                f"closed ({_spell(open_for)}): first {_REMEDY[missed]} (about "
                f"{REMEDIES[missed].work_min:g} min).{held}"
            )
        case StepWindowClosed(after, late):
            return (
                f"{step} {starts} {_spell(late)} after the window of {after!r} closed; "
                "do that step again first, or ask its sheet."
            )
        case BareTooLong(after, late, again_min, metal):
            what = "sand the metal again and wipe it" if metal else "wipe it again"
            why = "metal must not lie bare" if metal else "a wipe goes stale"
            return (
                f"{step} {starts} {_spell(late)} later than {after!r} allows, for "
                f"{why}: first {what} (about {again_min:.0f} min)."
            )
        case GunWaited(product, waited):
            todo = "look at needle and cap first" if done else "clean it at once"
            return (
                f"{step} {starts} {_spell(waited)} after the last coat: "
                f"{brief(product)} hardens in the gun; {todo}."
            )
    return _too_soon(step, broken)


def _too_soon(step: str, broken: CameTooSoon | WaitCutShort | AirNotClear) -> str:
    match broken:
        case CameTooSoon(product, missing):
            return (
                f"{step} came {_spell(missing)} or more before {brief(product)} was "
                "ready: solvent may be trapped; let it dry longer before the next step."
            )
        case WaitCutShort(after, missing):
            return (
                f"{step} came {_spell(missing)} or more before the wait after "
                f"{after!r} was over; check it before the next step."
            )
        case AirNotClear(after, missing):
            return (
                f"{step} came {_spell(missing)} or more before the air was clear of "
                f"what {after!r} sprayed: whoever had no supplied air on has breathed "
                "isocyanate. Report it."
            )


def _spell(time: timedelta) -> str:
    """A time in words, a minute begun counted in full."""
    return time_words(math.ceil(time / _MINUTE))
