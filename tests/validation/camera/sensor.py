"""From a scene to raw values."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from .scene import Scene

FloatArray = NDArray[np.float64]
Pixels = NDArray[np.float32]

CLIPPING_SHARE = 0.04
"""Share of shots exposed so long that the brightest area clips."""
BRIGHTEST = (0.60, 0.95)
"""Where the brightest area lands in the encoded picture."""
CLIPPED = (1.0, 1.08)
_VIRTUAL_WHITE = 0.88


@dataclass(frozen=True)
class Sensor:
    """Noise of a sensor at the gain in use.

    Attributes
    ----------
    full_well : float
        Electrons at saturation; infinite for no shot noise.
    read_noise : float
        Standard deviation as a share of saturation.
    bits : int
        Of the converter.
    blur : bool
        Whether lens and demosaicing blur by about a pixel.
    """

    full_well: float
    read_noise: float
    bits: int
    blur: bool = True


NOISELESS = Sensor(np.inf, 0.0, 16, blur=False)


def draw_sensor(rng: np.random.Generator) -> Sensor:
    """Draw the noise of a small sensor in good to dim light."""
    full_well = float(np.exp(rng.uniform(np.log(1500.0), np.log(20000.0))))
    return Sensor(full_well, float(rng.uniform(1.5, 4.0)) / full_well, _bits(rng))


def label_map(scene: Scene) -> NDArray[np.uint8]:
    """Number of the area at each pixel, 0 for the bench, shape (height, width)."""
    width, height = scene.size
    image = Image.new("L", scene.size, 0)
    draw = ImageDraw.Draw(image)
    for number, area in enumerate(scene.areas, start=1):
        # Pixel centres lie half a pixel in.
        points = area.outline * [width, height] - 0.5
        draw.polygon([tuple(point) for point in points], fill=number)
    return np.asarray(image)


def illumination(scene: Scene) -> Pixels:
    """Light at each pixel relative to the middle, shape (height, width)."""
    x, y = _axes(scene)
    ramp = 1.0 + scene.gradient[0] * x[None, :] + scene.gradient[1] * y[:, None]
    loss = 1.0 - scene.vignetting * (x[None, :] ** 2 + y[:, None] ** 2) / 2.0
    return np.asarray(ramp * loss, dtype=np.float32)


def white_raw(scene: Scene) -> FloatArray:
    """Raw values of a perfect diffuser, the largest being 1, shape (3,)."""
    raw = scene.light @ scene.subject.camera.sensitivities
    return np.asarray(raw / raw.max(), dtype=np.float64)


def palette(scene: Scene) -> FloatArray:
    """Raw values of the bench and the areas, on the scale of `white_raw`.

    Returns
    -------
    FloatArray
        Shape (1 + areas, 3).
    """
    reflectance = np.stack([scene.bench, *(area.reflectance for area in scene.areas)])
    sensitivities = scene.subject.camera.sensitivities
    scale = (scene.light @ sensitivities).max()
    return np.asarray((reflectance * scene.light) @ sensitivities / scale)


def draw_exposure(scene: Scene, rng: np.random.Generator) -> float:
    """Draw the factor from the scale of `palette` to raw saturation.

    The brightest of the swatch and the references lands as `BRIGHTEST` or `CLIPPED`
    say; without a reference, a sheet of paper would.
    """
    # Area corners see the most light, near enough.
    x, y = (
        np.concatenate([area.outline[:, i] for area in scene.areas]) * 2.0 - 1.0
        for i in range(2)
    )
    most = 1.0 + max(0.0, float((scene.gradient[0] * x + scene.gradient[1] * y).max()))
    metered = [place for place, area in enumerate(scene.areas, 1) if area.metered]
    brightest = float((palette(scene) / white_raw(scene))[metered].max())
    if not scene.references and scene.chart is None:
        brightest = max(brightest, _VIRTUAL_WHITE)
    span = CLIPPED if rng.random() < CLIPPING_SHARE else BRIGHTEST
    encoded = rng.uniform(*span)
    return float(((encoded + 0.055) / 1.055) ** 2.4 / (brightest * most))


def expose(
    scene: Scene, exposure: float, sensor: Sensor, rng: np.random.Generator
) -> Pixels:
    """Raw values of a shot, white at saturation being 1.

    Parameters
    ----------
    scene : Scene
        What is photographed.
    exposure : float
        Factor from the scale of `palette` to saturation.
    sensor : Sensor
        Noise, resolution and blur.
    rng : np.random.Generator
        Source of all randomness.

    Returns
    -------
    Pixels
        Shape (height, width, 3), 0..1.
    """
    labels = label_map(scene)
    field = illumination(scene) * _texture(scene, labels, rng)
    raw = (exposure * palette(scene)).astype(np.float32)[labels]
    raw *= field[..., None]
    if scene.highlight is not None:
        _add_highlight(raw, scene, exposure)
    raw += np.float32(scene.glare) * raw.mean(axis=(0, 1))
    if sensor.blur:
        raw = _blurred(raw)
    _add_noise(raw, sensor, rng)
    steps = np.float32(2**sensor.bits - 1)
    np.clip(raw, 0.0, 1.0, out=raw)
    np.rint(raw * steps, out=raw)
    raw /= steps
    return _blurred(raw) if sensor.blur else raw


def _bits(rng: np.random.Generator) -> int:
    return int(rng.choice([12, 13, 14]))


def _axes(scene: Scene) -> tuple[Pixels, Pixels]:
    """Pixel centres from -1 to 1 over the width and over the height."""
    width, height = scene.size
    x = (np.arange(width, dtype=np.float32) + 0.5) / width * 2.0 - 1.0
    y = (np.arange(height, dtype=np.float32) + 0.5) / height * 2.0 - 1.0
    return x.astype(np.float32), y.astype(np.float32)


def _texture(
    scene: Scene, labels: NDArray[np.uint8], rng: np.random.Generator
) -> Pixels | np.float32:
    """Factor of reflectance from place to place, in grains of two pixels."""
    sizes = np.array(
        [scene.texture, *(area.texture for area in scene.areas)], dtype=np.float32
    )
    if not sizes.any():
        return np.float32(1.0)
    height, width = labels.shape
    grain = rng.standard_normal((height // 2 + 1, width // 2 + 1), dtype=np.float32)
    grain = grain.repeat(2, axis=0)[:height].repeat(2, axis=1)[:, :width]
    return np.asarray(1.0 + sizes[labels] * grain, dtype=np.float32)


def _add_highlight(raw: Pixels, scene: Scene, exposure: float) -> None:
    highlight = scene.highlight
    if highlight is None:
        return
    x, y = _axes(scene)
    width, height = scene.size
    across = ((x + 1.0) / 2.0 - highlight.centre[0]) / highlight.radius
    down = ((y + 1.0) / 2.0 - highlight.centre[1]) / highlight.radius * height / width
    blob = np.exp(-0.5 * (across[None, :] ** 2 + down[:, None] ** 2))
    strength = (exposure * highlight.strength * white_raw(scene)).astype(np.float32)
    raw += blob.astype(np.float32)[..., None] * strength


def _add_noise(raw: Pixels, sensor: Sensor, rng: np.random.Generator) -> None:
    if np.isinf(sensor.full_well) and sensor.read_noise == 0.0:
        return
    variance = np.maximum(raw, 0.0) / np.float32(sensor.full_well)
    variance += np.float32(sensor.read_noise**2)
    raw += np.sqrt(variance) * rng.standard_normal(raw.shape, dtype=np.float32)


def _blurred(raw: Pixels) -> Pixels:
    """Binomial blur over three pixels each way, edges kept."""
    out = raw.copy()
    out[1:-1] = 0.5 * raw[1:-1] + 0.25 * (raw[:-2] + raw[2:])
    again = out.copy()
    again[:, 1:-1] = 0.5 * out[:, 1:-1] + 0.25 * (out[:, :-2] + out[:, 2:])
    return again
