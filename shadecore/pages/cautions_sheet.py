"""The cautions sheet: what is read once, before the job, beside the booth's sheet."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import Document, Section, Text
from shadecore.pages.sheet_gun import gun_section, strokes_section, viscosity_section
from shadecore.pages.sheet_mix import mix_section_of_two
from shadecore.pages.sheet_safety import (
    UNKNOWN,
    cautions_section,
    of_booth,
    safety_section,
)
from shadecore.pages.sheet_schedule import checks_section, purpose_section
from shadecore.pages.sheet_voc import voc_section
from shadecore.telling.basis import BASIS, PAPER_NOTE
from shadecore.telling.job_words import DRYING_NOTE, when_words
from shadecore.telling.names import products_words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.plan_notes import READ_ONCE, plan_notes

MOST_PAGES: Final = 1


def cautions_sheet(plan: Plan, booth: Booth = UNKNOWN) -> Document:
    """Put on a sheet what a job asks of whoever does it, and what its plan rests on.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth
        What the shop knows of its booth.

    Returns
    -------
    Document
        Of one page, unless there are too many hazards and substrates for that.
    """
    plan, booth = of_booth(plan, booth)
    return Document(
        f"Cautions: {brief(plan.request.name)}",
        f"To be read before {when_words(plan.timeline[0].start)}; the steps by their "
        "numbers on the booth's sheet.",
        sections=(
            cautions_section(plan),
            safety_section(plan, booth),
            *(
                Section(title, (Text(" ".join(told)),), run_in=True)
                for title, told in plan_notes(plan)
                if title in READ_ONCE
            ),
            *mix_section_of_two(plan),
            *checks_section(plan),
            *gun_section(plan),
            voc_section(plan),
            *viscosity_section(plan),
            _basis_section(plan),
            purpose_section(plan),
            *strokes_section(plan),
        ),
        most_pages=MOST_PAGES,
    )


def _basis_section(plan: Plan) -> Section:
    answer, photo = plan.answer, plan.request.question.photo
    entered = answer.topcoat.entered
    if photo is not None:
        entered = f"{entered}: {asked_lab_words(answer.topcoat.lab, photo)}"
    facts = (
        f"Products: {products_words(plan.sheet)}.",
        f"Colour as entered: {entered}.",
        BASIS[answer.basis],
        f"Tolerance {answer.settings.tolerance:g} CIEDE2000.",
        PAPER_NOTE,
        DRYING_NOTE,
    )
    return Section("Measured and assumed", (Text(" ".join(facts)),), run_in=True)
