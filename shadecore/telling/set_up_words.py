"""What a job's set-up says of itself, in a line each."""

from collections.abc import Sequence
from typing import Final

from shadecore.coats.answer import Outlook
from shadecore.formats.echo import brief
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.shop_hours import hours_of
from shadecore.job.substrates import substrates_of
from shadecore.job.trade_steps import TradeStep
from shadecore.telling.counts import coats_words
from shadecore.telling.job_words import grit_words, step_title, when_words
from shadecore.telling.names import mix_in_brief
from shadecore.units import Units, percent

_MOST_NAMED: Final = 4


def step_line(timed: Timed) -> str:
    """A step in one line, for a list to choose from.

    Parameters
    ----------
    timed : Timed
        The step in its time.

    Returns
    -------
    str
    """
    coats = f", {coats_words(timed.step.coats)}" if timed.step.coats else ""
    grits = grit_words(timed.step.grits)
    done = ", done" if timed.done else ""
    more = f" ({grits})" if grits else ""
    return f"{brief(timed.step.title)}{more}{coats}{done}, {when_words(timed.start)}"


def sealer_choice_words(one: Outlook, best: Outlook) -> str:
    """An undercoat to choose, with its coats and what they are beside the pick's.

    Parameters
    ----------
    one : Outlook
        The undercoat.
    best : Outlook
        The pick's.

    Returns
    -------
    str
        Such as ``Black N 2: 5 coats, 2 more``; what a mix is mixed of stands last,
        since a narrow menu cuts it off.
    """
    name, mixed_of = brief(one.undercoat.name), ""
    if one.undercoat.parts:
        name, mixed_of = mix_in_brief(one.undercoat)
        mixed_of = f" ({mixed_of})"
    if one.coats is None:
        return f"{name}: does not hide in the coats allowed{mixed_of}"
    more = one.coats - best.coats if best.coats is not None else 0
    beside = f", {more} more" if more > 0 else ""
    return f"{name}: {coats_words(one.coats)}{beside}{mixed_of}"


def panels_words(job: JobRequest, units: Units) -> str:
    """What is painted, in brief.

    Parameters
    ----------
    job : JobRequest
        The job.
    units : Units
        What areas are shown in.

    Returns
    -------
    str
    """
    pieces = sum(count for _, count in job.panels)
    told = [f"{pieces} panel" if pieces == 1 else f"{pieces} panels"]
    if job.area_m2:
        told.append(f"{units.area.show(job.area_m2)} more")
    names = [each.name.lower() for each in substrates_of(job.details.substrate_keys)]
    return ", ".join((*told, *names))


def air_words(job: JobRequest, units: Units) -> str:
    """Weather and cure in brief.

    Parameters
    ----------
    job : JobRequest
        The job.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    str
    """
    if job.details.days:
        days = len(job.details.days)
        return f"{days} day told" if days == 1 else f"{days} days told"
    show = units.temperature.show
    return (
        f"Air {show(job.air_c)}, panel {show(job.panel_c)}, humidity "
        f"{percent(job.humidity)}"
    )


def shop_hours_words(job: JobRequest) -> str:
    """The shop's hours in brief.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
    """
    hours = hours_of(job.breaks)
    if hours is None:
        return "day and night"
    return f"{hours.opens:%H:%M} to {hours.closes:%H:%M}"


def chosen_words(job: JobRequest, taken: str) -> str:
    """Sealer and coats in brief.

    Parameters
    ----------
    job : JobRequest
        The job.
    taken : str
        The undercoat of the plan.

    Returns
    -------
    str
    """
    coats = f", {coats_words(job.coats)}" if job.coats else ""
    own = " by your choice" if job.sealer or job.coats else ""
    return f"{brief(taken)}{coats}{own}"


def step_count_words(plan: Plan) -> str:
    """How many steps there are, and whether some are the painter's own.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
    """
    own = ", your own among them" if plan.request.details.changes else ""
    return f"{len(plan.timeline)} steps{own}"


def changes_words(changes: Sequence[StepChange]) -> str:
    """What a set of steps does otherwise than usual, in brief.

    Parameters
    ----------
    changes : sequence of StepChange
        The changes.

    Returns
    -------
    str
        Such as ``left out: Wash; changed or added: Mask twice``.
    """
    told = []
    for what, dropped in (("left out", True), ("changed or added", False)):
        names = [change_name(each) for each in changes if each.drop is dropped]
        more = len(names) - _MOST_NAMED
        if names:
            listed = ", ".join(names[:_MOST_NAMED])
            told.append(f"{what}: {listed}{f' and {more} more' if more > 0 else ''}")
    return "; ".join(told)


def change_name(change: StepChange) -> str:
    """A step that a change is about.

    Parameters
    ----------
    change : StepChange
        The change.

    Returns
    -------
    str
        Its title, where it has one of its own or the trade gives it one.
    """
    return brief(change.title or step_title(change.key))


def usual_place_words(trade: TradeStep) -> str:
    """What a step of the trade is for, and where it usually comes.

    Parameters
    ----------
    trade : TradeStep
        The step.

    Returns
    -------
    str
    """
    return f"{trade.purpose} Usually after: {step_title(trade.after)}."


def job_span_words(plan: Plan) -> str:
    """From when to when a job is planned, and what its cans cost.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
    """
    first, last = plan.timeline[0], plan.timeline[-1]
    return (
        f"{when_words(first.start)} to {when_words(last.end)}. Cans come to "
        f"{plan.cost:.2f} {plan.sheet.currency}."
    )
