"""``app``: the screens in a browser, for this computer alone."""

import argparse
import json
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import shadecore.screens
from shadecore.datafiles import screens_settings

_PORT: Final = 8501


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "app",
        help="the screens, in a browser",
        description="Starts the screens for this computer alone: no usage statistics, "
        "nothing from elsewhere.",
    )
    parser.add_argument(
        "--port", type=int, default=_PORT, help="%(default)s unless given"
    )
    parser.add_argument("--headless", action="store_true", help="do not open a browser")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    start = Path(shadecore.screens.__file__).with_name("start.py")
    kept = tomllib.loads(screens_settings().read_text("utf-8"))
    own = {"server": {"port": options.port, "headless": options.headless}}
    words = [*_words(kept), *_words(own)]
    command = [sys.executable, "-m", "streamlit", "run", str(start), *words]
    return subprocess.call(command)  # noqa: S603 - our own page, by our own Python


def _words(settings: Mapping[str, Any], before: str = "--") -> Iterator[str]:
    """Settings as Streamlit takes them on its command line."""
    for name, value in settings.items():
        if isinstance(value, dict):
            yield from _words(value, f"{before}{name}.")
        else:
            yield f"{before}{name}"
            yield value if isinstance(value, str) else json.dumps(value)
