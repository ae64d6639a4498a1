"""Run the command line by ``python -m shadecore``."""

import sys

from shadecore.cli import main

sys.exit(main())
