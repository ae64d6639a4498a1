"""A bench with a swatch, references and light on it."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .cameras import VARIANT_SEED
from .layout import Box, ChartPlace, lay_chart, lay_rectangle, marked
from .spectra import LIGHT_GROUPS, WAVELENGTHS_NM, light
from .subject import REFERENCE_SETS, Subject, draw_subject

FloatArray = NDArray[np.float64]

SIZE = (900, 700)
"""Width and height of an upright picture. [px]"""
SIZE_24_MEGAPIXELS = (6000, 4000)

CHART_FRAME = 0.035
"""Reflectance of the chart's frame and of the gaps between patches."""


@dataclass(frozen=True)
class Conditions:
    """How hard the scene is.

    Attributes
    ----------
    size : tuple of int
        Width and height of the upright picture. [px]
    lights : str or None
        A group of `LIGHT_GROUPS`, or any with None.
    gradient : float
        Largest fall of illumination, plus and minus, over the picture.
    vignetting : float
        Largest loss in the corners.
    highlight : float
        Probability of a highlight on the swatch.
    texture : float
        Scale of the texture of areas; 1 is usual.
    glare : float
        Largest share of the picture's mean light scattered over all of it.
    camera_seed : int
        Seed of the varied cameras.
    """

    size: tuple[int, int] = SIZE
    lights: str | None = None
    gradient: float = 0.15
    vignetting: float = 0.10
    highlight: float = 0.6
    texture: float = 1.0
    glare: float = 0.005
    camera_seed: int = VARIANT_SEED


USUAL = Conditions()
IDEAL = Conditions(
    lights="daylight",
    gradient=0.0,
    vignetting=0.0,
    highlight=0.0,
    texture=0.0,
    glare=0.0,
)


@dataclass(frozen=True)
class Area:
    """A flat area of one colour.

    Attributes
    ----------
    outline : FloatArray
        Corners as fractions of the upright picture, shape (corners, 2).
    reflectance : FloatArray
        Shape (61,).
    texture : float
        Relative standard deviation of its reflectance from place to place.
    metered : bool
        Whether the exposure is set so that it does not clip.
    """

    outline: FloatArray
    reflectance: FloatArray
    texture: float
    metered: bool


@dataclass(frozen=True)
class Highlight:
    """A mirror image of the light.

    Attributes
    ----------
    centre : tuple of float
        As fractions of the picture.
    radius : float
        Standard deviation of the blob, as a fraction of the picture's width.
    strength : float
        Peak in units of a perfect white diffuser.
    """

    centre: tuple[float, float]
    radius: float
    strength: float


@dataclass(frozen=True)
class Scene:
    """What is in front of the camera.

    Attributes
    ----------
    subject : Subject
        Swatch, references and camera.
    size : tuple of int
        Width and height of the upright picture. [px]
    bench : FloatArray
        Reflectance of the background, shape (61,).
    areas : tuple of Area
        Drawn over the bench in this order.
    swatch, references : Box
        What a user marks, inside the areas.
    chart : ChartPlace or None
        Where the chart lies.
    light_name, light_group : str
        The light; a mixture is named by both.
    light : FloatArray
        Relative power, shape (61,).
    gradient : tuple of float
        Relative rise of illumination from the middle to the edges in x and y.
    vignetting : float
        Loss in the corners.
    glare : float
        Share of the mean light that is everywhere.
    texture : float
        Texture of the bench.
    highlight : Highlight or None
        On the swatch.
    """

    subject: Subject
    size: tuple[int, int]
    bench: FloatArray
    areas: tuple[Area, ...]
    swatch: Box
    references: tuple[Box, ...]
    chart: ChartPlace | None
    light_name: str
    light_group: str
    light: FloatArray
    gradient: tuple[float, float]
    vignetting: float
    glare: float
    texture: float
    highlight: Highlight | None


def draw_scene(
    rng: np.random.Generator,
    reference: str = "grey card",
    conditions: Conditions = USUAL,
    subject: Subject | None = None,
) -> Scene:
    """Draw a scene.

    Parameters
    ----------
    rng : np.random.Generator
        Source of all randomness.
    reference : str
        One of `REFERENCE_SETS`; the subject's own where one is given.
    conditions : Conditions
        How hard it is.
    subject : Subject, optional
        What is photographed; drawn unless given.

    Returns
    -------
    Scene
    """
    subject = subject or draw_subject(rng, reference, conditions.camera_seed)
    left = bool(rng.random() < 0.5)
    swatch_outline, neutral_outlines, chart = _lay_out(rng, subject, conditions, left)
    swatch = marked(swatch_outline, rng)
    texture = conditions.texture
    areas = [Area(swatch_outline, subject.swatch, 0.007 * texture, metered=True)]
    for outline, reflectance in zip(neutral_outlines, subject.neutrals, strict=True):
        areas.append(Area(outline, reflectance, 0.005 * texture, metered=True))
    if chart is not None and subject.chart is not None:
        frame = np.full_like(WAVELENGTHS_NM, CHART_FRAME)
        areas.append(Area(chart.frame, frame, 0.02 * texture, metered=False))
        for outline, reflectance in zip(chart.patches, subject.chart, strict=True):
            areas.append(Area(outline, reflectance, 0.004 * texture, metered=True))
    name, group, power = _draw_light(rng, conditions.lights)
    angle = rng.uniform(0.0, 2.0 * np.pi)
    slope = conditions.gradient * rng.uniform(0.2, 1.0)
    direction = np.array([np.cos(angle), np.sin(angle)])
    direction *= slope / np.abs(direction).sum()
    return Scene(
        subject=subject,
        size=conditions.size,
        bench=_draw_bench(rng),
        areas=tuple(areas),
        swatch=swatch,
        references=tuple(marked(each, rng) for each in neutral_outlines),
        chart=chart,
        light_name=name,
        light_group=group,
        light=power,
        gradient=(float(direction[0]), float(direction[1])),
        vignetting=conditions.vignetting * float(rng.uniform()),
        glare=conditions.glare * float(rng.uniform()),
        texture=0.04 * texture,
        highlight=_draw_highlight(rng, swatch, conditions.highlight),
    )


def _lay_out(
    rng: np.random.Generator,
    subject: Subject,
    conditions: Conditions,
    left: bool,  # noqa: FBT001
) -> tuple[FloatArray, list[FloatArray], ChartPlace | None]:
    """Outlines of the swatch and the neutrals, and the chart's place."""
    aspect = conditions.size[0] / conditions.size[1]
    split = 0.36 if subject.chart is not None else rng.uniform(0.45, 0.55)
    own, beside = (0.04, split - 0.03), (split + 0.03, 0.96)
    if not left:
        own, beside = (1.0 - own[1], 1.0 - own[0]), (1.0 - beside[1], 1.0 - beside[0])
    swatch = lay_rectangle((own[0], 0.12, own[1], 0.88), aspect, rng)
    chart = None
    if subject.chart is not None:
        chart = lay_chart((beside[0], 0.05, beside[1], 0.95), aspect, rng)
    count = len(REFERENCE_SETS[subject.reference])
    rows = np.linspace(0.06, 0.94, count + 1)
    neutrals = [
        lay_rectangle((beside[0], top + 0.02, beside[1], bottom - 0.02), aspect, rng)
        for top, bottom in itertools.pairwise(rows)
    ]
    return swatch, neutrals, chart


def _draw_bench(rng: np.random.Generator) -> FloatArray:
    """A grey to brown bench, shape (61,)."""
    level = rng.uniform(0.05, 0.35)
    brown = rng.uniform(0.0, 0.8)
    return np.asarray(level * np.exp(brown * (WAVELENGTHS_NM - 550.0) / 150.0))


def _draw_light(
    rng: np.random.Generator, group: str | None
) -> tuple[str, str, FloatArray]:
    """Name, group and power of a light; a third are mixtures within a group or LEDs."""
    group = group or str(rng.choice(list(LIGHT_GROUPS)))
    name = str(rng.choice(LIGHT_GROUPS[group]))
    if group == "A" or rng.random() > 1.0 / 3.0:
        return name, group, light(name)
    others = [
        *LIGHT_GROUPS["daylight"],
        *(LIGHT_GROUPS["LED"] if group == "LED" else ()),
    ]
    other = str(rng.choice([each for each in others if each != name]))
    share = rng.uniform(0.5, 0.9)
    return (
        f"{name} + {other}",
        group,
        share * light(name) + (1.0 - share) * light(other),
    )


def _draw_highlight(
    rng: np.random.Generator, swatch: Box, probability: float
) -> Highlight | None:
    if rng.random() >= probability:
        return None
    left, top, right, bottom = swatch
    return Highlight(
        (float(rng.uniform(left, right)), float(rng.uniform(top, bottom))),
        float(rng.uniform(0.03, 0.09) * (right - left)),
        float(rng.uniform(0.5, 4.0)),
    )
