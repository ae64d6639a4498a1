"""The plan of the job: set up, at the bench, and as a sheet."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.request import JobRequest
from shadecore.pages.booth_sheet import with_car
from shadecore.screens import say, session
from shadecore.screens.plan import bench_actions, job, live, views
from shadecore.screens.plan import pictures as plan_pictures
from shadecore.screens.plan.ask_car import told_of_car
from shadecore.screens.plan.bench import show_bench
from shadecore.screens.plan.planning import plan_of, sheet_of
from shadecore.screens.plan.products import begin_products
from shadecore.screens.plan.set_up import ask_set_up, show_planned
from shadecore.screens.plan.sheet import show_sheet
from shadecore.screens.plan.stops import show_stops
from shadecore.telling.basis import CAUTION
from shadecore.telling.photo_words import asked_lab_words

_DRAWN: Final = "plan_view_drawn"


def page() -> None:
    """Run the page from top to bottom."""
    st.html(plan_pictures.STYLE)
    st.title("Plan the job", anchor=False)
    begin_products()
    asked = job.current()
    view = views.ask_view(begun=bool(asked.done or asked.sprayed))
    question = asked.question
    if question.photo is not None:
        say.words(f"{asked_lab_words(question.topcoat.lab, question.photo)}.")
    for problem in session.problems():
        say.error(problem)
    live.show_state(undo=view == views.SET_UP)
    live.watch()
    if view == views.SET_UP:
        # What is broken stands above the form but needs it, so it gets its place first.
        top, planned = st.container(), st.container()
        asked = job.keep(ask_set_up(asked))
    else:
        if st.session_state.get(_DRAWN) == views.SET_UP:
            asked = _last_words(asked)
        top = planned = st.container()
        asked = job.keep(asked)
    st.session_state[_DRAWN] = view
    _show(asked, view, top, planned)
    if view != views.BENCH:
        st.info(CAUTION)


def _last_words(asked: JobRequest) -> JobRequest:
    """The job with what was typed just before the form was left.

    A click on another view takes the focus out of a field: both reach the server as
    one, and a form that is not drawn any more would lose what was typed.
    """
    form = st.empty()
    with form.container():
        told = ask_set_up(asked)
    form.empty()
    return told


def _show(
    request: JobRequest,
    view: str,
    top: st.delta_generator.DeltaGenerator,
    planned: st.delta_generator.DeltaGenerator,
) -> None:
    text = job.products()
    try:
        plan = plan_of(request, text)
    except ShadecoreError as error:
        with top:
            say.error(error)
            if request.done:
                st.button("Take the last step back", on_click=bench_actions.take_back)
        return
    st.session_state[job.LENGTH] = plan.timeline[-1].end - plan.timeline[0].start
    with top:
        show_stops(plan, whole=view != views.BENCH)
    with planned:
        if view == views.SET_UP:
            show_planned(plan)
        elif view == views.BENCH:
            show_bench(plan)
        else:
            show_sheet(plan, with_car(sheet_of(request, text), told_of_car()))
