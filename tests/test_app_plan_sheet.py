"""The plan's sheet without a browser: prints first, then what hangs by the booth."""

import re

import pytest
from plan_page import html, job_of, plan_page, press, said, turn
from streamlit.testing.v1 import AppTest

from shadecore.datafiles import data_file
from shadecore.formats.table import read_text
from shadecore.question.answer import answer
from shadecore.screens.plan.job import PRODUCTS
from shadecore.telling.limit_words import INVENTED_OVER

FILES = [
    *("Sheet (PDF)", "Sheet (HTML)", "Cautions (PDF)", "Cautions (HTML)"),
    *("Calendar", "Job file"),
]


@pytest.fixture
def app() -> AppTest:
    return plan_page("sheet").run()


def test_the_page_plans_an_example(app: AppTest) -> None:
    assert not app.error
    assert "Seal with White N 9" in html(app)
    titles = [each.label for each in app.expander]
    assert any(re.fullmatch(r"\w{3} \d\d \w{3}: \d+ steps?", each) for each in titles)
    assert {"Weather", "Before you spray", "Cautions sheet"} < set(titles)
    cautions = [each.value for each in app.subheader]
    assert cautions[0] == "Cautions"
    assert "Measured and assumed" in cautions
    # Each part of the sheet opens by itself; only the day of the next step is open.
    days = [each for each in app.expander if each.label.endswith((" step", " steps"))]
    assert [each.proto.expanded for each in days] == [True] + [False] * (len(days) - 1)
    assert "isocyanates" in said(app)
    assert any("supplied air" in each.value for each in app.info)
    assert [each.label for each in app.get("download_button")] == FILES


def test_times_for_the_accounts_come_with_the_first_step(app: AppTest) -> None:
    press(turn(app, "bench"), "Done: Wash")
    turn(app, "sheet")
    labels = [each.label for each in app.get("download_button")]
    assert labels == [*FILES, "Times (CSV)"]
    assert 'aria-label="done"' in html(app)


def test_the_page_shows_the_colour_that_it_plans(app: AppTest) -> None:
    shown = html(app)
    assert 'aria-label="Topcoat: L* 45.0, a* 60.0, b* 35.0"' in shown
    assert 'aria-label="Spray it over: White N 9 (L* 90.2, N 9.0)"' in shown
    coats = answer(job_of(app).question).recommended.coats
    assert f'aria-label="coat {coats}, hides"' in shown
    assert "A screen is not a paint chip" in shown
    assert "invented example, do not spray by it" in shown


def test_limits_say_where_they_stand_and_how_well_they_are_known(app: AppTest) -> None:
    """California's base coat: 3.5 lb/gal against 5.0; common practice, no source."""
    limits = next(each for each in app.expander if each.label == "The limits in full")
    told = [each.value for each in limits.markdown]
    assert "whose own text was not read" in told[0]
    assert any(
        each.startswith("Solvent base coat: ")
        and "(5.00 lb/gal) is above the 420 g/L" in each
        and each.endswith("check your local rule.")
        for each in told
    )


def test_what_is_over_a_limit_stands_first() -> None:
    """Of a line that somebody sprays; of the invented one it is folded to a line."""
    text = read_text(data_file("product-line.toml"))
    page = plan_page("sheet")
    page.session_state[PRODUCTS] = text.replace("invented = true", "")
    (told,) = [each.value for each in page.run().warning]
    for words in ("VOC over the limit", "Solvent base coat"):
        assert words in told
    invented = plan_page("sheet").run()
    assert not invented.warning
    folded = next(each for each in invented.expander if each.label == INVENTED_OVER)
    assert "VOC over the limit" in folded.markdown[0].value
