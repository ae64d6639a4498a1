"""A photo of a swatch: marks on the picture, the colour with its doubt, the pick."""

from dataclasses import replace
from typing import Any, Final

import streamlit as st

from shadecore.book.alike import same_colour
from shadecore.coats.answer import Answer
from shadecore.coats.uncertain import Choice, settled
from shadecore.colour.kinds import KINDS, NOT_SAID
from shadecore.errors import ShadecoreError
from shadecore.pages.details import doubt_table
from shadecore.photo.combine import Combined, combine
from shadecore.photo.measure import Marks, PhotoColour, measure_swatch
from shadecore.photo.picture import Picture, open_picture
from shadecore.question.answer import answer, photo_choices
from shadecore.question.photo_line import photo_fields
from shadecore.question.question import PhotoDoubt
from shadecore.screens import pictures, say, session, shop, ways
from shadecore.screens.kept_bar import show_kept_bar
from shadecore.screens.photo.ask_marks import ask_against, ask_places
from shadecore.screens.photo.keep import ask_undercoat, keep_photos
from shadecore.telling.basis import BASIS, CAUTION
from shadecore.telling.photo_words import (
    PHOTO_SURE,
    choice_words,
    driver_words,
    odd_words,
    one_side_words,
    photo_colour_words,
)
from shadecore.telling.reasons import why

TYPES: Final = ["jpg", "jpeg", "png", "tif", "tiff", "webp", "heic", "heif"]
MOST_MB: Final = 50
"""Of one file; phones write up to 30."""
MOST_PHOTOS: Final = 6
"""Pictures that one session holds; three are plenty for an average."""
MOST_HELD: Final = 400_000_000
"""Bytes of opened pictures from which a session opens no other: two of 48 megapixels
and some small ones."""
TOO_MANY: Final = "That is more than fits at once; remove a photo to add another."
_OPENED: Final = "photos_opened"
_HOW: Final = """
1. Lay a **grey card** or a sheet of **matt white paper** flat beside the swatch, in the
   same light; a 24-patch chart is better still.
2. Daylight from one side, no flash, no sun and shadow across the two, nothing
   reflected in the swatch.
3. Go close enough that both fill the picture. Two or three photos beat one.
"""


def page() -> None:
    """Run the page from top to bottom."""
    st.title("Colour from a photo", anchor=False)
    session.keep(session.question())
    uploads = st.file_uploader(
        "Photos of the swatch (JPEG, PNG, TIFF, WebP or HEIC)",
        type=TYPES,
        accept_multiple_files=True,
        key="photo_files",
        on_change=_start_over,
        max_upload_size=MOST_MB,
        help="They stay on this computer; where they were taken is dropped.",
    )
    photos = _opened([(each.file_id, each.name, each.getvalue) for each in uploads])
    if photos and not uploads:
        st.button("Remove the photos", on_click=_start_over)
    if not photos:
        st.markdown(_HOW)
        return
    against = ask_against(photos)
    colours, names = [], []
    for key, picture in photos.items():
        marks = ask_places(key, picture, against)
        colour = None if marks is None else _measured(picture, marks)
        if colour is not None:
            colours.append(colour)
            names.append(picture.name)
    if not colours:
        return
    combined = combine(tuple(colours))
    _show_colour(combined, names)
    _answer(combined.colour, _ask_kind(), uploads)
    st.info(CAUTION)
    st.caption(BASIS["photo"])


def _ask_kind() -> str:
    """Ask what kind of colour was photographed."""
    names = (NOT_SAID, *KINDS)
    return str(
        st.selectbox(
            "Kind of colour",
            names,
            names.index(session.question().kind),
            format_func=lambda kind: kind or "not said",
            key="photo_kind",
        )
    )


def _answer(colour: PhotoColour, kind: str, uploads: list[Any]) -> None:
    """Show the pick for a colour, keep it, and show the ways on with it."""
    fields = photo_fields(colour)
    question = replace(session.question(), kind=kind, angles=None, **fields)
    if not same_colour(question, session.question()):
        # What was seen belongs to the paint before.
        question = replace(question, seen=())
    one_side = one_side_words(question)
    if one_side:
        say.warning(one_side)
    try:
        with st.spinner("Working out the coats"):
            found, chosen = answer(question), photo_choices(question)
    except ShadecoreError as error:
        say.error(error)
        return
    _show_pick(found, chosen, question.photo)
    with st.container(horizontal=True):
        taken = st.button("Take this colour to the pick", type="primary")
        kept = st.button("Keep it in the book")
    keep_photo = _ask_keep_photos()
    if taken or kept:
        session.put(question, ())
        if shop.from_elsewhere():
            shop.take_in()
        else:
            shop.keep_colour(question)
        if keep_photo:
            keep_photos([(each.name, each.getvalue()) for each in uploads])
    if taken:
        ways.go_to("pick")
    show_kept_bar()
    ask_undercoat(colour)


def _ask_keep_photos() -> bool:
    """Ask whether the photos are kept beside the colour, as the shop usually does."""
    book = shop.book()
    if book is None or book.read_only:
        return False
    return st.toggle(
        "Keep the photo in the book, too",
        shop.settings().keep_photos,
        help="A smaller copy, without where and when it was taken.",
    )


def _start_over() -> None:
    """Forget the photos when others are chosen, but not when the page is left."""
    chosen = {each.file_id for each in st.session_state.get("photo_files") or []}
    opened: dict[str, Picture | str] = st.session_state.get(_OPENED, {})
    st.session_state[_OPENED] = {
        key: each for key, each in opened.items() if key in chosen
    }


def _opened(uploads: list[tuple[str, str, object]]) -> dict[str, Picture]:
    """Pictures of the uploaded files, each opened once; or those of before."""
    after: dict[str, Picture | str] = st.session_state.get(_OPENED, {})
    for key, name, content in uploads:
        if key not in after:
            after[key] = TOO_MANY if _is_full(after) else _open(content, name)
    st.session_state[_OPENED] = after
    for each in after.values():
        if isinstance(each, str):
            say.error(each)
    return {key: each for key, each in after.items() if isinstance(each, Picture)}


def _is_full(opened: dict[str, Picture | str]) -> bool:
    """Whether a session holds as many pictures as it may, so that others have room."""
    held = [each.levels for each in opened.values() if isinstance(each, Picture)]
    return len(held) >= MOST_PHOTOS or sum(each.nbytes for each in held) > MOST_HELD


def _open(content: object, name: str) -> Picture | str:
    with st.spinner(f"Opening {name}"):
        try:
            return open_picture(content(), name)  # type: ignore[operator]
        except ShadecoreError as error:
            return str(error)


def _measured(picture: Picture, marks: Marks) -> PhotoColour | None:
    try:
        return measure_swatch(picture, marks)
    except ShadecoreError as error:
        say.error(f"{picture.name}: {error}")
        return None


def _show_colour(combined: Combined, names: list[str]) -> None:
    colour = combined.colour
    st.subheader("The colour", anchor=False)
    shown = say.plain(photo_colour_words(colour))
    st.markdown(f"**{shown}** ({PHOTO_SURE})")
    say.words(driver_words(colour))
    if combined.odd is not None:
        say.warning(odd_words(names[combined.odd]))
    for warning in colour.warnings:
        say.warning(warning)
    with st.expander("What the doubt is made of"):
        st.html(pictures.details_html(doubt_table(colour)))
        st.caption("Lab in D65/10°, as an instrument of 45/0 reads it.")


def _show_pick(
    found: Answer, chosen: tuple[Choice, ...], doubt: PhotoDoubt | None
) -> None:
    st.html(pictures.hero_html(found, found.recommended, doubt=doubt))
    if chosen:
        told = st.success if settled(chosen) else st.warning
        told(say.plain(choice_words(chosen)))
    say.words(why(found))
