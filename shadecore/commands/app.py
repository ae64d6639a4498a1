"""``app``: the screens in a browser, for this computer alone unless asked."""

import argparse
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any, Final

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
    parser.add_argument(
        "--share",
        action="store_true",
        help="let phones on the shop's network in, by the device code that the page "
        '"Open on phone" shows',
    )
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    # Streamlit takes long to load, and no other command needs it.
    from shadecore.serving import asgi  # noqa: PLC0415

    kept = tomllib.loads(screens_settings().read_text("utf-8"))
    own = {"server": {"port": options.port, "headless": options.headless}}
    asgi.run({**dict(_settings(kept)), **dict(_settings(own))}, share=options.share)
    return 0


def _settings(
    settings: Mapping[str, Any], before: str = ""
) -> Iterator[tuple[str, Any]]:
    """Settings by the dotted names that Streamlit takes."""
    for name, value in settings.items():
        if isinstance(value, dict):
            yield from _settings(value, f"{before}{name}.")
        else:
            yield f"{before}{name}", value
