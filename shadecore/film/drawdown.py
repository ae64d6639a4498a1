"""What counts as hiding over a black and white chart, by convention."""

from typing import Final

COMPLETE_HIDING: Final = 0.98
CHART_WHITE: Final = 0.80
"""Contrast ratio and white of the hiding equation, conventions of ASTM D2805."""
