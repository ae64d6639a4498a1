"""Documents as text for a terminal, in lines of at most 79 characters."""

from itertools import zip_longest
from textwrap import fill, wrap
from typing import Final

from shadecore.pages.blocks import (
    Block,
    ByHand,
    Document,
    Section,
    Strokes,
    Swatches,
    Table,
    Text,
    said,
)

WIDTH: Final = 79
"""Characters of a terminal's line."""
WIDEST_CELL: Final = 800
"""Letters of a field; what is longer is cut, so that no name fills a screen. All that a
step of the schedule says of gun and protection is half as long."""
_GAP: Final = "  "
_LABEL_WIDTH: Final = 12
_RULE_WIDTH: Final = 40


def document_text(document: Document) -> str:
    """Lay a document out for a terminal.

    Parameters
    ----------
    document : Document
        The content.

    Returns
    -------
    str
        Lines of at most 79 characters; swatches are told by their words.
    """
    parts = [_filled(document.stop.upper())]
    parts.append("\n".join(_filled(each) for each in document.broken))
    parts.append(_filled(document.title))
    shop = f"{document.shop}. " if document.shop else ""
    parts.append(_filled(f"{shop}{document.subtitle}"))
    parts.append(_blocks(document.blocks))
    parts += [_section(each) for each in document.sections]
    return "\n\n".join(part.rstrip("\n") for part in parts if part) + "\n"


def block_text(block: Block) -> str:
    """Lay one block out for a terminal.

    Parameters
    ----------
    block : Block
        The content.

    Returns
    -------
    str
        Lines of at most 79 characters, the last one ended.
    """
    if isinstance(block, Text):
        return f"{_paragraph(block)}\n"
    if isinstance(block, Swatches):
        lines = (_paragraph(Text(each.text, each.title)) for each in block.swatches)
        return "\n".join(lines) + "\n"
    if isinstance(block, Strokes):
        return f"{_filled(block.text)}\n"
    if isinstance(block, ByHand):
        lines = (f"{each} ".ljust(_RULE_WIDTH, "_") for each in block.labels)
        return "\n".join(lines) + "\n"
    return _table(block)


def _section(section: Section) -> str:
    led = section.led
    if led is not None:
        begun = _filled(f"{led.label} {led.text}")
        return f"{begun}\n{_blocks(section.blocks[1:])}"
    return "\n".join((_filled(section.title), _blocks(section.blocks)))


def _blocks(blocks: tuple[Block, ...]) -> str:
    """Blocks below each other, a table set off by empty lines."""
    laid = ""
    for place, block in enumerate(blocks):
        beside_table = place and any(
            isinstance(each, Table) for each in (block, blocks[place - 1])
        )
        laid += "\n" * bool(beside_table) + block_text(block)
    return laid


def _filled(text: str) -> str:
    return fill(text, WIDTH)


def _paragraph(block: Text) -> str:
    if not block.label:
        return _filled(block.text)
    return fill(
        block.text,
        WIDTH,
        initial_indent=f"{block.label} ".ljust(_LABEL_WIDTH),
        subsequent_indent=" " * _LABEL_WIDTH,
    )


def _table(table: Table) -> str:
    lines = [
        [_cut(said(field)) for field in row] for row in (table.headings, *table.rows)
    ]
    widths = _widths(lines)
    laid: list[str] = []
    for place, line in enumerate(lines):
        laid += [""] * (place - 1 in table.begins)
        cells = [
            [cell] if len(cell) <= width else wrap(cell, width)
            for cell, width in zip(line, widths, strict=True)
        ]
        laid += [
            _GAP.join(
                part.rjust(width) if i in table.numbers else part.ljust(width)
                for i, (part, width) in enumerate(zip(parts, widths, strict=True))
            ).rstrip()
            for parts in zip_longest(*cells, fillvalue="")
        ]
    if table.note:
        laid += ["", _filled(table.note)]
    return "\n".join(laid) + "\n"


def _cut(cell: str) -> str:
    return cell if len(cell) <= WIDEST_CELL else f"{cell[: WIDEST_CELL - 1]}…"


def _widths(lines: list[list[str]]) -> list[int]:
    """Widths of the columns, taken in until the terminal holds them.

    Headings wrap before cells do, and the widest column before others.
    """
    heads, *rows = lines
    longest = [max([1, *map(len, column)]) for column in zip(*rows, strict=True)]
    longest = longest or [1] * len(heads)
    widths = [max(len(head), cell) for head, cell in zip(heads, longest, strict=True)]
    words = [
        max([cell, *map(len, head.split())])
        for head, cell in zip(heads, longest, strict=True)
    ]
    while sum(widths) + len(_GAP) * (len(widths) - 1) > WIDTH:
        loose = [i for i, width in enumerate(widths) if width > words[i]]
        widths[max(loose or range(len(widths)), key=widths.__getitem__)] -= 1
    return widths
