"""One question, one answer: through every door the same undercoat and the same count.

``SHADECORE_QUESTIONS=200 pytest tests/test_one_answer.py`` asks as many questions.
"""

import json
import os
import re
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

import shadecore
from shadecore.cli import main
from shadecore.colour.colour_table import DEMO_COLOURS, parse_colours
from shadecore.colour.condition import Condition
from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.table import read_text
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.paint_amount import film_asked, with_amounts
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.text_layout import document_text
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import grounds_of, reductions_of
from shadecore.question.link import from_link, to_link
from shadecore.question.question import FilmAsked, Question
from shadecore.telling.counts import count_words, number_of
from shadecore.undercoats.shelf import Undercoat, undercoat, undercoat_from_reflectance
from shadecore.undercoats.shelf_table import demo_shelf, write_shelf

ASKED = int(os.environ.get("SHADECORE_QUESTIONS", "20"))
SECONDS = 120
START = datetime.fromisoformat("2026-12-01T08:00")


def shelf_of(rng: np.random.Generator, kind: int) -> tuple[Undercoat, ...]:
    """Greys by L*, or undercoats by spectra that are not flat."""
    levels = np.sort(rng.uniform(15.0, 95.0, 3))
    if kind == 1:
        return tuple(undercoat(f"g{i}", (each, 0, 0)) for i, each in enumerate(levels))
    tilt = np.linspace(-0.15, 0.15, 31) * rng.choice([-1.0, 1.0])
    return tuple(
        undercoat_from_reflectance(
            f"s{i}", np.clip(((each + 16.0) / 116.0) ** 3 + tilt, 0.01, 0.98)
        )
        for i, each in enumerate(levels)
    )


def question_of(number: int) -> Question:
    """The same question for the same number."""
    rng = np.random.default_rng(20_261_126 + number)
    kind = number % 3
    lightness, chroma = rng.uniform(20.0, 90.0), rng.uniform(0.0, 60.0)
    hue = rng.uniform(0.0, 2.0 * np.pi)
    lab = (lightness, chroma * np.cos(hue), chroma * np.sin(hue))
    question = Question(
        " ".join(f"{value:.1f}" for value in lab),
        tolerance=float(rng.choice([1.0, 1.5, 2.0])),
        film=FilmAsked(float(rng.choice([8.0, 10.0, 13.0]))),
        coat_cap=int(rng.choice([8, 12])),
        units=str(rng.choice(["metric", "us"])),
    )
    if kind:
        return replace(question, shelf=shelf_of(rng, kind))
    condition = Condition(str(rng.choice(["D65", "D50"])), int(rng.choice([2, 10])))
    return replace(question, condition=condition)


def words_of(question: Question, folder: Path) -> list[str]:
    """The question as a person would put it to the command line."""
    words = ["pick", *question.colour.split(), "--json"]
    words += ["--tolerance", f"{question.tolerance:g}", "--cap", str(question.coat_cap)]
    words += ["--film", f"{question.film.dry_film_um:g}", "--units", question.units]
    words += ["--illuminant", question.condition.illuminant]
    words += ["--observer", str(question.condition.observer)]
    if question.shelf != demo_shelf():
        path = folder / "shelf.csv"
        path.write_text(write_shelf(question.shelf), "utf-8")
        words += ["--undercoats", str(path)]
    return words


def _pick_page() -> None:
    from shadecore.screens.pick import page  # noqa: PLC0415 - runs in the app

    page.page()


def on_the_page(question: Question) -> tuple[str, str]:
    """Undercoat and count as the page of the pick shows them large."""
    app = AppTest.from_function(_pick_page, default_timeout=SECONDS)
    for name, text in to_link(question).items():
        app.query_params[name] = text
    app.run()
    assert not app.exception
    assert not app.error
    shown = "\n".join(str(part.proto.body) for part in app.get("html"))
    count = re.search(r'data-pick="coats"[^>]*>\s*<b>([^<]*)</b>', shown)
    name = re.search(r"Spray it over: ([^(<\"]*) \(", shown)
    assert count
    assert name
    return name[1], count[1]


@pytest.mark.parametrize("number", range(ASKED))
def test_every_door_gives_the_same_answer(
    number: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    question = question_of(number)
    answer = shadecore.answer(question)
    best = answer.recommended
    name, coats = best.undercoat.name, best.coats

    assert from_link(to_link(question)).question == question
    assert shadecore.pick(question).recommended.count == best.count

    assert main(words_of(question, tmp_path)) == 0
    record = json.loads(capsys.readouterr().out)
    assert record["recommended"] == name
    first = next(each for each in record["undercoats"] if each["name"] == name)
    assert (first["coats"], first["coats_low"], first["coats_high"]) == (
        coats,
        best.count.low,
        best.count.high,
    )
    assert record["closest_in_lightness"] == answer.closest.undercoat.name

    assert on_the_page(question) == (name, number_of(best.count))
    assert count_words(best.count) in shadecore.text(question, question.units)

    job = JobRequest(START, area_m2=1.0, question=question)
    job = parse_job(write_job(job), "job.toml")
    if coats is None:
        with pytest.raises(JobError):
            planned(job, demo_sheet())
        return
    plan = planned(job, demo_sheet())
    (base,) = [m for m in plan.materials if m.product.kind == "base_coat"]
    assert base.coats == coats
    sheet = document_text(booth_sheet(plan))
    assert name in sheet
    assert count_words(best.count) in sheet


@pytest.mark.parametrize("solids", [None, 0.6])
def test_one_amount_of_paint_whatever_is_looked_at(solids: float | None) -> None:
    """A litre holds so many ml: ml/m2 = coats x dry film / solids / transfer."""
    question = Question("45 60 35", film=FilmAsked(12.0))
    sheet = None if solids is None else _sheet_with(solids)
    best = with_amounts(shadecore.answer(question), sheet).recommended
    asked = replace(question, film=film_asked(question.film, sheet))
    film = asked.film.coat
    assert film.dry_film_um == pytest.approx(12.0)
    assert best.coats is not None
    ml = best.coats * 12.0 / film.volume_solids / film.transfer_efficiency
    assert best.paint_ml_per_m2 == pytest.approx(ml)
    ratio = (asked.film.paint_parts, asked.film.reducer_parts)
    (mixed,) = reductions_of(asked, (ratio,))
    assert mixed.answer.recommended.undercoat == best.undercoat
    assert mixed.answer.recommended.paint_ml_per_m2 == pytest.approx(ml)
    colours = parse_colours(read_text(data_file(DEMO_COLOURS)), DEMO_COLOURS)
    plain = next(
        way
        for way in grounds_of(asked, colours)
        if way.under == best.undercoat and not way.ground_coats
    )
    assert plain.name == best.undercoat.name
    assert plain.paint_ml_per_m2 == pytest.approx(ml)


def _sheet_with(solids: float) -> ProductSheet:
    """The invented line with more solids in its base coat."""
    demo = demo_sheet()
    base = demo.of_kind("base_coat")
    paint = tuple(
        replace(each, volume_solids=solids if each.volume_solids else 0.0)
        for each in base.components
    )
    products = tuple(
        replace(each, components=paint) if each == base else each
        for each in demo.products
    )
    return replace(demo, name="Our line", products=products)
