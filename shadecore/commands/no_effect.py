"""Words of ``plan`` that would change nothing are refused, not passed over."""

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from shadecore.errors import SettingError
from shadecore.formats.echo import choices, shown
from shadecore.job.kinds import RE_CLEAR
from shadecore.job.plan import Plan
from shadecore.job.sides import panel_of, pieces

_OF_COLOUR: Final = ("sealer", "coats", "old_finish", "surfacer")
"""Words about the colour, which a job of clear alone does not have."""
_OF_BOOTH: Final = ("booth_m3", "booth_flow")
"""Words that stand on the sheet and nowhere else."""
_SHEETS: Final = ("", ".pdf", ".html")
"""Endings of files that a sheet or an estimate goes into; none for the terminal."""


def check_effect(options: argparse.Namespace, plan: Plan) -> None:
    """Make sure that each word says something of the job that was planned.

    Parameters
    ----------
    options : argparse.Namespace
        Of ``plan``.
    plan : Plan
        What was planned with them.

    Raises
    ------
    SettingError
        If one does not.
    """
    for problem in _problems(options, plan):
        raise SettingError(problem)


def _problems(options: argparse.Namespace, plan: Plan) -> Iterator[str]:
    yield from _of_steps(options, plan)
    yield from _of_panels(options, plan)
    yield from _of_colour(options, plan)
    yield from _of_times(options, plan)
    ending = Path(options.out).suffix.lower() if options.out else ""
    if ending in _SHEETS:
        return
    words = [name for name in _OF_BOOTH if getattr(options, name) is not None]
    for name in (*(["estimate"] if options.estimate else []), *words):
        word = f"--{name.replace('_', '-')}"
        yield f"{word} is for a sheet, and {ending} holds none; leave it out."


def _of_steps(options: argparse.Namespace, plan: Plan) -> Iterator[str]:
    if options.write_steps is not None and not plan.request.details.changes:
        yield "--write-steps: the job has no steps of the shop's own to write."
    left = [each.step.key for each in plan.timeline if not each.done]
    for each in options.begun:
        key = each.partition("=")[0].strip()
        if key not in left:
            yield (
                f"--begun {shown(key)}: this job has no such step that is not done; "
                f"take one of {choices(left, key)}."
            )


def _of_panels(options: argparse.Namespace, plan: Plan) -> Iterator[str]:
    there = pieces(plan.request)
    for each in options.substrate:
        panel = each.partition("=")[0].strip()
        if panel not in there and panel not in map(panel_of, there):
            yield (
                f"--substrate {shown(panel)}: the job has no such panel; take one of "
                f"{choices(there, panel)}."
            )


def _of_colour(options: argparse.Namespace, plan: Plan) -> Iterator[str]:
    choice = plan.picked.choice
    for name in _OF_COLOUR:
        word = f"--{name.replace('_', '-')}"
        if choice is None and getattr(options, name) is not None:
            yield f"{word} is for a job with colour, not for --kind {RE_CLEAR}."
    if options.surfacer is not None and choice is not None and choice.sealed:
        yield (
            "--surfacer is for a job without a sealer, which covers it in this one; "
            "leave it out, or add --sealer none."
        )


def _of_times(options: argparse.Namespace, plan: Plan) -> Iterator[str]:
    first = min(plan.request.start, plan.timeline[0].start).date()
    for each in options.holiday:
        if each < first.isoformat():
            yield (
                f"--holiday {shown(each)} lies before the job, which starts on "
                f"{first}; correct its date or leave it out."
            )
