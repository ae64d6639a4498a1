"""The job of the session: from its link or new, kept in the link, done step by step."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Final
from uuid import uuid4

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.job_link import job_parameters, read_job_link
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import breaks_of, with_usual_breaks
from shadecore.products.materials import panels
from shadecore.question.question import Question
from shadecore.screens import say, session
from shadecore.screens.plan.hours import NIGHTS, USUAL_HOURS

_JOB: Final = "job_request"
LENGTH: Final = "job_length"
"""Where the session keeps how long the job took as it was planned last."""


def current() -> JobRequest:
    """The session's job: the link's at first, or a new one for the session's question.

    Returns
    -------
    JobRequest
        With the session's question, which another page may have changed.
    """
    question = session.question()
    if _JOB not in st.session_state:
        st.session_state[_JOB] = _linked(question) or _new_job(question)
    job: JobRequest = st.session_state[_JOB]
    return replace(job, question=question)


def keep(job: JobRequest) -> None:
    """Keep the job for the next run and in the link, its question for other pages.

    Parameters
    ----------
    job : JobRequest
        The job.
    """
    st.session_state[_JOB] = job
    session.keep(job.question, job_parameters(job))


def step_done(key: str) -> None:
    """Note that a step is done now.

    Parameters
    ----------
    key : str
        The step's.
    """
    job = current()
    now = datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005 - shop's clock
    last = now.date() + timedelta(days=NIGHTS)
    breaks = with_usual_breaks(job.breaks, now.date(), last)
    done = (*job.done, (key, now))
    st.session_state[_JOB] = replace(job, done=done, sprayed=(), breaks=breaks)


def take_step_back() -> None:
    """Take the last step back."""
    job = current()
    st.session_state[_JOB] = replace(job, done=job.done[:-1], sprayed=())


def coat_sprayed() -> None:
    """Note that a coat of the coming step is sprayed now."""
    job = current()
    now = datetime.now().replace(microsecond=0)  # noqa: DTZ005 - the shop's own clock
    st.session_state[_JOB] = replace(job, sprayed=(*job.sprayed, now))


def take_coat_back() -> None:
    """Take the last coat back."""
    job = current()
    st.session_state[_JOB] = replace(job, sprayed=job.sprayed[:-1])


def _linked(question: Question) -> JobRequest | None:
    try:
        return read_job_link(session.parameters(), question)
    except ShadecoreError as error:
        say.error(error)
        return None


def _new_job(question: Question) -> JobRequest:
    """A job for tomorrow when the shop opens."""
    tomorrow = date.today() + timedelta(days=1)  # noqa: DTZ011 - the shop's own clock
    return JobRequest(
        datetime.combine(tomorrow, USUAL_HOURS.opens),
        panels=((panels()[0].key, 1),),
        breaks=breaks_of(USUAL_HOURS, tomorrow, tomorrow + timedelta(days=NIGHTS)),
        question=question,
        uid=str(uuid4()),
    )
