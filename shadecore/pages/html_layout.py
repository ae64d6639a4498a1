"""Documents as self-contained HTML that prints in black on white."""

from html import escape
from typing import Final

from shadecore.colour.display import hex_from_lab
from shadecore.pages.blocks import (
    Block,
    ByHand,
    Cell,
    Document,
    Section,
    Strokes,
    Swatches,
    Table,
    Text,
    as_cell,
)
from shadecore.pages.html_drawn import BY_HAND_STYLE, by_hand_html, strokes_html
from shadecore.pages.letterhead import USUAL_PAPER
from shadecore.pages.pdf_blocks import widths_by_text
from shadecore.pages.pdf_layout import fitting, page_width
from shadecore.pages.pdf_styles import BODY_PT

_PRINTED_SHARE: Final = 0.88
"""Of a page: a browser's letters may be wider than those of the PDF."""
_STYLE: Final = """
@page {margin: 7mm;}
body {font: 12pt/1.25 Arial, Helvetica, "Liberation Sans",
  "DejaVu Sans Condensed", sans-serif; color: #000; background: #fff;
  margin: 1rem auto; max-width: 60rem; padding: 0 .5rem; overflow-wrap: break-word;
  font-variant-ligatures: none;}
h1 {font-size: 1.9em; line-height: 1.1; margin: 0; overflow-wrap: anywhere;}
h2 {font-size: 1.25em; margin: .55em 0 .1em; border-bottom: 2px solid #000;
  break-after: avoid;}
p {margin: .2em 0;}
.run-in h2 {display: inline; font-size: 1em; border: 0; margin: 0;}
.run-in h2::after {content: ". ";}
.run-in > h2 + p {display: inline;}
.run-in {margin: .3em 0;}
.stop {border: 5px solid #000; padding: .3em .5em; font-size: 1.45em; font-weight: 700;
  line-height: 1.2;}
.broken {border: 3px solid #000; padding: .2em .5em; font-weight: 700;}
.strokes {margin: .3em .6em .3em 0; display: inline-block; width: 15em;
  vertical-align: top;}
.strokes svg {display: block; width: 100%; height: auto;}
.swatches {display: flex; flex-wrap: wrap; gap: .6em; margin: .4em 0;}
.swatches figure {margin: 0; flex: 1 1 5em;}
.swatches div {height: 2.2em; border: 1px solid #000;}
.swatches.tall div {height: 4.6em;}
.swatches div, .sc-patch-row {-webkit-print-color-adjust: exact;
  print-color-adjust: exact;}
figcaption {font-size: .9em; line-height: 1.2;}
.sc-scroll {overflow-x: auto;}
table {border-collapse: separate; border-spacing: 1px 0; width: 100%; line-height: 1.16;
  font-variant-numeric: tabular-nums;}
thead {display: table-header-group;}
tr {break-inside: avoid;}
th, td {text-align: left; vertical-align: top; font-weight: 400; padding: .1em .3em;
  border-bottom: .5pt solid #767676; overflow-wrap: break-word;}
.framed th, .framed td {padding: .1em 2px; border: 2pt solid transparent;
  border-bottom: .5pt solid #767676;}
thead th {border-bottom: 1.2pt solid #000;}
.num {text-align: right;}
.begins th, .begins td {border-top: 1.5pt solid #000;}
.hand {min-width: 3.6em; border-left: .5pt solid #767676;}
.pictured th, .pictured td {overflow-wrap: anywhere;}
.pictured th:first-child {width: 20%; min-width: 5.5rem;}
/* On a phone such a table rolls in its own box: numbers would be torn apart. */
@media screen and (max-width: 640px) {.pictured {min-width: 38rem;}}
.large td b {font-size: 1.7em;}
.framed .marked {border: 2pt solid #000;}
td.marked b::before {content: "\\25B6\\00A0"; font-size: .7em;}
small {display: block; font-size: .85em; line-height: 1.15;}
.sc-patch-row {display: flex; height: 1.3em; border: 1px solid #000;}
.sc-patch-row i {flex: 1;}
.box {display: inline-block; width: 1em; height: 1em; border: 1.5pt solid #000;
  text-align: center; line-height: 1em; font-weight: 700;}
.small p {font-size: .9em; line-height: 1.2;}
@media print {
  body {font-size: 10pt; line-height: 1.09; margin: 0; max-width: none; padding: 0;}
  table, small, figcaption, .small p {font-size: 1em; line-height: inherit;}
  h1 {font-size: 18pt;}
  h2 {margin-top: .4em; font-size: 1.2em;}
  p, .run-in {margin: .1em 0;}
  .by-hand {margin: .1em 0;}
  .swatches {margin: .2em 0;}
  .swatches div {height: 6mm;}
  .swatches.tall figure {display: flex; gap: .5em;}
  .swatches.tall div {height: 8mm; flex: 0 0 30%;}
  .by-hand i {min-height: 1.2em;}
  .box {width: .75em; height: .75em; line-height: .75em; border-width: 1pt;}
  .stop, .broken {padding: .1em .4em;}
  .sc-scroll {overflow: visible;}
  .sized {table-layout: fixed;}
  .sized col {width: var(--width);}
  .sized th, .sized td {padding: .5pt 3pt 1pt 1pt;}
}
"""


def document_html(document: Document) -> str:
    """Lay a document out as a page.

    Parameters
    ----------
    document : Document
        The content.

    Returns
    -------
    str
        A page that loads nothing from elsewhere and fits A4 and letter paper.
    """
    document = _printed(document)
    stop = f'<p class="stop" role="alert">{escape(document.stop)}</p>'
    broken = "".join(
        f'<p class="broken" role="alert">{escape(each)}</p>' for each in document.broken
    )
    title, subtitle = escape(document.title), escape(document.subtitle)
    shop = f"<b>{escape(document.shop)}.</b> " if document.shop else ""
    blocks = "".join(_printed_block(each) for each in document.blocks)
    sections = "".join(_section(each) for each in document.sections)
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{title}</title><style>{BY_HAND_STYLE}{_STYLE}</style></head>"
        f"<body><main>{stop if document.stop else ''}"
        f"{broken}<h1>{title}</h1><p>{shop}{subtitle}</p>{blocks}{sections}</main></body></html>"
    )


def block_html(block: Block) -> str:
    """Lay one block out, for a page or a screen.

    Parameters
    ----------
    block : Block
        The content.

    Returns
    -------
    str
        A table's rows can become cards on a phone: each field carries its heading.
    """
    if isinstance(block, Text):
        return f"<p>{_led(block)}</p>"
    if isinstance(block, Strokes):
        return strokes_html(block)
    if isinstance(block, ByHand):
        return by_hand_html(block)
    return _swatches(block) if isinstance(block, Swatches) else _table(block)


def _printed(document: Document) -> Document:
    """What a browser prints of a document, on either paper: nobody knows on which."""
    for paper in USUAL_PAPER.values():
        document = fitting(document, paper, _PRINTED_SHARE)
    return document


def _printed_block(block: Block) -> str:
    """A block of a page whose tables are printed in as few lines as in the PDF.

    Left to itself, a browser gives long texts so much width that numbers break.
    """
    if not isinstance(block, Table) or block.large or block.pictured:
        return block_html(block)
    width = min(page_width(paper) for paper in USUAL_PAPER.values())
    shares = widths_by_text(block, width, BODY_PT)
    columns = "".join(
        f'<col style="--width: calc(100% * {each / width:.4f})">' for each in shares
    )
    return _table(block, columns)


def _section(section: Section) -> str:
    blocks = "".join(_printed_block(each) for each in section.blocks)
    kinds = ["small"] * section.small + ["run-in"] * section.run_in
    kind = f' class="{" ".join(kinds)}"' if kinds else ""
    return f"<section{kind}><h2>{escape(section.title)}</h2>{blocks}</section>"


def _swatches(block: Swatches) -> str:
    colours = hex_from_lab([each.lab for each in block.swatches])
    figures = "".join(
        f'<figure><div style="background:{colour}" role="img" '
        f'aria-label="{escape(each.title)}"></div><figcaption>'
        f"<strong>{escape(each.title)}</strong><br>{escape(each.text)}"
        "</figcaption></figure>"
        for each, colour in zip(block.swatches, colours, strict=True)
    )
    return f'<div class="swatches{" tall" * block.tall}">{figures}</div>'


def _table(table: Table, columns: str = "") -> str:
    heads = [as_cell(each) for each in table.headings]
    head = "".join(
        f'<th scope="col"{_kind(column, table, each)}>'
        f"{_inside(each, plain=isinstance(given, str))}</th>"
        for column, (each, given) in enumerate(zip(heads, table.headings, strict=True))
    )
    rows = "".join(
        ('<tr class="begins">' if place in table.begins else "<tr>")
        + "".join(
            _field(column, field, heads[column].text, table)
            for column, field in enumerate(row)
        )
        + "</tr>"
        for place, row in enumerate(table.rows)
    )
    framed = any(as_cell(field).marked for row in table.rows for field in row)
    kinds = (
        ("pictured", table.pictured),
        ("framed", framed),
        ("large", table.large),
        ("sized", bool(columns)),
    )
    kind = " ".join(["sc-table", *(name for name, holds in kinds if holds)])
    note = f'<p class="sc-small">{escape(table.note)}</p>' if table.note else ""
    return (
        '<div class="sc-scroll sc-cards" tabindex="0" role="region" aria-label="Table">'
        f'<table class="{kind}">{columns}<thead><tr>{head}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>{note}"
    )


def _field(column: int, field: Cell | str, heading: str, table: Table) -> str:
    cell, plain = as_cell(field), isinstance(field, str)
    kind = _kind(column, table, cell)
    inside = _inside(cell, plain=plain)
    if column == 0:
        return f'<th scope="row"{kind}>{inside}</th>'
    return f'<td{kind} data-label="{escape(heading)}">{inside}</td>'


def _kind(column: int, table: Table, cell: Cell) -> str:
    kinds = ["num"] * (column in table.numbers) + ["hand"] * (column in table.by_hand)
    kinds += ["marked"] * cell.marked
    return f' class="{" ".join(kinds)}"' if kinds else ""


def _inside(cell: Cell, *, plain: bool) -> str:
    if plain:
        return escape(cell.text)
    colours = "".join(f'<i style="background:{each}"></i>' for each in cell.colours)
    patch = f'<div class="sc-patch-row">{colours}</div>' if colours else ""
    box = ""
    if cell.ticked is not None:
        word = "done" if cell.ticked else "to do"
        mark = "&#x2715;" if cell.ticked else ""
        box = f'<span class="box" role="img" aria-label="{word}">{mark}</span>'
    text = f"<b>{escape(cell.text)}</b>" if cell.text else ""
    note = f'<small class="sc-small">{escape(cell.note)}</small>' if cell.note else ""
    told = "".join(f" {_led(each)}" for each in cell.told)
    return f"{patch}{box}{text}{told}{note}"


def _led(text: Text) -> str:
    """Sentences, their label bold."""
    label = f"<b>{escape(text.label)}</b> " if text.label else ""
    return f"{label}{escape(text.text)}"
