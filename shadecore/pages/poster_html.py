"""A poster as one self-contained HTML page that prints in black on white."""

from html import escape

from shadecore.pages.poster import Cell, Grid, Poster
from shadecore.pages.sheet import Section

_STYLE = """
@page {margin: 9mm;}
body {font: 9pt/1.2 sans-serif; color: #000; background: #fff; margin: 1rem auto;
  max-width: 48rem; padding: 0 .5rem;}
h1 {font-size: 18pt; line-height: 1.1; margin: 0;}
h2 {font-size: 11pt; margin: .4rem 0 .1rem; border-bottom: 1pt solid #000;}
p {margin: .15rem 0;}
.scroll {overflow-x: auto;}
table {border-collapse: separate; border-spacing: 1px; width: 100%;
  font-variant-numeric: tabular-nums;}
thead {display: table-header-group;}
tr {break-inside: avoid;}
th, td {text-align: left; vertical-align: top; font-weight: 400; padding: 0 2px;
  border: 2pt solid transparent; border-bottom: .5pt solid #767676;}
.large th, .large td {font-size: 12pt;}
.large td b {font-size: 17pt;}
th:first-child {width: 20%; min-width: 5.5rem;}
td.marked {border: 2pt solid #000;}
td.marked b::before {content: "\\25B6\\00A0"; font-size: .7em;}
small {display: block; font-size: 8pt; line-height: 1.1;}
th, td, h1 {overflow-wrap: anywhere;}
.patch {display: flex; height: 1.2rem; border: 1px solid #000;
  -webkit-print-color-adjust: exact; print-color-adjust: exact;}
.patch i {flex: 1;}
@media print {body {margin: 0; padding: 0; max-width: none; font-size: 8.5pt;
  line-height: 1.12;}
  h2 {margin-top: .25rem; font-size: 10.5pt;} small {font-size: 7.5pt;}
  .patch {height: 1.1rem;}
  .scroll {overflow: visible;}}
"""


def poster_html(poster: Poster) -> str:
    """Lay a poster out as HTML.

    Parameters
    ----------
    poster : Poster
        The content.

    Returns
    -------
    str
        A page that loads nothing from elsewhere and fits A4 and letter paper.
    """
    grids = "".join(_grid(each) for each in poster.grids)
    sections = "".join(_section(each) for each in poster.sections)
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(poster.title)}</title><style>{_STYLE}</style></head><body>"
        f"<main><h1>{escape(poster.title)}</h1><p>{escape(poster.subtitle)}</p>"
        f"{grids}{sections}</main></body></html>"
    )


def _grid(grid: Grid) -> str:
    heads = "".join(f'<th scope="col">{_inside(each)}</th>' for each in grid.headings)
    rows = "".join(
        f'<tr><th scope="row">{_inside(first)}</th>'
        + "".join(_field(each) for each in rest)
        + "</tr>"
        for first, *rest in grid.rows
    )
    kind = ' class="large"' if grid.large else ""
    return (
        f"<h2>{escape(grid.title)}</h2>{_lines(grid.lines)}"
        f'<div class="scroll" tabindex="0" role="region" '
        f'aria-label="{escape(grid.title)}"><table{kind}><thead><tr>{heads}</tr>'
        f"</thead><tbody>{rows}</tbody></table></div>"
    )


def _field(cell: Cell) -> str:
    kind = ' class="marked"' if cell.marked else ""
    return f"<td{kind}>{_inside(cell)}</td>"


def _inside(cell: Cell) -> str:
    colours = "".join(f'<i style="background:{each}"></i>' for each in cell.colours)
    patch = f'<div class="patch">{colours}</div>' if colours else ""
    note = f"<small>{escape(cell.note)}</small>" if cell.note else ""
    text = f"<b>{escape(cell.text)}</b>" if cell.text else ""
    return f"{patch}{text}{note}"


def _section(section: Section) -> str:
    return f"<h2>{escape(section.title)}</h2>{_lines(section.lines)}"


def _lines(lines: tuple[str, ...]) -> str:
    return "".join(f"<p>{escape(each)}</p>" for each in lines)
