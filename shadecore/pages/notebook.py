"""Answers as a notebook shows them: a line, a picture, a frame."""

from typing import TYPE_CHECKING

from shadecore.coats.answer import Answer, Picks
from shadecore.colour.display import hex_from_lab
from shadecore.formats.echo import brief
from shadecore.pages.blocks import Cell, Table
from shadecore.pages.html_layout import block_html
from shadecore.telling.basis import SCREEN_NOTE
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import sure_words

if TYPE_CHECKING:
    import pandas as pd

_COATS_SHOWN = 6
_STYLE = ".sc-patch-row i {display: inline-block; width: 3em; height: 1.6em;}"
"""A notebook has none of the pages' style."""


def answer_line(answer: Answer) -> str:
    """An answer in one line.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    best = answer.recommended
    return (
        f"<Answer for {lab_words(answer.topcoat.lab)}: {brief(best.undercoat.name)}, "
        f"{sure_words(best.count)}>"
    )


def answer_html(answer: Answer) -> str:
    """An answer as a table of swatches: the film coat by coat over each undercoat.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    shown = min(_COATS_SHOWN, answer.settings.coat_cap)
    rows: list[tuple[Cell | str, ...]] = []
    for each in answer.outlooks:
        colours = hex_from_lab([each.undercoat.lab, *each.lab[:shown]])
        rows.append(
            (
                Cell(brief(each.undercoat.name), (colours[0],)),
                sure_words(each.count),
                *(
                    Cell(f"{left:.1f}", (colour,))
                    for left, colour in zip(each.difference, colours[1:], strict=False)
                ),
            )
        )
    table = Table(
        ("Sealer", "Coats", *(f"coat {n}" for n in range(1, shown + 1))),
        tuple(rows),
        note=f"Under each coat the difference left, CIEDE2000. {SCREEN_NOTE}",
    )
    return f"<style>{_STYLE}</style>{block_html(table)}"


def answer_frame(answer: Answer) -> "pd.DataFrame":
    """An answer as a frame: a row for each undercoat, best first.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    pandas.DataFrame
        Counts beyond the cap are missing.
    """
    import pandas as pd  # noqa: PLC0415 - takes a while, and only a frame needs it

    rows = [
        {
            "undercoat": each.undercoat.name,
            "lightness": each.undercoat.lightness,
            "coats": each.count.coats,
            "coats_low": each.count.low,
            "coats_high": each.count.high,
            "paint_ml_per_m2": each.paint_ml_per_m2,
            "last_angle": each.last_angle,
        }
        for each in answer.outlooks
    ]
    whole = dict.fromkeys(("coats", "coats_low", "coats_high"), "Int64")
    return pd.DataFrame(rows).astype(whole)


def picks_line(picks: Picks) -> str:
    """Many answers in one line.

    Parameters
    ----------
    picks : Picks
        The answers.

    Returns
    -------
    str
    """
    colours, undercoats = picks.order.shape
    return f"<Picks of {colours} colours over {undercoats} sealers>"


def picks_frame(picks: Picks) -> "pd.DataFrame":
    """Many answers as a frame: a row for each colour.

    Parameters
    ----------
    picks : Picks
        The answers.

    Returns
    -------
    pandas.DataFrame
        Places of undercoats in the shelf that was asked about; counts beyond the cap
        are missing.
    """
    import pandas as pd  # noqa: PLC0415 - takes a while, and only a frame needs it

    counts, best = picks.counts, picks.recommended[:, None]
    frame = pd.DataFrame({"undercoat": picks.recommended, "closest": picks.closest})
    for name, values in (
        ("coats", counts.coats),
        ("coats_low", counts.low),
        ("coats_high", counts.high),
    ):
        found = pd.Series(values[range(len(values)), best[:, 0]]).astype("Int64")
        frame[name] = found.mask(found > counts.cap)
    frame["chance_of_hiding_poorly"] = picks.poor_chance
    return frame
