"""What ``plan`` writes: PDF, HTML, calendar, and nothing where it cannot."""

from pathlib import Path

import pytest
from command_line import DEMO, Captured, flat, refused, run
from icalendar import Calendar
from pypdf import PdfReader

from shadecore.book.book import open_book
from shadecore.book.shop_records import ShopSettings
from shadecore.cli import main
from shadecore.datafiles import data_file
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned as plan_request
from shadecore.products.sheet_file import demo_sheet


def demo_plan() -> Plan:
    return plan_request(parse_job(Path(DEMO).read_text("utf-8"), DEMO), demo_sheet())


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_bytes(Path(DEMO).read_bytes())
    return path


def test_a_plan_as_pdf(capsys: Captured, tmp_path: Path) -> None:
    out = tmp_path / "x.pdf"
    assert run(capsys, "plan", DEMO, "--out", str(out)) == ""
    reader = PdfReader(out)
    assert len(reader.pages) <= 2
    text = flat(" ".join(page.extract_text() for page in reader.pages))
    plan = demo_plan()
    assert plan.request.name in text
    for each in plan.timeline:
        assert each.step.title in text
    for each in plan.materials:
        assert each.product.name in text


def test_the_cautions_have_a_print_of_their_own(
    capsys: Captured, tmp_path: Path
) -> None:
    out = tmp_path / "x.pdf"
    assert run(capsys, "plan", DEMO, "--cautions", "--out", str(out)) == ""
    (page,) = PdfReader(out).pages
    text = flat(page.extract_text())
    for _, caution in demo_plan().cautions:
        assert caution in text
    # A terminal has room for both.
    shown = "".join(run(capsys, "plan", DEMO).split())
    for wanted in (*(text for _, text in demo_plan().cautions), "Mix for 1.5"):
        # A line may end at a hyphen.
        assert "".join(wanted.split()) in shown
    both = ("plan", DEMO, "--cautions", "--estimate", "--hour-rate", "60")
    assert "at a time" in refused(capsys, *both)


def test_prints_carry_the_books_shop_and_paper(
    capsys: Captured, tmp_path: Path
) -> None:
    file = tmp_path / "book.sqlite"
    with open_book(file) as book:
        settings = ShopSettings(shop="Zebra Body Works", paper="Letter")
        book.change(book.settings(), settings)
    asked = {
        "sheet": ("plan", DEMO),
        "cautions": ("plan", DEMO, "--cautions"),
        "estimate": ("plan", DEMO, "--estimate", "--hour-rate", "60"),
        "handout": ("handout", "45", "60", "35"),
        "chart": ("wallchart", str(data_file("demo-colours.csv"))),
    }
    for name, words in asked.items():
        out = tmp_path / f"{name}.pdf"
        run(capsys, *words, "--book", str(file), "--out", str(out))
        first = PdfReader(out).pages[0]
        assert "Zebra Body Works." in flat(first.extract_text()), name
        # 8.5 by 11 inches: ANSI/ASME Y14.1, size A.
        box = first.mediabox
        assert (round(box.width), round(box.height)) == (612, 792), name
    out = tmp_path / "bare.pdf"
    run(capsys, "plan", DEMO, "--out", str(out))
    bare = PdfReader(out).pages[0]
    assert "Zebra" not in bare.extract_text()
    assert round(bare.mediabox.height) == 842


def test_a_plan_as_html(capsys: Captured, tmp_path: Path) -> None:
    out = tmp_path / "x.HTML"
    run(capsys, "plan", DEMO, "--out", str(out))
    page = out.read_text("utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert f"<h1>{demo_plan().request.name}</h1>" in page


def test_a_plan_as_calendar(capsys: Captured, tmp_path: Path) -> None:
    out = tmp_path / "x.ics"
    run(capsys, "plan", DEMO, "--out", str(out))
    calendar = Calendar.from_ical(out.read_bytes())
    events = calendar.walk("VEVENT")
    plan = demo_plan()
    assert [str(event["SUMMARY"]) for event in events] == [
        each.step.title for each in plan.timeline
    ]
    assert [event["DTSTART"].dt for event in events] == [
        each.start for each in plan.timeline
    ]
    assert len({str(event["UID"]) for event in events}) == len(events)
    again = out.read_bytes()
    run(capsys, "plan", DEMO, "--out", str(out))
    assert out.read_bytes() == again


def test_letter_paper_for_us_units(capsys: Captured, tmp_path: Path, job: Path) -> None:
    text = job.read_text("utf-8").replace("[pick]", '[pick]\nunits = "us"')
    job.write_text(text, "utf-8")
    out = tmp_path / "x.pdf"
    run(capsys, "plan", str(job), "--out", str(out))
    reader = PdfReader(out)
    assert float(reader.pages[0].mediabox.width) == pytest.approx(8.5 * 72)
    assert len(reader.pages) <= 2


def test_weather_that_stops_is_told_beside_the_sheet(
    capsys: Captured, tmp_path: Path, job: Path
) -> None:
    text = job.read_text("utf-8").replace("panel_c = 21.0", "panel_c = 11.5")
    job.write_text(text, "utf-8")
    out = tmp_path / "x.html"
    assert main(("plan", str(job), "--out", str(out))) == 0
    said = capsys.readouterr()
    assert "dew point" in said.err
    assert said.err.startswith("shadecore: DO NOT SPRAY: ")
    assert 'class="stop" role="alert">DO NOT SPRAY.' in out.read_text("utf-8")
    out = tmp_path / "x.ics"
    assert main(("plan", str(job), "--out", str(out))) == 0
    events = Calendar.from_ical(out.read_bytes()).walk("VEVENT")
    barred = [
        each for each in events if str(each["SUMMARY"]).startswith("DO NOT SPRAY")
    ]
    assert {str(each["STATUS"]) for each in barred} == {"TENTATIVE"}
    assert all("dew point" in str(each["DESCRIPTION"]) for each in barred)
    assert [str(each["SUMMARY"]).split(": ")[1] for each in barred] == [
        each.step.title for each in demo_plan().timeline if each.step.coats
    ]


@pytest.mark.parametrize("name", ["x.doc", "x", "pdf", "x.pdf.txt"])
def test_another_kind_of_file_is_refused(
    capsys: Captured, tmp_path: Path, name: str
) -> None:
    said = refused(capsys, "plan", DEMO, "--out", str(tmp_path / name))
    assert "neither .pdf, .html, .ics, .csv nor .toml" in said
    assert list(tmp_path.iterdir()) == []


def test_a_job_that_is_not_there(capsys: Captured, tmp_path: Path) -> None:
    words = (str(tmp_path / "none.toml"), "--out", str(tmp_path / "x.pdf"))
    said = refused(capsys, "plan", *words)
    assert "none.toml' cannot be read: no such file" in said
    assert list(tmp_path.iterdir()) == []


def test_products_that_are_not_there(capsys: Captured, tmp_path: Path) -> None:
    words = ("--products", str(tmp_path / "no.toml"), "--out", str(tmp_path / "x.pdf"))
    assert "no.toml' cannot be read" in refused(capsys, "plan", DEMO, *words)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("halving_k = 10", "halving_k = 1000", "halving_k"),
        ("most_humidity = 0.85", "most_humid = 0.85", "most_humid"),
        ("dry_film_um = 8", "dry_film_um = 'thin'", "dry_film_um"),
    ],
)
def test_a_wrong_product_sheet_is_named_by_line_and_key(
    capsys: Captured, tmp_path: Path, old: str, new: str, key: str
) -> None:
    text = data_file("product-line.toml").read_text("utf-8")
    line = text[: text.index(old)].count("\n") + 1
    sheet = tmp_path / "sheet.toml"
    sheet.write_text(text.replace(old, new, 1), "utf-8")
    out = tmp_path / "x.pdf"
    out.write_bytes(b"old")
    words = ("--products", str(sheet), "--out", str(out))
    said = refused(capsys, "plan", DEMO, *words)
    assert f"sheet.toml, line {line}" in said
    assert key in said
    assert out.read_bytes() == b"old"
    assert {each.name for each in tmp_path.iterdir()} == {"sheet.toml", "x.pdf"}


def test_own_products_are_on_the_sheet(capsys: Captured, tmp_path: Path) -> None:
    text = data_file("product-line.toml").read_text("utf-8")
    own = text.replace('"Solvent base coat"', '"Our own base"')
    sheet, out = tmp_path / "sheet.toml", tmp_path / "x.html"
    sheet.write_text(own, "utf-8")
    run(capsys, "plan", DEMO, "--products", str(sheet), "--out", str(out))
    assert "Our own base" in out.read_text("utf-8")
    assert "Solvent base coat" not in out.read_text("utf-8")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("version = 1", "version = 2", "version is not 1"),
        ("front_door = 1", "left_wing = 1", "no panel 'left_wing'"),
        ("bare_metal = true", "bare_metal = 'yes'", "bare_metal must be true or false"),
        (
            "humidity = 0.55",
            "humidity = 55",
            "humidity must be a number from 0.01 to 1",
        ),
        ("tolerance = 2.0", "tolerance = 200", "tolerance"),
        ('colour = "45 60 35"', 'colour = "red"', "'red' is not a colour"),
        ("air_c = 20.0", "air_c = 20.0\nair = 3", "air is not known"),
    ],
)
def test_a_job_that_cannot_be_planned(
    capsys: Captured, tmp_path: Path, job: Path, old: str, new: str, said: str
) -> None:
    job.write_text(job.read_text("utf-8").replace(old, new, 1), "utf-8")
    out = tmp_path / "x.pdf"
    assert said in refused(capsys, "plan", str(job), "--out", str(out))
    assert not out.exists()


def test_a_folder_that_is_not_there(capsys: Captured, tmp_path: Path) -> None:
    said = refused(capsys, "plan", DEMO, "--out", str(tmp_path / "no" / "x.pdf"))
    assert "cannot be written: no such file or directory" in said
    assert list(tmp_path.iterdir()) == []
