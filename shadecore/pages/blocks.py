"""A document made of blocks: what is shown, without how it is laid out.

The booth sheet, the handout, the wall chart, the answer on a terminal and the tables
of the screens are all filled in here and laid out by ``text_layout``, ``html_layout``
and ``pdf_layout``.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Text:
    """A paragraph.

    Attributes
    ----------
    text : str
        One or more sentences.
    label : str
        What it is about, set before it; empty for none.
    """

    text: str
    label: str = ""


@dataclass(frozen=True)
class Cell:
    """A field of a table that has more than plain text.

    What its colours and its frame show must stand in its words too.

    Attributes
    ----------
    text : str
        What is read, set bold.
    colours : tuple of str
        sRGB hex codes of swatches above the text, beside each other.
    note : str
        A line of its own under the text.
    told : tuple of Text
        What goes on after the text in the same paragraph, only its labels bold.
    marked : bool
        Whether a thick frame sets it off.
    ticked : bool or None
        Whether its box is ticked; None for no box.
    """

    text: str = ""
    colours: tuple[str, ...] = ()
    note: str = ""
    marked: bool = False
    ticked: bool | None = None
    told: tuple[Text, ...] = ()

    @property
    def plainly(self) -> str:
        """What follows the text in its paragraph, as read aloud."""
        return " ".join(f"{each.label} {each.text}".strip() for each in self.told)


@dataclass(frozen=True)
class Table:
    """Fields in rows under headings.

    Attributes
    ----------
    headings : tuple of Cell or str
        One for each column.
    rows : tuple of tuple of Cell or str
        The first field of each row names it.
    numbers : frozenset of int
        Columns that stand to the right.
    by_hand : frozenset of int
        Columns that are left empty, to be written in with a pen.
    note : str
        What to know before believing it.
    large : bool
        Whether it is to be read from across a room.
    begins : frozenset of int
        Rows that a thick rule sets off from those above them.
    """

    headings: tuple[Cell | str, ...]
    rows: tuple[tuple[Cell | str, ...], ...]
    numbers: frozenset[int] = frozenset()
    by_hand: frozenset[int] = frozenset()
    note: str = ""
    large: bool = False
    begins: frozenset[int] = frozenset()

    @property
    def pictured(self) -> bool:
        """Whether a field has swatches."""
        lines = (self.headings, *self.rows)
        return any(as_cell(field).colours for line in lines for field in line)


@dataclass(frozen=True)
class Swatch:
    """A colour with what to read where it cannot be seen.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.
    title, text : str
        Under it, the title bold.
    """

    lab: tuple[float, float, float]
    title: str
    text: str


@dataclass(frozen=True)
class Swatches:
    """Colours beside each other.

    Attributes
    ----------
    swatches : tuple of Swatch
        From left to right.
    tall : bool
        Whether they are two or three to compare rather than a strip of many.
    """

    swatches: tuple[Swatch, ...]
    tall: bool = False


@dataclass(frozen=True)
class Strokes:
    """A panel with the strokes of the gun across it.

    Attributes
    ----------
    places_cm : tuple of float
        Middle of the fan of each stroke, from the upper edge down. [cm]
    height_cm, fan_cm : float
        Height of the panel and width of the fan. [cm]
    text : str
        What it shows, in words.
    """

    places_cm: tuple[float, ...]
    height_cm: float
    fan_cm: float
    text: str


@dataclass(frozen=True)
class ByHand:
    """Empty lines to write on with a pen, beside each other.

    Attributes
    ----------
    labels : tuple of str
        What each is for.
    """

    labels: tuple[str, ...]


Block = Table | Text | Swatches | Strokes | ByHand
"""What a document is made of."""


@dataclass(frozen=True)
class Section:
    """Blocks under a heading.

    Attributes
    ----------
    title : str
        The heading.
    blocks : tuple of Block
        From top to bottom.
    small : bool
        Whether its sentences are read once, before the job: a browser's window shows
        them a little smaller.
    spare : bool
        Whether it is left out of a print that has no room for it on its pages.
    run_in : bool
        Whether its title begins the first paragraph, which spares a line.
    """

    title: str
    blocks: tuple[Block, ...] = ()
    small: bool = False
    spare: bool = False
    run_in: bool = False

    @property
    def led(self) -> Text | None:
        """Its first paragraph, begun by the title; None unless it runs in."""
        first = self.blocks[0] if self.blocks else None
        if not self.run_in or not isinstance(first, Text):
            return None
        return Text(f"{first.label} {first.text}".strip(), f"{self.title}.")


@dataclass(frozen=True)
class Document:
    """Everything that is shown together.

    Attributes
    ----------
    title, subtitle : str
        What it is, and what it rests on; empty for none.
    blocks : tuple of Block
        What stands above the sections.
    sections : tuple of Section
        The rest.
    stop : str
        What forbids the work, to stand first and big; empty where nothing does.
    most_pages : int or None
        Pages that the print may take as long as what is spare can be left out for it;
        None for as many as there are.
    broken : tuple of str
        Limits that are not kept, to stand after the stop, before everything else.
    shop : str
        Whose print it is; empty where nobody said.
    """

    title: str = ""
    subtitle: str = ""
    blocks: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()
    stop: str = ""
    most_pages: int | None = None
    broken: tuple[str, ...] = ()
    shop: str = ""

    @property
    def core(self) -> "Document":
        """The document without what can be spared."""
        kept = tuple(each for each in self.sections if not each.spare)
        return replace(self, sections=kept)


def as_cell(field: Cell | str) -> Cell:
    """A field as a cell, whichever way it was given.

    Parameters
    ----------
    field : Cell or str
        Of a table.

    Returns
    -------
    Cell
    """
    return Cell(field) if isinstance(field, str) else field


def said(field: Cell | str) -> str:
    """All words of a field in one line, its box as brackets.

    Parameters
    ----------
    field : Cell or str
        Of a table.

    Returns
    -------
    str
    """
    if isinstance(field, str):
        return field
    box = "" if field.ticked is None else ("[x]" if field.ticked else "[ ]")
    note = f"({field.note})" if field.note and field.text else field.note
    return " ".join(part for part in (box, field.text, field.plainly, note) if part)
