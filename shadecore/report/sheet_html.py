"""The sheet as one self-contained HTML page."""

from html import escape

from shadecore.colour.display import hex_from_lab
from shadecore.report.sheet import Section, Sheet, Swatch
from shadecore.report.tables import Table

_STYLE = """
@page {margin: 12mm;}
body {font: 13pt/1.3 sans-serif; color: #000; background: #fff; margin: 1rem auto;
  max-width: 60rem;}
h1 {font-size: 24pt; margin: 0;}
h2 {font-size: 15pt; margin: .9rem 0 .2rem; border-bottom: 2px solid #000;}
.patches {display: flex; gap: .8rem; margin: .5rem 0;}
.patches figure {margin: 0; flex: 1;}
.patches div {height: 5rem; border: 1px solid #000;
  -webkit-print-color-adjust: exact; print-color-adjust: exact;}
.strip div {height: 2.4rem;}
figcaption {font-size: 11pt;}
table {border-collapse: collapse; width: 100%; font-size: 11pt;}
th, td {text-align: left; vertical-align: top; padding: .12rem .5rem .12rem 0;
  border-bottom: 1px solid #999;}
.num {text-align: right;}
p {margin: .25rem 0;}
.stop {border: 5px solid #000; padding: .4rem .6rem; font-size: 18pt; font-weight: 700;
  line-height: 1.2;}
section {break-inside: avoid-page;}
"""


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
    sections = "".join(_section(each) for each in sheet.sections)
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(sheet.title)}</title><style>{_STYLE}</style></head><body>"
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
    return f"<section><h2>{escape(section.title)}</h2>{table}{lines}</section>"


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
