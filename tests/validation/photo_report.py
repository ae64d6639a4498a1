"""The photo reader on simulated photographs.

Swatches, lights and cameras are measured ones; pictures come from `camera`, which
shares no code with the reader. Each shot has its own seed, so that fewer shots are
the first of many.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2
from skimage.color import deltaE_ciede2000

from shadecore import Answer, Settings, Topcoat, demo_shelf
from shadecore.coats.pick import pick
from shadecore.coats.uncertain import settled
from shadecore.colour.topcoat import topcoat_from_spectrum
from shadecore.errors import PhotoError
from shadecore.photo.area import Area
from shadecore.photo.chart import find_chart
from shadecore.photo.combine import combine
from shadecore.photo.measure import Marks, PhotoColour, measure_swatch
from shadecore.photo.picture import Picture, open_picture
from shadecore.photo.reference import REFERENCES
from shadecore.question.answer import answer, photo_choices
from shadecore.question.photo_line import photo_fields
from shadecore.question.question import Question

from .camera import (
    HELD_OUT_SEED,
    USUAL,
    Conditions,
    Shot,
    draw_scene,
    photograph,
    photograph_again,
)
from .camera.spectra import EVERY_TEN, WAVELENGTHS_NM

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

KINDS: dict[str, str] = {
    "nothing": "none",
    "white paper": "paper",
    "grey card": "grey card",
    "two grey cards": "two greys",
    "chart marked": "chart",
    "chart found": "chart",
}
"""What lies beside the swatch in the scene, by the name of the case."""
FOUND = "chart found"

HELD_OUT = replace(USUAL, camera_seed=HELD_OUT_SEED)
"""Usual scenes, by cameras that the reader's doubt was not fitted to."""

TOLD = {"daylight": "daylight", "A": "bulb", "LED": "led"}
"""What a user says of the light, by its group."""

NORMAL_95 = 1.96
JOINT_95 = float(chi2.ppf(0.95, 3))
PHOTOS_TOGETHER = 4


class Case(NamedTuple):
    """What came of one shot.

    Attributes
    ----------
    shot : Shot
        The shot.
    colour : PhotoColour or None
        What was read; None where the reader refused the picture.
    corner_error : float
        Largest distance of a found chart corner from the real one, as a share of the
        chart's long side; NaN where none was looked for or found.
    """

    shot: Shot
    colour: PhotoColour | None
    corner_error: float


@dataclass(frozen=True)
class PickScore:
    """Picks from photos beside picks from the truth.

    Attributes
    ----------
    equal_spectrum, equal_lab : BoolArray
        Whether the pick is that from the true spectrum, and from the true Lab.
    regret : FloatArray
        Coats more than over the best undercoat, by the true spectrum.
    stable : BoolArray
        Whether the pick was called stable.
    """

    equal_spectrum: BoolArray
    equal_lab: BoolArray
    regret: FloatArray
    stable: BoolArray


def take(
    kind: str,
    number: int,
    seed: int,
    conditions: Conditions = HELD_OUT,
    *,
    vendor_look: bool = False,
) -> Shot:
    """Take one shot.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    number : int
        Which shot.
    seed : int
        Seed of all shots.
    conditions : Conditions
        How hard the scenes are.
    vendor_look : bool
        Whether the camera bends tones and saturation.

    Returns
    -------
    Shot
    """
    rng = np.random.default_rng([seed, number])
    scene = draw_scene(rng, KINDS[kind], conditions)
    return photograph(scene, rng, vendor_look=vendor_look)


def read_shot(shot: Shot, *, find: bool = False, told: bool = False) -> Case:
    """Read the swatch of a shot as a user would.

    Parameters
    ----------
    shot : Shot
        The shot.
    find : bool
        Whether to look for the chart instead of being told where it is.
    told : bool
        Whether the reader is told what light it is.

    Returns
    -------
    Case
    """
    error = float("nan")
    try:
        picture = open_picture(shot.content, shot.name)
        corners = shot.chart_corners
        if find:
            corners, error = _found(picture, shot)
        marks = marks_of(shot, corners)
        if told:
            marks = replace(marks, light=TOLD[shot.light_group])
        return Case(shot, measure_swatch(picture, marks), error)
    except PhotoError:
        return Case(shot, None, error)


def marks_of(
    shot: Shot, corners: tuple[tuple[float, float], ...] | None = None
) -> Marks:
    """The marks of a shot, for the reader."""
    return Marks(
        Area(*shot.swatch),
        tuple((Area(*box), REFERENCES[kind]) for kind, box in shot.references),
        corners,
    )


def read_photos(
    kind: str,
    count: int,
    seed: int,
    conditions: Conditions = HELD_OUT,
    *,
    vendor_look: bool = False,
    told: bool = False,
) -> Iterator[Case]:
    """Take and read shots, one after another.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    count : int
        Shots.
    seed : int
        Seed of all shots.
    conditions : Conditions
        How hard the scenes are.
    vendor_look : bool
        Whether the cameras bend tones and saturation.
    told : bool
        Whether the reader is told what light it is.

    Yields
    ------
    Case
    """
    for number in range(count):
        shot = take(kind, number, seed, conditions, vendor_look=vendor_look)
        yield read_shot(shot, find=kind == FOUND, told=told)


class Errors(NamedTuple):
    """How far readings are off, the refused ones left out.

    Attributes
    ----------
    difference : FloatArray
        To the truth, shape (shots,). [CIEDE2000]
    inside : BoolArray
        Whether the true L*, a*, b* lie in their 95 percent intervals, shape (shots, 3).
    joint : BoolArray
        Whether the truth lies in the 95 percent ellipsoid, shape (shots,).
    group : NDArray
        Group of the light, shape (shots,).
    """

    difference: FloatArray
    inside: BoolArray
    joint: BoolArray
    group: NDArray[np.str_]


def errors(cases: list[Case]) -> Errors:
    """Compare readings with the truth."""
    read = [(each.shot, each.colour) for each in cases if each.colour is not None]
    true = np.array([shot.lab for shot, _ in read])
    lab = np.array([colour.lab for _, colour in read])
    covariance = np.array([colour.covariance for _, colour in read])
    off = lab - true
    sd = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2))
    distance = np.einsum("si,sij,sj->s", off, np.linalg.inv(covariance), off)
    return Errors(
        np.asarray(deltaE_ciede2000(lab, true)),
        np.abs(off) <= NORMAL_95 * sd,
        distance <= JOINT_95,
        np.array([shot.light_group for shot, _ in read]),
    )


def score_photo_picks(cases: list[Case]) -> PickScore:
    """Pick from each reading and from the truth, on the demo shelf.

    Parameters
    ----------
    cases : list of Case
        Those that were refused are left out.

    Returns
    -------
    PickScore
    """
    rows = []
    for shot, colour, _ in cases:
        if colour is not None:
            rows.append(_compared(Question(**photo_fields(colour)), shot))
    equal_spectrum, equal_lab, regret, stable = zip(*rows, strict=True)
    return PickScore(
        np.array(equal_spectrum),
        np.array(equal_lab),
        np.array(regret, dtype=np.float64),
        np.array(stable),
    )


def _compared(question: Question, shot: Shot) -> tuple[bool, bool, int, bool]:
    by_spectrum, by_lab = _true_answers(shot.reflectance.tobytes(), tuple(shot.lab))
    cap = Settings().coat_cap + 1
    coats = {each.undercoat.name: each.coats or cap for each in by_spectrum.outlooks}
    name = answer(question).recommended.undercoat.name
    return (
        name == by_spectrum.recommended.undercoat.name,
        name == by_lab.recommended.undercoat.name,
        coats[name] - min(coats.values()),
        settled(photo_choices(question)),
    )


@cache
def _true_answers(
    reflectance: bytes, lab: tuple[float, float, float]
) -> tuple[Answer, Answer]:
    rows = "\n".join(
        f"{nm},{value}"
        for nm, value in zip(
            WAVELENGTHS_NM[EVERY_TEN], np.frombuffer(reflectance), strict=True
        )
    )
    shelf = demo_shelf()
    return (
        pick(topcoat_from_spectrum(rows), shelf),
        pick(Topcoat(lab, "true"), shelf),
    )


def _found(
    picture: Picture, shot: Shot
) -> tuple[tuple[tuple[float, float], ...], float]:
    corners = find_chart(picture)
    if corners is None:
        message = "No chart was found."
        raise PhotoError(message)
    width, height = picture.size
    off = (np.array(corners) - np.array(shot.chart_corners)) * [width, height]
    side = np.diff(np.array(shot.chart_corners)[:2], axis=0)[0] * [width, height]
    distance = np.linalg.norm(off, axis=1).max() / np.linalg.norm(side)
    return corners, float(distance)


class Together(NamedTuple):
    """Several photos of one swatch taken together.

    Attributes
    ----------
    single, joined : FloatArray
        Difference to the truth of the first good photo, and of the combination.
        [CIEDE2000]
    joint : BoolArray
        Whether the truth lies in the 95 percent ellipsoid of the combination.
    named, accused : BoolArray
        Whether the wrong photo was named odd; whether a good one was.
    """

    single: FloatArray
    joined: FloatArray
    joint: BoolArray
    named: BoolArray
    accused: BoolArray


def read_together(
    reference: str, count: int, seed: int, *, one_wrong: bool, same_light: bool = True
) -> Together:
    """Take and read sets of four photos.

    Parameters
    ----------
    reference : str
        What lies beside the swatch, as scenes call it.
    count : int
        Sets.
    seed : int
        Seed of all sets.
    one_wrong : bool
        Whether one of the four shows another swatch.
    same_light : bool
        Whether all four are taken in one light.

    Returns
    -------
    Together
        Sets in which a photo was refused are left out.
    """
    rows = []
    for number in range(count):
        rng = np.random.default_rng([seed, number])
        wrong = int(rng.integers(PHOTOS_TOGETHER)) if one_wrong else None
        shots = photograph_again(
            rng, reference, PHOTOS_TOGETHER, wrong, HELD_OUT, same_light=same_light
        )
        colours = tuple(
            colour
            for colour in (read_shot(shot).colour for shot in shots)
            if colour is not None
        )
        if len(colours) < PHOTOS_TOGETHER:
            continue
        good = next(place for place in range(PHOTOS_TOGETHER) if place != wrong)
        joined = combine(colours)
        true = shots[good].lab
        off = np.array(joined.colour.lab) - true
        distance = off @ np.linalg.solve(np.array(joined.colour.covariance), off)
        rows.append(
            (
                deltaE_ciede2000(np.array(colours[good].lab), true),
                deltaE_ciede2000(np.array(joined.colour.lab), true),
                distance <= JOINT_95,
                joined.odd is not None and joined.odd == wrong,
                joined.odd is not None and joined.odd != wrong,
            )
        )
    single, both, joint, named, accused = map(np.array, zip(*rows, strict=True))
    return Together(single, both, joint, named, accused)
