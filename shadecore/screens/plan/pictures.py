"""What the plan's page shows as HTML: the swatches, and the film coat by coat."""

from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.job.plan import Plan
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import film_strip
from shadecore.pages.html_drawn import BY_HAND_STYLE
from shadecore.screens import pictures
from shadecore.telling.basis import SCREEN_NOTE

STYLE = (
    f"<style>{BY_HAND_STYLE}</style>"
    """
<style>
[data-testid="stMain"] h1 {font-size: 1.7rem; padding: 0;}
[data-testid="stMain"] .st-key-plan_view button[aria-checked="true"] {
  background: var(--sc-ink); border-color: var(--sc-ink);}
[data-testid="stMain"] .st-key-plan_view button[aria-checked="true"] p {
  color: var(--sc-page); font-weight: 700;}
.sc-planned .sc-patch {height: 3.2rem;}
.sc-planned .sc-count b {font-size: 2.6rem;}
@media (max-width: 640px) {
  [data-testid="stMain"] h1 {font-size: 1.15rem;}
}
.sc-coats {display: flex; flex-wrap: wrap; gap: .4rem; margin-top: .6rem;}
.sc-coats figure {margin: 0; flex: 1 1 3.2rem;}
.sc-coats i {display: block; height: 2.6rem; border: 1px solid #8a8a8a;}
.sc-coats figcaption {font-size: .875rem; line-height: 1.3;}
</style>
"""
)


def chosen_html(plan: Plan) -> str:
    """The colour and what the job sprays it over, large.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        Empty where no colour is sprayed.
    """
    choice = plan.picked.choice
    if choice is None:
        return ""
    return pictures.hero_html(
        plan.answer, choice.outlook, choice.coats, plan.request.question.photo
    )


def coats_html(plan: Plan, sheet: Document) -> str:
    """The film coat by coat over the chosen undercoat, and what is planned from.

    Parameters
    ----------
    plan : Plan
        The plan.
    sheet : Document
        Its sheet.

    Returns
    -------
    str
        Without the film where no colour is sprayed.
    """
    planned_from = escape(sheet.subtitle)
    choice = plan.picked.choice
    if choice is None:
        return f'<p class="sc-small">{planned_from}</p>'
    strip = film_strip(choice.outlook).swatches
    colours = hex_from_lab([each.lab for each in strip])
    figures = "".join(
        f'<figure><i role="img" aria-label="{escape(each.title)}" '
        f'style="background:{colour}"></i><figcaption>{escape(each.title)}<br>'
        f"{escape(each.text)}</figcaption></figure>"
        for each, colour in zip(strip, colours, strict=True)
    )
    return (
        f'<div class="sc-coats">{figures}</div><p class="sc-small">Difference left to '
        f"the full colour after each coat. {SCREEN_NOTE}<br>"
        f"{planned_from}</p>"
    )
