"""Start the command line: by ``shadecore``, or by ``python -m shadecore``."""

import sys

from shadecore.commands.status import INTERRUPTED


def main() -> int:
    """Run the command line.

    Returns
    -------
    int
        Its exit status; see :func:`shadecore.cli.main`.
    """
    try:
        # Loading it takes a moment, in which it can be interrupted, too.
        from shadecore.cli import main as run  # noqa: PLC0415
    except KeyboardInterrupt:
        sys.stderr.write("shadecore: Interrupted; nothing was done.\n")
        return INTERRUPTED
    return run()


if __name__ == "__main__":
    sys.exit(main())
