"""The part of the form that asks for another sealer, other coats, or none."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.coats.answer import Answer
from shadecore.errors import ShadecoreError
from shadecore.job.request import MIX, NO_SEALER, JobRequest
from shadecore.question.answer import answer
from shadecore.screens import say
from shadecore.screens.plan.fields import Key
from shadecore.telling.counts import coats_words
from shadecore.telling.set_up_words import sealer_choice_words

_MOST_COATS: Final = 12


def ask_sealer(job: JobRequest, key: Key) -> JobRequest:
    """Ask for them, each choice with its coats.

    Parameters
    ----------
    job : JobRequest
        As it stands.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    JobRequest
    """
    try:
        found = answer(job.question)
    except ShadecoreError:
        return job
    names = _choices(found)
    left, right = st.columns(2)
    with left:
        sealer = st.selectbox(
            "Sealer",
            list(names) if job.sealer in names else [*names, job.sealer],
            list(names).index(job.sealer) if job.sealer in names else len(names),
            format_func=lambda each: names.get(each, each),
            key=key("sealer"),
        )
    with right:
        coats = st.selectbox(
            "Coats of colour",
            range(_MOST_COATS + 1),
            min(job.coats, _MOST_COATS),
            format_func=lambda each: coats_words(each) if each else "As counted",
            key=key("coats"),
        )
    old = st.text_input(
        "Colour of the old finish, where it may take the sealer's place",
        job.old_finish,
        key=key("old_finish"),
        placeholder="62 4 9, or another notation that the colour box takes",
    )
    surfacer = st.text_input(
        "Colour of the surfacer, where no sealer is sprayed over it",
        job.surfacer,
        key=key("surfacer"),
        placeholder="a grey of the shelf, or 60 0 0",
    )
    coats = job.coats if coats == min(job.coats, _MOST_COATS) else coats
    try:
        return replace(
            job,
            sealer=sealer,
            coats=coats,
            old_finish=old.strip(),
            surfacer=surfacer.strip(),
        )
    except ShadecoreError as error:
        say.error(error)
        return job


def _choices(found: Answer) -> dict[str, str]:
    """Name of each choice by what the job keeps of it."""
    best = found.recommended
    names = {"": f"As picked: {sealer_choice_words(best, best)}"}
    for each in found.outlooks:
        names[each.undercoat.name] = sealer_choice_words(each, best)
    if found.mix is not None:
        names[MIX] = sealer_choice_words(found.mix, best)
    names[NO_SEALER] = "No sealer: over what else lies on top"
    return names
