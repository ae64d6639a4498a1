"""The shelf in use: its undercoats with stock and price."""

from dataclasses import replace
from typing import Any, Final

import pandas as pd
import streamlit as st

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.records import BookShelf, Stocked
from shadecore.errors import ShadecoreError
from shadecore.screens import say, session, shop, shop_shelf
from shadecore.screens.as_read import as_read, clash, read_anew
from shadecore.screens.book import named
from shadecore.screens.book.change import change, keep_edits
from shadecore.undercoats.grey_text import read_greys
from shadecore.undercoats.shelf import FINISHES, undercoat
from shadecore.undercoats.shelf_table import demo_shelf

_TYPED: Final = "shelf_typed"
_LAB: Final = ("L", "a", "b")


def show(book: Book) -> None:
    """Show the shelf in use, to be changed.

    Parameters
    ----------
    book : Book
        The book.
    """
    shelves = book.list(BookShelf)
    in_use = shop.settings().shelf
    kept = named.ask_in_use(
        shelves, in_use, "Shelf in use", _use_other, "The invented greys"
    )
    st.text_input(
        "Add sealers, by L* or Munsell N",
        key=_TYPED,
        on_change=_add,
        args=(book, kept),
        placeholder="White 90, Mid N 5.5",
    )
    if kept is None:
        st.caption("The first one begins a shelf of your own.")
        return
    _edit(kept)
    for line in kept.thing.note.splitlines():
        st.caption(say.plain(line))
    with st.container(horizontal=True, vertical_alignment="bottom"):
        named.show_menu(kept, "shelf")
        with st.popover("Another shelf"):
            named.ask_new(book, "New shelf", _like(kept), "shelf")


def _like(kept: Kept[BookShelf]) -> Any:  # noqa: ANN401 - a function
    """A new shelf begins with what stands on this one."""
    return lambda name: BookShelf(name, kept.thing.items)


def _use_other(uid: str) -> None:
    shop.change_settings(shelf=uid)
    _use()


def _use() -> None:
    """Let the session's question ask over the shelf in use."""
    shelf = shop.start().shelf
    session.put(replace(session.question(), shelf=shelf, areas=()), ())
    session.leave_link()


def _add(book: Book, kept: Kept[BookShelf] | None) -> None:
    typed = st.session_state[_TYPED]
    if not typed.strip():
        return
    try:
        new = read_greys(typed)
    except ShadecoreError as error:
        shop.tell(error)
        return
    before = () if kept is None else book.show(BookShelf, kept.uid).thing.shelf
    # The invented greys give way to the first one of the shop's own.
    before = () if before == demo_shelf() else before
    shop.tell("")
    if shop_shelf.keep_shelf((*before, *new)):
        st.session_state[_TYPED] = ""
        _use()


def _edit(kept: Kept[BookShelf]) -> None:
    read = as_read(kept)
    items = read.thing.items
    edited = st.data_editor(
        frame_of(items),
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        placeholder="",
        key=f"shelf_items_{kept.uid}_{read.version}",
        column_config={
            "finish": st.column_config.SelectboxColumn(options=list(FINISHES)),
            "stock": st.column_config.NumberColumn(min_value=0.0),
            "price": st.column_config.NumberColumn(
                min_value=0.0,
                help="Of one unit; plans and estimates take it for the sealer.",
            ),
            "unit": st.column_config.TextColumn(
                help="What the price is for: L, qt, or a can such as 0.9 L."
            ),
            "L": st.column_config.NumberColumn("L*", min_value=0.0, max_value=100.0),
            "a": st.column_config.NumberColumn("a*"),
            "b": st.column_config.NumberColumn("b*"),
        },
    )
    try:
        changed = items_of(edited, items)
    except ShadecoreError as error:
        say.error(error)
        return
    if changed != items and not clash(kept, read, {"items": changed}):
        now = kept.thing.with_items(changed)
        if change(kept, items=now.items, note=now.note):
            _use()
            read_anew(kept.uid)
            st.rerun()
        return
    keep_edits(kept, read, **({} if changed == items else {"items": changed}))


def frame_of(items: tuple[Stocked, ...]) -> pd.DataFrame:
    """Undercoats as the table that is edited.

    Parameters
    ----------
    items : tuple of Stocked
        The undercoats.

    Returns
    -------
    DataFrame
    """
    greys = [each.undercoat for each in items]
    return pd.DataFrame(
        {
            "name": [each.name for each in greys],
            "L": [round(each.lab[0], 2) for each in greys],
            "stock": pd.Series([each.stock for each in items], dtype="float64"),
            "price": pd.Series([each.price for each in greys], dtype="float64"),
            "unit": [each.unit for each in greys],
            "a": [round(each.lab[1], 2) for each in greys],
            "b": [round(each.lab[2], 2) for each in greys],
            "finish": [each.finish for each in greys],
        }
    )


def items_of(edited: pd.DataFrame, before: tuple[Stocked, ...]) -> tuple[Stocked, ...]:
    """Undercoats of the edited table; those whose colour stays keep their spectrum.

    Parameters
    ----------
    edited : DataFrame
        The table as it stands; a row without name or L* is still being filled in.
    before : tuple of Stocked
        What it was made of.

    Returns
    -------
    tuple of Stocked

    Raises
    ------
    ShadecoreError
        If a row is no undercoat.
    """
    rows = frame_of(before).to_dict("records")
    shown: dict[Any, Any] = dict(enumerate(zip(before, rows, strict=True)))
    found = []
    for place, row in edited.to_dict("index").items():
        if pd.isna(row["name"]) or pd.isna(row["L"]):
            continue
        known, was = shown.get(place, (None, {}))
        price, unit = _number(row["price"]), _text(row["unit"])
        finish: Any = _text(row["finish"]) or FINISHES[0]
        name = str(row["name"]).strip()
        if known is not None and all(row[each] == was[each] for each in _LAB):
            one = replace(
                known.undercoat, name=name, price=price, unit=unit, finish=finish
            )
        else:
            lab = tuple(_number(row[each]) or 0.0 for each in _LAB)
            one = undercoat(name, lab, price=price, unit=unit, finish=finish)
        found.append(Stocked(one, _number(row["stock"])))
    return tuple(found)


def _number(value: Any) -> float | None:  # noqa: ANN401 - a cell
    return None if pd.isna(value) else float(value)


def _text(value: Any) -> str:  # noqa: ANN401 - a cell
    return "" if pd.isna(value) else str(value)
