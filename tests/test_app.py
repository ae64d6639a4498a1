"""The app without a browser: every widget's way into the answer."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import FileUploader

APP = str(Path(__file__).resolve().parents[1] / "app.py")
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


def _picked(app: AppTest) -> str:
    assert not app.exception
    return _page(app).split("Spray it over: ")[1].split(" (L*")[0]


def test_the_pick_answers_an_example(app: AppTest) -> None:
    assert _picked(app) == "White N 9"
    assert "coats to hide" in _page(app)


def test_tolerance_units_and_gun_reach_the_link(app: AppTest) -> None:
    app.get("button_group")[0].set_value(1.0).run()
    app.get("button_group")[1].set_value("us").run()
    app.toggle[0].set_value(True).run()
    assert not app.exception
    assert app.query_params["tolerance"] == "1"
    assert app.query_params["units"] == "us"
    assert "fl oz/ft²" in _page(app)


def test_a_film_in_mil_is_the_same_film(app: AppTest) -> None:
    app.get("button_group")[1].set_value("us").run()
    field = next(each for each in app.number_input if "(mil)" in each.label)
    field.set_value(0.5).run()
    assert float(app.query_params["film_um"]) == pytest.approx(12.7)


def test_an_uploaded_spectrum_becomes_the_colour(app: AppTest) -> None:
    rows = "\n".join(f"{nm},{5 if nm < 600 else 70}" for nm in range(400, 701, 10))
    upload = _uploader(app, "spectrum_file")
    upload.upload("red.csv", f"nm,percent\n{rows}".encode(), "text/csv").run()
    assert not app.exception
    assert app.text_input[0].value.startswith("spectrum 0.05 0.05")
    assert _picked(app)


def test_a_wrong_spectrum_is_explained_and_the_answer_stays(app: AppTest) -> None:
    upload = _uploader(app, "spectrum_file")
    upload.upload("x.csv", b"%PDF-1.7\0\0", "text/csv").run()
    assert any("not a text file" in each.value for each in app.error)
    assert _picked(app) == "White N 9"


def test_an_uploaded_shelf_takes_the_place_of_the_example(app: AppTest) -> None:
    upload = _uploader(app, "shelf_file")
    upload.upload("s.csv", b"name,L\nsnow,95\nslate,35\nodd,x\n", "text/csv").run()
    assert not app.exception
    assert any("line 4" in each.value for each in app.error)
    app.text_input[0].set_value("36 0 0").run()
    assert _picked(app) == "slate"
    assert "snow" in app.query_params["shelf"]


def test_a_wrong_colour_is_explained(app: AppTest) -> None:
    app.text_input[0].set_value("450 0 0").run()
    assert not app.exception
    assert any("between 0 (black) and 100" in each.value for each in app.error)


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
    _uploader(app, "card_file").upload("card.csv", CARD, "text/csv").run()
    assert not app.exception
    assert not app.error
    assert any("spreading rate" in each.value for each in app.markdown)
    assert "black,2" in app.query_params["test_card"]
    assert _page(app) != before


def test_a_swapped_card_is_explained(app: AppTest) -> None:
    swapped = CARD.replace(b"black", b"x").replace(b"white", b"black")
    swapped = swapped.replace(b"x", b"white")
    _uploader(app, "card_file").upload("card.csv", swapped, "text/csv").run()
    assert any("swapped" in each.value for each in app.error)
    assert _picked(app) == "White N 9"


def test_patches_say_whether_to_seal(app: AppTest) -> None:
    areas = next(each for each in app.multiselect if "side by side" in each.label)
    areas.set_value(["White N 9", "Near-black N 2.5"]).run()
    assert not app.exception
    assert any("seal first" in each.value for each in app.markdown)


def test_money_counts_from_the_recommended_undercoat(app: AppTest) -> None:
    assert "+0.00" in _page(app)
    price = next(each for each in app.number_input if "litre" in each.label)
    price.set_value(80.0).run()
    assert not app.exception
    assert app.query_params["topcoat_price_per_l"] == "80"
