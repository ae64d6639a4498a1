"""What the plan's page shows as HTML: the colour, its coats, tables for a phone."""

from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.report.sheet import Sheet
from shadecore.report.tables import Table
from shadecore.screens.pictures import details_html

# 44 px: the smallest target that a gloved finger hits (WCAG 2.2, 2.5.5).
# On a phone each row of a table becomes a card, its headings standing beside the cells.
STYLE = """
<style>
[data-testid="stMain"] :is(button, input, [data-baseweb="select"] > div,
[data-baseweb="tag"], [data-testid="stRadioOption"], [data-testid="stCheckbox"] label),
[data-testid="stCheckbox"], [data-testid="stTopNavLink"],
[data-testid="stSidebarNavLink"], [data-testid="stExpandSidebarButton"] {
  min-height: 44px; align-items: center;}
[data-testid="stMain"] button, [data-testid="stExpandSidebarButton"] {min-width: 44px;}
[data-testid="stMain"] [data-testid="stNumberInputContainer"] {height: 46px;}
[data-baseweb="tag"] [role="presentation"] {min-width: 44px; min-height: 44px;
  display: flex; align-items: center; justify-content: center;}
.sc-coats {display: flex; flex-wrap: wrap; gap: .4rem; margin-top: .6rem;}
.sc-coats figure {margin: 0; flex: 1 1 3.2rem;}
.sc-coats i {display: block; height: 2.6rem; border: 1px solid #8a8a8a;}
.sc-coats figcaption {font-size: .875rem; line-height: 1.3;}
@media (max-width: 640px) {
  .sc-plan thead {display: none;}
  .sc-plan table, .sc-plan tbody, .sc-plan tr, .sc-plan th, .sc-plan td {
    display: block; width: 100%;}
  .sc-plan tr {padding: .4rem 0;}
  .sc-plan td:empty, .sc-plan th:empty {display: none;}
  .sc-plan td, .sc-plan th {padding: .1rem 0; text-align: left !important;
    overflow-wrap: anywhere;}
  .sc-plan td::before {content: attr(data-label) ": "; font-weight: 600;}
  .sc-plan th, .sc-plan td[data-label="Step"] {display: inline; font-weight: 600;}
  .sc-plan td[data-label="Step"]::before {content: " ";}
}
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


def table_html(table: Table) -> str:
    """A table that becomes a list of cards where it would be too wide.

    Parameters
    ----------
    table : Table
        The table.

    Returns
    -------
    str
    """
    return f'<div class="sc-plan">{details_html(table)}</div>'
