"""Simulated photographs of swatches whose spectra were measured.

Light, reflectance and camera are integrated band by band; nothing here comes from
shadecore, so that what it reads from the pictures can be checked against the spectra.
"""

from .cameras import HELD_OUT_SEED
from .photograph import Shot, photograph, photograph_again
from .scene import USUAL, Conditions, Scene, draw_scene
from .subject import REFERENCE_SETS, Subject, draw_subject

__all__ = [
    "HELD_OUT_SEED",
    "REFERENCE_SETS",
    "USUAL",
    "Conditions",
    "Scene",
    "Shot",
    "Subject",
    "draw_scene",
    "draw_subject",
    "photograph",
    "photograph_again",
]
