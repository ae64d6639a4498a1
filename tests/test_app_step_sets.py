"""A shop's own steps on the pages: kept from a job, used in another, in the book."""

from plan_page import job_of, opened, plan_page, press, said
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import FileUploader

from shadecore.book.book import open_book
from shadecore.book.shop_records import BookSteps
from shadecore.job.own_steps import StepChange
from shadecore.job.step_files import write_steps

WAY = (StepChange("wash", drop=True), StepChange("tack", title="Tack twice"))


def _sets() -> dict[str, tuple[StepChange, ...]]:
    with open_book() as book:
        return {each.thing.name: each.thing.changes for each in book.list(BookSteps)}


def _labels(app: AppTest) -> list[str]:
    return [each.label for each in app.button]


def test_steps_of_one_job_are_kept_and_used_in_the_next() -> None:
    app = opened(plan_page().run(), "steps")
    assert "Use it" not in _labels(app)
    press(app, "Drop")
    changes = job_of(app).details.changes
    name = next(each for each in app.text_input if each.label.startswith("Keep these"))
    name.set_value("Our way").run()
    press(app, "Keep")
    assert "The book keeps these steps as 'Our way'" in said(app)
    assert _sets() == {"Our way": changes}

    app = opened(plan_page().run(), "steps")
    assert job_of(app).details.changes == ()
    assert "Left out: Wash with soap and water." in [each.value for each in app.caption]
    press(app, "Use it")
    assert job_of(app).details.changes == changes


def test_a_set_is_added_to_what_the_job_does_and_replaced_in_the_book() -> None:
    with open_book() as book:
        book.add(BookSteps("Our way", WAY[1:]))
    app = opened(plan_page().run(), "steps")
    press(app, "Drop")
    (drop,) = job_of(app).details.changes
    press(app, "Add it to the changes above")
    assert job_of(app).details.changes == (drop, *WAY[1:])
    name = next(each for each in app.text_input if each.label.startswith("Keep these"))
    name.set_value("our way").run()
    assert "Keep" not in _labels(app)
    press(app, "Replace the one in the book")
    assert _sets() == {"Our way": (drop, *WAY[1:])}
    press(app, "As usual")
    press(app, "Use it instead")
    assert job_of(app).details.changes == (drop, *WAY[1:])


def _book_page() -> None:
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.book import page as book_page  # noqa: PLC0415

    shop.begin()
    book_page.page()


def test_the_book_takes_in_shows_renames_and_removes_sets() -> None:
    app = AppTest.from_function(_book_page, default_timeout=60)
    app.session_state["book_part"] = "Steps"
    app.run()
    upload = app.get("file_uploader")[0]
    assert isinstance(upload, FileUploader)
    upload.upload("way.toml", write_steps("Our way", WAY).encode(), "text/plain")
    app.run()
    assert _sets() == {"Our way": WAY}
    assert "**Our way**" in said(app)
    assert any("Tack twice" in each.value for each in app.caption)
    name = next(each for each in app.text_input if each.label == "Name")
    name.set_value("Hail")
    press(app, "Keep")
    assert list(_sets()) == ["Hail"]
    press(app, "Remove")
    assert _sets() == {}
    press(app, "Undo")
    assert list(_sets()) == ["Hail"]
