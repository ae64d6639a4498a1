"""Why a metallic is different, in the words of a paint shop."""

from collections.abc import Sequence
from typing import Final

from shadecore.colour.angles import MIDDLE_DEG
from shadecore.lesson.metallic import LEAK, TurnedLesson, TurnedStrip, leak_rise
from shadecore.lesson.rules import Ruled
from shadecore.telling.colours import angle_words
from shadecore.telling.counts import coats_words
from shadecore.telling.numbers import listed

MIRRORS: Final = (
    "Flakes are small mirrors that lie nearly flat: bright from the face, dark from "
    "the flop. The sealer's light comes through nearly alike from every side."
)


def leak_words(lesson: TurnedLesson) -> str:
    """What the same leak of the undercoat does at the face and at the flop.

    Parameters
    ----------
    lesson : TurnedLesson
        The lesson.

    Returns
    -------
    str
    """
    readings = lesson.example.readings
    ends = (readings.angles[0], readings.angles[-1])
    face, flop = (
        f"by {float(leak_rise(readings.at(each)[0])):.1f} at the {angle_words(each)}"
        for each in ends
    )
    return (
        f"{MIRRORS} Where {100.0 * LEAK:g} % of the light leaks through, L* of this "
        f"{lesson.example.name} rises {face} and {flop}."
    )


def last_words(lesson: TurnedLesson) -> str:
    """At which angles lighter and darker sealers hide last.

    Parameters
    ----------
    lesson : TurnedLesson
        The lesson.

    Returns
    -------
    str
        One sentence for the sealers lighter, one for those darker at 45 degrees.
    """
    middle = lesson.example.readings.at(MIDDLE_DEG)[0]
    groups = {
        "lighter": [s for s in lesson.strips if s.undercoat.lightness > middle],
        "darker": [s for s in lesson.strips if s.undercoat.lightness <= middle],
    }
    return " ".join(
        f"Over sealers {word} than the {lesson.example.name} at {MIDDLE_DEG:g}° "
        f"({listed([each.undercoat.name for each in strips])}) it hides last at the "
        f"{listed(_last_angles(strips))}."
        for word, strips in groups.items()
        if strips
    )


def _last_angles(strips: Sequence[TurnedStrip]) -> list[str]:
    found = sorted({each.estimate.last_angle for each in strips})
    return [angle_words(each) for each in found]


def effect_rules_words(effects: Sequence[Ruled], solids: Sequence[Ruled]) -> str:
    """What the closest in L* at 45 degrees costs for effect colours and for solids.

    Parameters
    ----------
    effects, solids : sequence of Ruled
        Colours with what both rules cost.

    Returns
    -------
    str
        What was counted, and why it comes out so.
    """
    lost = (
        f"Closest in L* at {MIDDLE_DEG:g}° costs {_lost(effects)} effect colours and "
        f"{_lost(solids)} solid colours."
    )
    if _each(effects) >= _each(solids):
        return lost
    return (
        f"{lost} Most metallics have little hue, so a grey sealer that shows through "
        "does not change it much; one as light as the colour at 45° is not much too "
        "dark for the face nor too light for the flop. A red lets red light through "
        "and stops the rest, so there lightness is the wrong thing to match."
    )


def _lost(rows: Sequence[Ruled]) -> str:
    more = sum(each.closest_coats - each.best_coats for each in rows)
    if not more:
        return f"no coat too many for any of {len(rows)}"
    fails = sum(not each.lightness_works for each in rows)
    least = "at least " * any(each.closest_coats > each.cap for each in rows)
    return f"{least}{coats_words(more)} too many for {fails} of {len(rows)}"


def _each(rows: Sequence[Ruled]) -> float:
    return sum(each.closest_coats - each.best_coats for each in rows) / len(rows)
