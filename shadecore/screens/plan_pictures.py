"""What the plan's page shows as HTML: the film coat by coat, what is planned from."""

from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.report.sheet import Sheet

STYLE = """
<style>
.sc-coats {display: flex; flex-wrap: wrap; gap: .4rem; margin-top: .6rem;}
.sc-coats figure {margin: 0; flex: 1 1 3.2rem;}
.sc-coats i {display: block; height: 2.6rem; border: 1px solid #8a8a8a;}
.sc-coats figcaption {font-size: .875rem; line-height: 1.3;}
</style>
"""


def coats_html(sheet: Sheet) -> str:
    """The film coat by coat over the picked undercoat, and what is planned from.

    Parameters
    ----------
    sheet : Sheet
        The sheet of the plan.

    Returns
    -------
    str
    """
    colours = hex_from_lab([each.lab for each in sheet.strip])
    figures = "".join(
        f'<figure><i role="img" aria-label="{escape(each.title)}" '
        f'style="background:{colour}"></i><figcaption>{escape(each.title)}<br>'
        f"{escape(each.text)}</figcaption></figure>"
        for each, colour in zip(sheet.strip, colours, strict=True)
    )
    return (
        f'<div class="sc-coats">{figures}</div><p class="sc-small">Difference left to '
        "the full colour after each coat (CIEDE2000). A screen is not a paint chip.<br>"
        f"{escape(sheet.subtitle)}</p>"
    )
