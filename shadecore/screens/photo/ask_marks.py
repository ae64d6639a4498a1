"""What the swatch is measured against, and where things lie on a picture."""

from typing import Final, NamedTuple

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.photo.area import Area
from shadecore.photo.corners import Corners
from shadecore.photo.measure import Marks, check_marks
from shadecore.photo.picture import Picture, preview
from shadecore.photo.reference import (
    LIGHTNESS_RANGE,
    REFERENCES,
    Reference,
    own_reference,
)
from shadecore.photo.rendering import UNKNOWN_LIGHT
from shadecore.photo.suggest import Suggestion, suggest_marks
from shadecore.screens import say
from shadecore.screens.photo.marker import Mark, Placed, ask_marks
from shadecore.telling.photo_words import (
    CORNER_PATCHES,
    SURE,
    SURE_OF_ONE,
    are_several,
    sure_words,
)

_OWN, _CHART, _NOTHING = "own", "chart", "nothing"
_NAMES: Final = {
    **{key: each.name for key, each in REFERENCES.items()},
    _OWN: "Grey of known L*",
    _CHART: "24-patch chart",
    _NOTHING: "Nothing",
}
_LIGHT_NAMES: Final = {
    UNKNOWN_LIGHT: "Not sure",
    "daylight": "Daylight",
    "bulb": "Warm bulb",
    "led": "LED or tube",
}
_CORNERS: Final = ("1 brown", "2 turquoise", "3 black", "4 white")
_CHART_START: Final[Corners] = ((0.2, 0.3), (0.8, 0.3), (0.8, 0.7), (0.2, 0.7))
_STARTS: Final = (
    Area(0.05, 0.05, 0.25, 0.25),
    Area(0.75, 0.05, 0.95, 0.25),
    Area(0.05, 0.75, 0.25, 0.95),
    Area(0.75, 0.75, 0.95, 0.95),
)
"""Where a reference is looked for that was not found."""
_SUGGESTED: Final = "photo_suggestions"
_PLACES: Final = "photo_places_"
_SURE: Final = "photo_sure_"
"""Start of the key under which the session keeps what was said to lie where it was
guessed on a picture."""


class Against(NamedTuple):
    """What lies beside the swatch.

    Attributes
    ----------
    reference : Reference or None
        A neutral surface of known colour.
    chart : bool
        Whether it is a 24-patch chart.
    second : bool
        Whether a second piece of the reference lies on the other side.
    light : str
        What light they are in.
    """

    reference: Reference | None
    chart: bool
    second: bool
    light: str


def ask_against(photos: dict[str, Picture]) -> Against:
    """Ask what lies beside the swatch.

    Parameters
    ----------
    photos : dict of str to Picture
        The pictures; where a chart is seen on one, it is proposed.

    Returns
    -------
    Against
    """
    seen = any(_suggestion(*each).chart is not None for each in photos.items())
    kind = st.segmented_control(
        "Beside the swatch lies",
        list(_NAMES),
        format_func=_NAMES.__getitem__,
        default=_CHART if seen else "grey card",
        required=True,
        key="photo_against",
    )
    if kind == _CHART:
        return Against(None, chart=True, second=False, light=UNKNOWN_LIGHT)
    light = _ask_light()
    if kind == _NOTHING:
        return Against(None, chart=False, second=False, light=light)
    reference = REFERENCES.get(str(kind))
    if reference is None:
        lightness = st.number_input(
            r"L\* of the reference",
            *LIGHTNESS_RANGE,
            50.0,
            0.5,
            key="photo_own_lightness",
        )
        reference = own_reference(lightness)
    second = st.toggle(
        "A second one lies on the other side",
        key="photo_second",
        help="Two of them take out light that falls off across the swatch.",
    )
    return Against(reference, chart=False, second=second, light=light)


def _ask_light() -> str:
    light = st.segmented_control(
        "In the light of",
        list(_LIGHT_NAMES),
        format_func=_LIGHT_NAMES.__getitem__,
        default=UNKNOWN_LIGHT,
        required=True,
        key="photo_light",
        help="Paints look different in warm or LED light even when its colour is "
        "taken out; daylight is read most surely.",
    )
    return str(light)


def ask_places(key: str, picture: Picture, against: Against) -> Marks | None:
    """Ask where swatch and reference lie on one picture.

    Parameters
    ----------
    key : str
        Of the picture.
    picture : Picture
        The picture.
    against : Against
        What lies beside the swatch.

    Returns
    -------
    Marks or None
        None while they are wrong, which is said, or while what the swatch is measured
        against lies where it was only guessed.
    """
    suggested = _suggestion(key, picture)
    places: dict[str, tuple[float, ...]] = st.session_state.setdefault(
        f"{_PLACES}{key}", {}
    )
    start_boxes, start_corners = _to_mark(suggested, against, {})
    boxes, corners = _to_mark(suggested, against, places)
    if against.chart and suggested.chart is None:
        st.warning("No chart was recognised; draw its four corner patches yourself.")
    st.caption(
        f"{picture.name}: look where the marks lie, since they are guessed. Drag them "
        "onto even parts, away from edges and reflections; or choose one and draw it. "
        "On a keyboard, arrows move a mark and Shift with arrows sizes it."
    )
    # Above the picture, where it is seen at once; what it asks follows from the marks.
    asked = st.container()
    placed = ask_marks(
        preview(picture),
        boxes,
        corners,
        f"{key}-{against.chart}-{against.second}-{_beside(against)}",
        f"Photo {picture.name} with marks on it",
    )
    # What was placed stays where it is when something else is asked to be marked.
    places.update({**placed.boxes, **placed.corners})
    marks = _marks(placed, against)
    try:
        check_marks(marks)
    except ShadecoreError as error:
        say.error(error)
        return None
    guessed = [
        each.label for each in start_boxes[1:] if placed.boxes[each.key] == each.at
    ]
    # A chart that was found has shown its colours; one that was not is marked by hand.
    if suggested.chart is None and any(
        placed.corners[each.key] == each.at for each in start_corners
    ):
        guessed.append(CORNER_PATCHES)
    with asked:
        return marks if _are_sure(key, guessed) else None


def _beside(against: Against) -> str:
    return "" if against.reference is None else against.reference.mark


def _are_sure(key: str, guessed: list[str]) -> bool:
    """Ask whether marks lie on what they are called, where nobody has put them there.

    What was said holds for a mark's name: once white paper is said to lie beside the
    swatch instead of a grey card, it is asked again.
    """
    said: set[str] = st.session_state.setdefault(f"{_SURE}{key}", set())
    open_ones = [each for each in guessed if each not in said]
    if not open_ones:
        return True
    with st.container(border=True):
        say.words(sure_words(open_ones))
        st.button(
            SURE if are_several(open_ones) else SURE_OF_ONE,
            key=f"{_SURE}button_{key}",
            type="primary",
            on_click=said.update,
            args=(open_ones,),
        )
    return False


def _suggestion(key: str, picture: Picture) -> Suggestion:
    kept: dict[str, Suggestion] = st.session_state.setdefault(_SUGGESTED, {})
    if key not in kept:
        with st.spinner("Looking for the swatch"):
            kept[key] = suggest_marks(picture)
    return kept[key]


def _to_mark(
    suggested: Suggestion, against: Against, placed: dict[str, tuple[float, ...]]
) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """Marks where they were placed before, else where they are suggested."""

    def mark(key: str, label: str, at: tuple[float, ...]) -> Mark:
        return Mark(key, label, placed.get(key, at))

    boxes = [mark("swatch", "Swatch", suggested.swatch)]
    corners: tuple[Mark, ...] = ()
    if against.reference is not None:
        at = suggested.reference or _free(_STARTS, suggested.swatch)
        name = against.reference.mark
        boxes.append(mark("reference", name.capitalize(), at))
        if against.second:
            other = _free(_STARTS[::-1], suggested.swatch, at)
            boxes.append(mark("second", f"Second {name}", other))
    if against.chart:
        corners = tuple(
            mark(f"corner{place}", label, at)
            for place, (label, at) in enumerate(
                zip(_CORNERS, suggested.chart or _CHART_START, strict=True)
            )
        )
    return tuple(boxes), corners


def _free(places: tuple[Area, ...], *taken: Area) -> Area:
    """The first place that no mark lies on; the first one where all are taken."""
    for place in places:
        if all(place.apart_from(each) for each in taken):
            return place
    return places[0]


def _marks(placed: Placed, against: Against) -> Marks:
    references = tuple(
        (Area(*placed.boxes[key]), against.reference)
        for key in ("reference", "second")
        if key in placed.boxes and against.reference is not None
    )
    chart = tuple((at[0], at[1]) for at in placed.corners.values())
    return Marks(
        Area(*placed.boxes["swatch"]), references, chart or None, against.light
    )
