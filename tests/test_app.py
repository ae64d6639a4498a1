"""The app without a browser: every widget's way into the answer."""

from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Button, ButtonGroup, FileUploader
from typed_greys import add_greys

from shadecore.book.book import open_book
from shadecore.book.records import BookShelf
from shadecore.book.where import book_path
from shadecore.question.question import Question

SHEET = Path(__file__).resolve().parents[1] / "data" / "product-line.toml"
SECONDS = 60


def _pick_page() -> None:
    from shadecore.screens.pick import page as pick_page  # noqa: PLC0415

    pick_page.page()


@pytest.fixture
def app() -> AppTest:
    return AppTest.from_function(_pick_page, default_timeout=SECONDS).run()


def _page(app: AppTest) -> str:
    return "\n".join(str(part.proto.body) for part in app.get("html"))


def _uploader(app: AppTest, key: str) -> FileUploader:
    return next(each for each in app.get("file_uploader") if each.key == key)


def _open(app: AppTest, button: str) -> None:
    """Open one of the buttons of the settings."""
    app.session_state[button] = True
    app.run()


def _more(app: AppTest, part: str) -> None:
    _group(app, "Look further").set_value("More").run()
    _group(app, "More").set_value(part).run()


def _why(app: AppTest) -> None:
    _group(app, "Look further").set_value("Why").run()


def _group(app: AppTest, label: str) -> ButtonGroup[Any]:
    return next(each for each in app.get("button_group") if each.label == label)


def _button(app: AppTest, label: str) -> Button:
    """The last one of a name."""
    return [each for each in app.button if each.label == label][-1]


def _chips(app: AppTest) -> list[str]:
    return [str(each) for each in _group(app, "Shelf").options]


def _picked(app: AppTest) -> str:
    assert not app.exception
    return _page(app).split("Spray it over: ")[1].split(" (L*")[0]


def test_the_pick_answers_an_example(app: AppTest) -> None:
    assert _picked(app) == "White N 9"
    assert "coats to hide" in _page(app)


def test_tolerance_units_and_gun_reach_the_link(app: AppTest) -> None:
    _open(app, "set_tolerance")
    _group(app, "Hidden when seen").set_value(1.0).run()
    _open(app, "set_units")
    _group(app, "Units").set_value("us").run()
    _open(app, "set_film")
    app.toggle[0].set_value(True).run()
    assert not app.exception
    assert app.query_params["tolerance"] == "1"
    assert app.query_params["units"] == "us"
    assert app.query_params["from_gun"] == "True"
    assert "fl oz/ft²" in _page(app)


def test_a_film_in_mil_is_the_same_film(app: AppTest) -> None:
    _open(app, "set_units")
    _group(app, "Units").set_value("us").run()
    _open(app, "set_film")
    field = next(each for each in app.number_input if "(mil)" in each.label)
    field.set_value(0.5).run()
    assert float(app.query_params["film_um"]) == pytest.approx(12.7)


def test_a_setting_stays_when_its_button_is_closed(app: AppTest) -> None:
    _open(app, "set_film")
    cap = next(each for each in app.number_input if each.key == "coat_cap")
    cap.set_value(9).run()
    app.session_state["set_film"] = False
    app.text_input(key="colour").set_value("40 50 30").run()
    assert app.query_params["coat_cap"] == "9"
    _open(app, "set_film")
    assert app.number_input(key="coat_cap").value == 9


def test_an_uploaded_spectrum_becomes_the_colour(app: AppTest) -> None:
    rows = "\n".join(f"{nm},{5 if nm < 600 else 70}" for nm in range(400, 701, 10))
    _open(app, "set_condition")
    upload = _uploader(app, "spectrum_file")
    upload.upload("red.csv", f"nm,percent\n{rows}".encode(), "text/csv").run()
    assert not app.exception
    assert app.text_input(key="colour").value.startswith("spectrum 0.05 0.05")
    assert _picked(app)


def test_a_wrong_spectrum_is_explained_and_the_answer_stays(app: AppTest) -> None:
    _open(app, "set_condition")
    upload = _uploader(app, "spectrum_file")
    app.session_state["set_condition"] = True
    upload.upload("x.csv", b"%PDF-1.7\0\0", "text/csv").run()
    assert any("not a text file" in each.value for each in app.error)
    assert _picked(app) == "White N 9"


def test_an_uploaded_shelf_takes_the_place_of_the_example(app: AppTest) -> None:
    _more(app, "Shelf as a table")
    upload = _uploader(app, "shelf_file")
    upload.upload("s.csv", b"name,L\nsnow,95\nslate,35\nodd,x\n", "text/csv").run()
    assert not app.exception
    assert any("line 4" in each.value for each in app.error)
    app.text_input(key="colour").set_value("36 0 0").run()
    assert _picked(app) == "slate"
    assert "snow" in app.query_params["shelf"]


def test_a_shelf_of_ones_own_is_typed_and_taken_back(app: AppTest) -> None:
    add_greys(app, "My white 92")
    add_greys(app, "My mid, N 6")
    assert _chips(app) == ["My white", "My mid"]
    assert _picked(app) == "My white"
    _button(app, "Undo").click().run()
    assert _chips(app) == ["My white"]
    _button(app, "Undo").click().run()
    assert len(_chips(app)) == 5
    assert "shelf" not in app.query_params


def test_a_chip_is_changed_and_deleted(app: AppTest) -> None:
    for chip in ("White N 9", "Light grey N 7.5"):
        _group(app, "Shelf").set_value(chip).run()
        _button(app, "Delete").click().run()
    assert "White N 9" not in _chips(app)
    _group(app, "Shelf").set_value("Mid grey N 5.5").run()
    field = app.text_input(key="shelf_edit_Mid grey N 5.5")
    assert field.value == "Mid grey N 5.5 L* 56.1"
    field.set_value("Paler 88").run()
    assert not app.exception
    assert _chips(app)[0] == "Paler"
    assert _picked(app) == "Paler"


def test_what_is_no_grey_is_explained_and_stays_in_its_box(app: AppTest) -> None:
    add_greys(app, "My white")
    assert any("write a name" in each.value for each in app.error)
    assert app.session_state["shelf_entered"].used.back.text == "My white"
    assert len(_chips(app)) == 5


def test_lines_that_come_while_the_page_is_busy_are_all_put(app: AppTest) -> None:
    add_greys(app, "My white 92", "no grey", "My mid, N 6")
    assert _chips(app) == ["My white", "My mid"]
    assert any("write a name" in each.value for each in app.error)
    add_greys(app, "Dark 20")
    assert _chips(app) == ["My white", "My mid", "Dark"]
    assert app.session_state["shelf_entered"].used.back.text == "no grey"


def test_an_own_shelf_is_the_shops_from_then_on(app: AppTest) -> None:
    add_greys(app, "My white 92")
    with open_book(book_path()) as book:
        kept = book.settings().thing.shelf
        names = [each.undercoat.name for each in book.show(BookShelf, kept).thing.items]
    assert names == ["My white"]


def test_a_colour_is_kept_and_another_one_fills_the_page(app: AppTest) -> None:
    app.text_input(key="colour").set_value("30 0 0").run()
    assert "colour_id" in app.query_params
    other = Question("88 0 1", coat_cap=7)
    app.session_state["question"] = other
    app.session_state["question_edition"] = 99
    app.run()
    assert app.text_input(key="colour").value == "88 0 1"
    assert app.query_params["coat_cap"] == "7"


def test_the_amounts_are_those_of_the_product_sheet(app: AppTest) -> None:
    """10 um a coat over 20 % solids and 65 % transfer: 77 ml/m2 a coat."""
    assert f">{10 * 3 / 0.13 / 0.65:.0f}<" in _page(app)
    app.session_state["products_text"] = SHEET.read_text("utf-8").replace(
        "Example line", "Our line"
    )
    app.run()
    assert f">{10 * 3 / 0.20 / 0.65:.0f}<" in _page(app)


def test_angles_are_said_by_their_button_and_go_with_their_colour(app: AppTest) -> None:
    app.selectbox(key="kind").set_value("metallic").run()
    _open(app, "set_angles")
    app.text_area(key="angles_typed").set_value("15: 109 0 -1\n45: 35 0 -1.5").run()
    assert "2 angles" in [each.proto.popover.label for each in app.get("popover")]
    assert "Topcoat: L* 35.0, a* 0.0, b* -1.5" in _page(app)
    # Closed, they stay; what cannot be read stays too, and is explained.
    app.session_state["set_angles"] = False
    app.run()
    assert app.session_state["question"].angles.angles == (15.0, 45.0)
    app.text_input(key="colour").set_value("45 61 35").run()
    assert app.session_state["question"].angles is None
    app.run()
    assert "Add angles" in [each.proto.popover.label for each in app.get("popover")]
    _open(app, "set_angles")
    app.text_area(key="angles_typed").set_value("face 109").run()
    app.session_state["set_angles"] = False
    app.run()
    app.run()
    assert any("No readings were found" in each.value for each in app.error)


def test_a_wrong_colour_is_explained(app: AppTest) -> None:
    app.text_input(key="colour").set_value("450 0 0").run()
    assert not app.exception
    assert any("between 0 (black) and 100" in each.value for each in app.error)


def _linked_page() -> None:
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.pick import page as pick_page  # noqa: PLC0415

    shop.begin()
    pick_page.page()


def test_a_links_colour_that_cannot_be_read_is_not_offered_to_be_kept() -> None:
    for colour, offered in (("bluish", False), ("40 30 20", True)):
        app = AppTest.from_function(_linked_page, default_timeout=SECONDS)
        app.query_params["colour"] = colour
        app.run()
        assert ("Keep it" in [each.label for each in app.button]) is offered


def test_a_link_with_nonsense_still_opens() -> None:
    app = AppTest.from_function(_pick_page, default_timeout=SECONDS)
    for name, value in (
        ("tolerance", "wide"),
        ("observer", "5"),
        ("shelf", "??"),
        ("coat_cap", "0"),
        ("illuminant", "moon"),
        ("units", "furlong"),
        ("film_um", "-4"),
        ("strength", "nan"),
    ):
        app.query_params[name] = value
    app.run()
    assert not app.exception
    assert _picked(app) == "White N 9"


CARD = (
    b"area,coats,L,a,b\nblack,2,38.4,48.1,27.0\nwhite,2,47.6,62.4,37.6\n"
    b"full,,45,60,35\n"
)


def test_a_card_narrows_the_interval_and_reaches_the_link(app: AppTest) -> None:
    before = _page(app)
    _open(app, "set_card")
    upload = _uploader(app, "card_file")
    app.session_state["set_card"] = True
    upload.upload("card.csv", CARD, "text/csv").run()
    assert not app.exception
    assert not app.error
    assert "black,2" in app.query_params["test_card"]
    assert _page(app) != before
    _why(app)
    assert any("spreading rate" in each.value for each in app.markdown)


def test_a_swapped_card_is_explained(app: AppTest) -> None:
    swapped = CARD.replace(b"black", b"x").replace(b"white", b"black")
    swapped = swapped.replace(b"x", b"white")
    _open(app, "set_card")
    upload = _uploader(app, "card_file")
    app.session_state["set_card"] = True
    upload.upload("card.csv", swapped, "text/csv").run()
    assert any("swapped" in each.value for each in app.error)
    assert _picked(app) == "White N 9"


def test_sand_throughs_say_whether_to_seal(app: AppTest) -> None:
    _more(app, "Sand-throughs")
    areas = next(each for each in app.multiselect if "side by side" in each.label)
    areas.set_value(["White N 9", "Near-black N 2.5"]).run()
    assert not app.exception
    assert any("seal first" in each.value for each in app.markdown)
    assert "White N 9" in app.query_params["areas"]


def test_money_counts_from_the_recommended_sealer(app: AppTest) -> None:
    _more(app, "Cost")
    assert "+0.00" in _page(app)
    price = next(each for each in app.number_input if "litre" in each.label)
    price.set_value(80.0).run()
    assert not app.exception
    assert app.query_params["topcoat_price_per_l"] == "80"


def test_why_shows_reasons_and_curves_only_when_it_is_opened(app: AppTest) -> None:
    def charts() -> int:
        return len(app.get("vega_lite_chart"))

    assert (charts(), "CIEDE2000" in _page(app)) == (0, False)
    _why(app)
    assert not app.exception
    assert charts() == 3
    assert any("see-through longest in red" in each.value for each in app.markdown)
