"""Short forms of the attacks; ``python -m attack`` has the long ones."""

import os
import tracemalloc
from random import Random

import pytest
from attack import given
from attack.doors import DOORS
from attack.judge import faults_of_message, live_cells
from attack.kills import COMMANDS, kill_many
from attack.links import open_links, pages_of_the_app
from attack.mutate import mutated, mutated_bytes
from attack.running import attack, said

INPUTS = 2 * len(DOORS)
KILLED = ("export",)
"""A quick one, of a file out of the book."""
LINKS = 6


def test_the_judge_sees_what_is_wrong() -> None:
    assert faults_of_message("Line 3 holds 'x', which is not a number.") == []
    for bad in (
        "",
        "x" * 301 + ".",
        "'done' is 7, which is not a bool.",
        "could not convert string to float: Traceback.",
        "TypeError.",
        "one.\ntwo.",
        "no end",
    ):
        assert faults_of_message(bad), bad
    table = 'a,=1+1\n"@SUM(A1)",-1.5\n-cmd,\'=1+1\n" =1+1",+3\n'
    assert live_cells(table) == ["=1+1", "@SUM(A1)", "-cmd", " =1+1"]


def test_the_same_seed_does_the_same_harm() -> None:
    text = given.sheets()[0]
    once, twice = (mutated(text, Random(5)) for _ in range(2))  # noqa: S311
    assert once == twice != text
    whole = {mutated_bytes(text.encode(), Random(i)) for i in range(40)}  # noqa: S311
    assert len(whole) > 35


def test_harm_to_a_long_text_takes_no_more_memory_than_a_few_of_it() -> None:
    # A line of 2 MB, 200 times over, once took a gigabyte before it was cut.
    text = "x" * 2_000_000
    tracemalloc.start()
    longest = max(len(mutated(text, Random(i))) for i in range(60))  # noqa: S311
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(text) < longest <= 3_000_000
    assert most < 50_000_000


def test_damaged_inputs_are_used_or_refused_in_one_sentence() -> None:
    report = attack(1, range(INPUTS))
    assert report.faults == []
    assert report.inputs.total() == INPUTS
    # Some of the harm is seen, and some inputs stay usable: both ways are tried.
    assert INPUTS * 0.2 < report.refused.total() < INPUTS
    assert any("faults; slowest" in line for line in said(report))


@pytest.mark.skipif(os.name != "posix", reason="needs Unix signals")
def test_a_kill_leaves_what_was_there_or_what_was_to_be() -> None:
    found = kill_many(1, len(KILLED), KILLED)
    assert found.faults == []
    assert set(found.done) == set(KILLED) < set(COMMANDS)


def test_damaged_links_open_a_page_without_a_traceback() -> None:
    found = open_links(1, range(LINKS), clock=False)
    assert found.faults == []
    assert len(found.pages) == min(LINKS, len(pages_of_the_app()))
    assert found.refused
    slowest = max(found.links, key=lambda each: each.took_s)
    longest = max(found.links, key=lambda each: each.length)
    assert {slowest, longest} <= set(found.worst(2)) or slowest == longest
    assert len(set(found.worst(LINKS + 1))) == LINKS
