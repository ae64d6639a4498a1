"""Shots of a scene: the file, what a user would mark in it, and the truth."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from .develop import Development, develop, draw_development, draw_look
from .files import FileKind, draw_file_kind, stored
from .layout import Box
from .scene import USUAL, Conditions, Scene, draw_scene
from .sensor import Sensor, draw_exposure, draw_sensor, expose
from .spectra import EVERY_TEN, lab_10
from .subject import REFERENCE_SETS, draw_subject, draw_swatch

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Shot:
    """A photo, what is marked in it, and what is true.

    Attributes
    ----------
    content : bytes
        The file.
    name : str
        Its name.
    swatch : Box
        Mark on the swatch, as fractions of the upright picture.
    references : tuple of (str, Box)
        Kind of each neutral reference and the mark on it.
    chart_corners : tuple of tuple of float, or None
        Middles of the chart's patches 1, 6, 24 and 19 (x, y).
    chart_centres : FloatArray or None
        Middles of the 24 patches, shape (24, 2).
    lab : FloatArray
        True L*, a*, b* of the swatch for D65 and 10 degrees, shape (3,).
    reflectance : FloatArray
        Its reflectance on 400 to 700 nm by 10 nm, shape (31,).
    light_name, light_group : str
        The light.
    camera : int
        Number of the camera.
    """

    content: bytes
    name: str
    swatch: Box
    references: tuple[tuple[str, Box], ...]
    chart_corners: tuple[tuple[float, float], ...] | None
    chart_centres: FloatArray | None
    lab: FloatArray
    reflectance: FloatArray
    light_name: str
    light_group: str
    camera: int


@dataclass(frozen=True)
class Taking:
    """How a shot is taken.

    Attributes
    ----------
    exposure : float
        Factor from a perfect diffuser's largest raw value to saturation.
    sensor : Sensor
        Noise.
    development : Development
        White balance and encoding.
    file : FileKind
        Format.
    """

    exposure: float
    sensor: Sensor
    development: Development
    file: FileKind


def draw_taking(
    scene: Scene, rng: np.random.Generator, *, vendor_look: bool = False
) -> Taking:
    """Draw exposure, noise, white balance and file.

    Parameters
    ----------
    scene : Scene
        What is photographed.
    rng : np.random.Generator
        Source of all randomness.
    vendor_look : bool
        Whether the camera bends tones and saturation to please.

    Returns
    -------
    Taking
    """
    development = draw_development(scene, rng)
    if vendor_look:
        development = replace(development, look=draw_look(rng))
    return Taking(
        draw_exposure(scene, rng), draw_sensor(rng), development, draw_file_kind(rng)
    )


def photograph(
    scene: Scene,
    rng: np.random.Generator,
    taking: Taking | None = None,
    *,
    vendor_look: bool = False,
) -> Shot:
    """Take a shot of a scene.

    Parameters
    ----------
    scene : Scene
        What is photographed.
    rng : np.random.Generator
        Source of all randomness.
    taking : Taking, optional
        How; drawn unless given.
    vendor_look : bool
        Whether a drawn taking bends tones and saturation to please.

    Returns
    -------
    Shot
    """
    taking = taking or draw_taking(scene, rng, vendor_look=vendor_look)
    raw = expose(scene, taking.exposure, taking.sensor, rng)
    picture = develop(raw, scene, taking.development)
    kinds = REFERENCE_SETS[scene.subject.reference]
    chart = scene.chart
    return Shot(
        content=stored(picture, taking.development.space, taking.file),
        name=f"photo{taking.file.suffix}",
        swatch=scene.swatch,
        references=tuple(zip(kinds, scene.references, strict=True)),
        chart_corners=(
            None
            if chart is None
            else tuple((float(x), float(y)) for x, y in chart.corners)
        ),
        chart_centres=None if chart is None else chart.centres,
        lab=scene.subject.lab,
        reflectance=scene.subject.swatch[EVERY_TEN],
        light_name=scene.light_name,
        light_group=scene.light_group,
        camera=scene.subject.camera_number,
    )


def photograph_again(
    rng: np.random.Generator,
    reference: str,
    count: int,
    wrong: int | None = None,
    conditions: Conditions = USUAL,
    *,
    same_light: bool = True,
) -> tuple[Shot, ...]:
    """Photograph one swatch several times, each time laid and exposed anew.

    Parameters
    ----------
    rng : np.random.Generator
        Source of all randomness.
    reference : str
        One of the reference sets.
    count : int
        Shots.
    wrong : int, optional
        Which of them shows another swatch, at least `WRONG_APART` from the right one.
    conditions : Conditions
        How hard the scenes are.
    same_light : bool
        Whether all are taken in one place, or each in another light.

    Returns
    -------
    tuple of Shot
        The truth of each is that of the swatch it shows.
    """
    subject = draw_subject(rng, reference, conditions.camera_seed)
    other = replace(subject, swatch=_another(rng, subject.swatch))
    scenes = [
        draw_scene(rng, reference, conditions, other if number == wrong else subject)
        for number in range(count)
    ]
    if same_light:
        first = scenes[0]
        scenes = [
            replace(
                scene,
                light=first.light,
                light_name=first.light_name,
                light_group=first.light_group,
            )
            for scene in scenes
        ]
    return tuple(photograph(scene, rng) for scene in scenes)


WRONG_APART = 10.0
"""Least distance in CIELAB of a wrong swatch: no one mistakes closer ones for wrong."""


def _another(rng: np.random.Generator, swatch: FloatArray) -> FloatArray:
    while True:
        other = draw_swatch(rng)
        if np.linalg.norm(lab_10(other) - lab_10(swatch)) >= WRONG_APART:
            return other
