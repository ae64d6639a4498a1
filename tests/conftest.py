"""What every test needs before colour-science is imported."""

import os

# Its note about plotting would be an error here, and nothing plots.
os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
