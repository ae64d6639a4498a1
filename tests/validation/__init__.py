"""Independent ground truth: simulated paints, solved exactly, and how to score."""

import os

# colour-science notes on import that it cannot plot, which nothing here wants.
os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
