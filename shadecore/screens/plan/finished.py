"""When every step is done: what the job took in the end, beside what was planned."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.shop_records import BookJob
from shadecore.job.plan import Plan
from shadecore.screens import say
from shadecore.screens.plan import job
from shadecore.screens.plan.bench_actions import COLOUR
from shadecore.telling.at_bench_words import took_words
from shadecore.units import ML_PER_L, UNITS

_MOST_COATS: Final = 30
_MOST_ML: Final = 100_000.0
_MOST_MIN: Final = 100_000.0


def show_finished(plan: Plan) -> None:
    """Say that all is done, and ask what it took.

    Parameters
    ----------
    plan : Plan
        The plan, of which every step is done.
    """
    st.subheader("Every step is done", anchor=False)
    kept = job.synced()
    record = BookJob(plan.request.name, "") if kept is None else kept.thing
    if record.took_minutes is not None:
        say.words(took_words(record, UNITS[plan.request.question.units]))
    with st.form("job_took"):
        st.markdown("**What it took in the end**")
        coats = st.number_input(
            "Coats of colour", 0, _MOST_COATS, record.took_coats or _coats(plan)
        )
        shop = UNITS[plan.request.question.units].volume
        paint = st.number_input(
            f"Colour mixed, ready to spray ({shop.unit})",
            0.0,
            shop.number(_MOST_ML / ML_PER_L),
            round(shop.number((record.took_ml or _planned_ml(plan)) / ML_PER_L), 1),
            step=10.0,
        )
        minutes = st.number_input(
            "Working time (min)",
            0.0,
            _MOST_MIN,
            record.took_minutes or sum(each.step.work_min for each in plan.timeline),
            step=10.0,
        )
        if st.form_submit_button("Keep", type="primary"):
            ml = shop.metric(paint) * ML_PER_L
            job.change_record(
                lambda now: replace(
                    now, took_coats=int(coats), took_ml=ml, took_minutes=minutes
                )
            )
            st.rerun()


def _coats(plan: Plan) -> int:
    looked = [coat for coat, covered in plan.request.looks if covered]
    planned = (each.step.coats for each in plan.timeline if each.step.key == COLOUR)
    return looked[0] if looked else next(planned, 0)


def _planned_ml(plan: Plan) -> float:
    base = plan.sheet.of_kind("base_coat").key
    return sum(
        ML_PER_L * each.ready_l for each in plan.materials if each.product.key == base
    )
