"""What the plan's page shows as HTML: the film coat by coat, the time between coats."""

import math
from datetime import datetime, timedelta
from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.job.coat_timer import CoatTimer
from shadecore.job.plan import Plan
from shadecore.pages.booth_sheet import booth_sheet, film_strip
from shadecore.telling.basis import SCREEN_NOTE
from shadecore.telling.counts import place_words

STYLE = """
<style>
.sc-coats {display: flex; flex-wrap: wrap; gap: .4rem; margin-top: .6rem;}
.sc-coats figure {margin: 0; flex: 1 1 3.2rem;}
.sc-coats i {display: block; height: 2.6rem; border: 1px solid #8a8a8a;}
.sc-coats figcaption {font-size: .875rem; line-height: 1.3;}
.sc-timer {border: 3px solid currentColor; padding: .4rem .8rem; font-size: 1.5rem;
  line-height: 1.3; font-variant-numeric: tabular-nums;}
.sc-timer b {display: block; font-size: clamp(4.5rem, 22vw, 8rem); line-height: 1;}
.sc-timer.over {border-width: 12px;}
</style>
"""


def coats_html(plan: Plan) -> str:
    """The film coat by coat over the picked sealer, and what is planned from.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
    """
    strip = film_strip(plan.answer.recommended).swatches
    colours = hex_from_lab([each.lab for each in strip])
    figures = "".join(
        f'<figure><i role="img" aria-label="{escape(each.title)}" '
        f'style="background:{colour}"></i><figcaption>{escape(each.title)}<br>'
        f"{escape(each.text)}</figcaption></figure>"
        for each, colour in zip(strip, colours, strict=True)
    )
    return (
        f'<div class="sc-coats">{figures}</div><p class="sc-small">Difference left to '
        f"the full colour after each coat (CIEDE2000). {SCREEN_NOTE}<br>"
        f"{escape(booth_sheet(plan).subtitle)}</p>"
    )


def timer_html(timer: CoatTimer, now: datetime) -> str:
    """The time until the next coat, to be read from the gun.

    Parameters
    ----------
    timer : CoatTimer
        Between two coats.
    now : datetime
        In the shop's own time.

    Returns
    -------
    str
        Empty where no coat is waited for.
    """
    if timer.next_at is None:
        return ""
    coming = timer.sprayed + 1
    left = timer.next_at - now
    over = left <= timedelta()
    big = f"Coat {coming}" if over else clock(left)
    below = (
        f"may be sprayed since {clock(-left)}, if the film is dull"
        if over
        else f"until coat {coming}; flash {clock(timer.flash)} at this panel"
    )
    return (
        f'<div class="sc-timer{" over" if over else ""}" role="timer">'
        f"Coat {place_words(timer.sprayed, timer.coats)} sprayed"
        f"<b>{big}</b>{below}</div>"
    )


def clock(time: timedelta) -> str:
    """A time as on a stop watch.

    Parameters
    ----------
    time : timedelta
        Not below zero.

    Returns
    -------
    str
        Minutes and seconds, hours where there are any; a second begun counts.

    Examples
    --------
    >>> clock(timedelta(minutes=9, seconds=5.2))
    '9:06'
    """
    minutes, seconds = divmod(math.ceil(time.total_seconds()), 60)
    hours, minutes = divmod(minutes, 60)
    return (
        f"{hours}:{minutes:02d}:{seconds:02d}" if hours else f"{minutes}:{seconds:02d}"
    )
