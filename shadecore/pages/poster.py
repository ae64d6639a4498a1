"""A page to hang up or hand out, as content; HTML and PDF lay it out."""

from dataclasses import dataclass

from shadecore.pages.sheet import Section


@dataclass(frozen=True)
class Cell:
    """A field of a grid, which must say in words what its colours show.

    Attributes
    ----------
    text : str
        What is read.
    colours : tuple of str
        sRGB hex codes of the swatches above it, beside each other; empty for none.
    note : str
        A smaller line under the text.
    marked : bool
        Whether a thick frame sets it off.
    """

    text: str
    colours: tuple[str, ...] = ()
    note: str = ""
    marked: bool = False


@dataclass(frozen=True)
class Grid:
    """Cells in rows under headings.

    Attributes
    ----------
    title : str
        What it is.
    headings : tuple of Cell
        Of the columns.
    rows : tuple of tuple of Cell
        The first cell of each names the row.
    lines : tuple of str
        How to read it, said above it.
    large : bool
        Whether its texts are to be read from across a room.
    """

    title: str
    headings: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    lines: tuple[str, ...] = ()
    large: bool = False


@dataclass(frozen=True)
class Poster:
    """Everything on the page.

    Attributes
    ----------
    title, subtitle : str
        What it is about, and what it rests on.
    grids : tuple of Grid
        From top to bottom.
    sections : tuple of Section
        Sentences under them.
    """

    title: str
    subtitle: str
    grids: tuple[Grid, ...]
    sections: tuple[Section, ...] = ()
