"""The plan's page as a test runs it, without a browser."""

from pathlib import Path

from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import FileUploader

from shadecore.job.request import JobRequest

DEMO = Path(__file__).resolve().parents[1] / "data" / "demo-job.toml"
PRODUCTS = DEMO.with_name("product-line.toml")
SECONDS = 60
_OPEN = "open_parts"
_PART_OF = {
    **dict.fromkeys(("Air", "Panel", "Humidity", "Clear coat"), "weather"),
    "Other area": "area",
    "Left in cup": "products",
    "A break": "hours",
    "Plan from": "products",
    "job_file": "file",
    "product_file": "products",
}
"""Part of the form in which a field stands, by the beginning of its label or key."""


def _plan_page() -> None:
    # Runs as a script of its own, which knows only what it imports itself.
    from shadecore.screens.plan import page as plan_page  # noqa: PLC0415

    plan_page.page()


def plan_page(view: str = "setup") -> AppTest:
    """The page before its first run."""
    # AppTest cannot change to a page that is a function, so the page runs alone.
    app = AppTest.from_function(_plan_page, default_timeout=SECONDS)
    app.query_params["view"] = view
    app.session_state[_OPEN] = ()
    return app


def opened(app: AppTest, *parts: str) -> AppTest:
    """The page with parts of its form open, which closed ones do not run."""
    new = [each for each in parts if each not in app.session_state[_OPEN]]
    if new:
        app.session_state[_OPEN] = (*app.session_state[_OPEN], *new)
        _open(app)
        app.run()
    return app


def _open(app: AppTest) -> None:
    for name in app.session_state[_OPEN]:
        app.session_state[f"plan_{name}"] = True


def _with(app: AppTest, label: str) -> AppTest:
    found = (part for start, part in _PART_OF.items() if label.startswith(start))
    part = "area" if label.endswith("how many") else next(found, "")
    return opened(app, part) if part else app


def turn(app: AppTest, view: str) -> AppTest:
    """Turn to another view."""
    app.session_state["plan_view"] = view
    _open(app)
    app.run()
    assert not app.exception
    return app


def reloaded(app: AppTest, view: str = "setup") -> AppTest:
    """The page opened anew by its link."""
    again = plan_page(view)
    for name, value in app.query_params.items():
        if name != "view":
            again.query_params[name] = value
    return again.run()


def upload(app: AppTest, key: str, name: str, content: bytes) -> AppTest:
    """Put a file into one of the form's fields."""
    field: FileUploader = next(
        each for each in _with(app, key).get("file_uploader") if each.key == key
    )
    return field.upload(name, content, "application/toml").run()


def html(app: AppTest) -> str:
    """What the page shows as HTML."""
    assert not app.exception
    return "\n".join(str(part.proto.body) for part in app.get("html"))


def sheet(app: AppTest) -> str:
    """The sheet, and then the form again."""
    shown = html(turn(app, "sheet"))
    turn(app, "setup")
    return shown


def said(app: AppTest) -> str:
    """The sentences on the page."""
    assert not app.exception
    return "\n".join(each.value for each in app.markdown)


def job_of(app: AppTest) -> JobRequest:
    """The job as the page has it."""
    job = app.session_state["job_request"]
    assert isinstance(job, JobRequest)
    return job


def press(app: AppTest, label: str) -> AppTest:
    """Press a button by the beginning of its label."""
    _with(app, label)
    found = next(each for each in app.button if each.label.startswith(label))
    return found.click().run()


def number(app: AppTest, label: str, value: float) -> AppTest:
    """Fill in a number by the beginning of its label."""
    _with(app, label)
    field = next(each for each in app.number_input if each.label.startswith(label))
    return field.set_value(value).run()


def toggle(app: AppTest, label: str, *, on: bool = True) -> AppTest:
    """Set a switch."""
    _with(app, label)
    field = next(each for each in app.toggle if each.label == label)
    return field.set_value(on).run()


def titles(app: AppTest) -> list[str]:
    """Titles of the sheet's folded parts; the form is there again afterwards."""
    found = [each.label for each in turn(app, "sheet").expander]
    turn(app, "setup")
    return found
