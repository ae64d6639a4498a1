"""What a shop's prints carry: its name, and the paper that they are laid out for."""

from dataclasses import dataclass, replace
from typing import Final

from shadecore.formats.echo import brief
from shadecore.pages.blocks import Document

USUAL_PAPER: Final = {"metric": "A4", "us": "Letter"}
"""Paper by the units, where nobody said which."""


@dataclass(frozen=True)
class Letterhead:
    """What a shop's prints carry.

    Attributes
    ----------
    shop : str
        The shop's name; empty where nobody said.
    paper : str
        ``A4`` or ``Letter``; empty where nobody said.
    """

    shop: str = ""
    paper: str = ""

    def on(self, document: Document) -> Document:
        """A document under the shop's name.

        Parameters
        ----------
        document : Document
            Any document.

        Returns
        -------
        Document
        """
        return replace(document, shop=brief(self.shop.strip()))

    def paper_for(self, units: str) -> str:
        """Which paper a print is laid out for.

        Parameters
        ----------
        units : str
            ``metric`` or ``us``: they decide where nobody said.

        Returns
        -------
        str
            ``A4`` or ``Letter``.
        """
        return self.paper or USUAL_PAPER[units]


BARE: Final = Letterhead()
"""Of a shop that said nothing."""
