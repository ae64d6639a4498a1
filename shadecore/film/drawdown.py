"""Conventions for rating hiding over a black and white chart."""

from typing import Final

COMPLETE_HIDING: Final = 0.98
"""Contrast ratio from which a film counts as hiding completely, ASTM D2805."""
CHART_WHITE: Final = 0.80
"""Reflectance of the chart's white half in the hiding equation, ASTM D2805."""
