"""The sheet as one self-contained HTML page."""

from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.pages.sheet import Section, Sheet, Swatch
from shadecore.pages.sheet_pdf import PAGES, fitting, fitting_scale
from shadecore.pages.tables import Table

_STYLE = """
@page {margin: 12mm;}
body {font: 13pt/1.3 Arial, Helvetica, "Liberation Sans",
  "DejaVu Sans Condensed", sans-serif; color: #000; background: #fff;
  margin: 1rem auto; max-width: 60rem; padding: 0 .5rem; overflow-wrap: break-word;
  font-variant-ligatures: none;}
h1 {font-size: 1.9em; margin: 0;}
h2 {font-size: 1.25em; margin: .7em 0 .15em; border-bottom: 2px solid #000;
  break-after: avoid;}
.patches {display: flex; flex-wrap: wrap; gap: .6em; margin: .4em 0;}
.patches figure {margin: 0; flex: 1 1 5em;}
.patches div {height: 4.6em; border: 1px solid #000;
  -webkit-print-color-adjust: exact; print-color-adjust: exact;}
.strip div {height: 2.2em;}
figcaption {font-size: .9em; line-height: 1.2;}
table {border-collapse: collapse; width: 100%; line-height: 1.2;}
tr {break-inside: avoid;}
th, td {text-align: left; vertical-align: top; padding: .1em .5em .1em 0;
  border-bottom: 1px solid #999;}
.num {text-align: right;}
p {margin: .25em 0;}
.small p {font-size: .9em; line-height: 1.2;}
.stop {border: 5px solid #000; padding: .3em .5em; font-size: 1.45em; font-weight: 700;
  line-height: 1.2;}
@media print {
  body {font-size: calc(var(--scale) * 9.6pt); margin: 0; max-width: none; padding: 0;}
  .small p {font-size: max(.84em, 7.5pt);}
}
"""
_PRINT_SLACK = 0.94
"""A browser's font may be wider than the one that the scale was found with."""


def sheet_html(sheet: Sheet) -> str:
    """Lay a sheet out as HTML.

    Parameters
    ----------
    sheet : Sheet
        The content.

    Returns
    -------
    str
        A page that loads nothing from elsewhere.
    """
    widest = min(fitting_scale(sheet.core, units) for units in PAGES)
    scale = _PRINT_SLACK * widest
    # On both papers: nobody knows which one a browser prints on.
    if any(fitting(sheet, widest, units) != sheet for units in PAGES):
        sheet = sheet.core
    sections = "".join(_section(each) for each in sheet.sections)
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(sheet.title)}</title><style>{_STYLE}</style></head>"
        f'<body style="--scale: {scale:.2f}">'
        f"{_stop(sheet.stop)}<h1>{escape(sheet.title)}</h1><p>{escape(sheet.subtitle)}</p>"
        f'<div class="patches">{_patches(sheet.swatches)}</div>'
        f'<div class="patches strip">{_patches(sheet.strip)}</div>'
        f"{sections}</body></html>"
    )


def _stop(stop: str) -> str:
    return f'<p class="stop" role="alert">{escape(stop)}</p>' if stop else ""


def _patches(swatches: tuple[Swatch, ...]) -> str:
    colours = hex_from_lab([each.lab for each in swatches])
    return "".join(
        f'<figure><div style="background:{colour}" role="img" '
        f'aria-label="{escape(each.title)}"></div><figcaption>'
        f"<strong>{escape(each.title)}</strong><br>{escape(each.text)}"
        "</figcaption></figure>"
        for each, colour in zip(swatches, colours, strict=True)
    )


def _section(section: Section) -> str:
    table = "" if section.table is None else _table(section.table)
    lines = "".join(f"<p>{escape(line)}</p>" for line in section.lines)
    kind = ' class="small"' if section.small else ""
    return f"<section{kind}><h2>{escape(section.title)}</h2>{table}{lines}</section>"


def _table(table: Table) -> str:
    heads = "".join(
        f"<th{_kind(i, table)}>{escape(cell)}</th>"
        for i, cell in enumerate(table.headings)
    )
    rows = "".join(
        "<tr>"
        + "".join(
            f"<td{_kind(i, table)}>{escape(cell)}</td>" for i, cell in enumerate(row)
        )
        + "</tr>"
        for row in table.rows
    )
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _kind(column: int, table: Table) -> str:
    return ' class="num"' if column in table.numbers else ""
