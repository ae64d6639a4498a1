"""The shop's rates: kept in its book, and what the next estimate begins with."""

from pathlib import Path

from book_commands import Captured, book, data, refused, run
from plan_page import opened, plan_page
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.datafiles import data_file
from shadecore.job.estimate import ShopRates

JOB = str(data_file("demo-job.toml"))


def _kept() -> ShopRates | None:
    with open_book() as opened_book:
        return opened_book.settings().thing.rates


def test_rates_are_kept_shown_and_used_by_the_command_line(
    capsys: Captured, tmp_path: Path
) -> None:
    assert "keeps no rates yet" in refused(capsys, "book", "rates")
    words = ("--hour-rate", "70", "--tax-percent", "19")
    assert "An hour is 70.00, tax is 19 %." in book(capsys, "rates", *words)
    # What is not said again stays.
    shown = data(capsys, "book", "rates", "--extras", "5")
    assert (shown["hour"], shown["tax_percent"], shown["extras"]) == (70.0, 19.0, 5.0)
    assert _kept() == ShopRates(70.0, 0.0, 5.0, 19.0)
    assert "must be from 0 to" in refused(capsys, "book", "rates", "--tax-percent=-1")

    page = run(capsys, "plan", JOB, "--estimate", "--book")
    assert "An hour is 70.00 USD, tax is 19 %" in page
    page = run(capsys, "plan", JOB, "--estimate", "--book", "--hour-rate", "80")
    assert "An hour is 80.00 USD, tax is 19 %" in page
    assert _kept() == ShopRates(70.0, 0.0, 5.0, 19.0)
    # Without a word of the book none is opened.
    assert "add --book" in refused(capsys, "plan", JOB, "--estimate")
    run(capsys, "plan", JOB, "--out", str(tmp_path / "job.toml"), "--keep", "Door")
    assert "An hour is 70.00" in run(capsys, "plan", "kept:Door", "--estimate")


def _estimate() -> AppTest:
    return opened(plan_page("sheet").run(), "estimate")


def _number(app: AppTest, label: str) -> float | None:
    return next(n for n in app.number_input if n.label.startswith(label)).value


def _fill(app: AppTest, label: str, value: float) -> None:
    field = next(n for n in app.number_input if n.label.startswith(label))
    field.set_value(value).run()
    assert not app.exception


def test_the_page_begins_with_the_rates_of_the_estimate_before() -> None:
    app = _estimate()
    assert _number(app, "An hour") == 60.0
    # An invented rate that nobody changed is not kept.
    assert _kept() is None
    _fill(app, "An hour", 72.5)
    _fill(app, "Tax", 19.0)
    _fill(app, "Extras", 310.0)
    assert _number(app, "Extras") == 310.0
    # Extras are those of one job.
    assert _kept() == ShopRates(72.5, 0.0, 0.0, 19.0)
    app = _estimate()
    assert (_number(app, "An hour"), _number(app, "Tax")) == (72.5, 19.0)
    assert _number(app, "Extras") == 0.0


def _book_page() -> None:
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.book import page as book_page  # noqa: PLC0415

    shop.begin()
    book_page.page()


def test_the_settings_hold_them() -> None:
    app = AppTest.from_function(_book_page, default_timeout=60)
    app.session_state["book_part"] = "Settings"
    app.run()
    assert _number(app, "An hour") is None
    _fill(app, "Usual extras", 8.0)
    assert _kept() is None
    _fill(app, "An hour", 65.0)
    assert _kept() == ShopRates(65.0, 0.0, 8.0, 0.0)
    assert _number(_estimate(), "Extras") == 8.0
    _fill(app, "An hour", 1e9)
    assert "The price of an hour must be" in app.error[0].value
    assert _kept() == ShopRates(65.0, 0.0, 8.0, 0.0)
