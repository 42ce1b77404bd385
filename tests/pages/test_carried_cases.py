"""Cases on the cards of whoever is called to help, in a small world."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from briefgen.pages.carrying.asides import carriers, planned_cases
from briefgen.pages.carrying.cards import card
from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.registry import tables
from tests.proof.test_cases import case, flown


def desk_of(sortie: SortieEvidence) -> PageContext:
    return PageContext(sortie.evidence, Pictures(Path(), sortie.library))


def helped(other: list[dict[str, Any]] | None = None) -> SortieEvidence:
    return flown(case("go on", who="ev2", sets={"cover": "open"}), other)


@pytest.mark.parametrize(("minutes", "seat"), [((1, 1, 1), 2), ((1, 9, 9), 1), ((9, 9, 9), 0)])
def test_who_helps_finds_the_case_after_the_last_step_begun_by_then(minutes: tuple[int, ...], seat: int) -> None:
    # The cover is begun at 1:00, after the way; what ends just then is followed by what begins just then.
    other = [{"who": "ev2", "at": "lock", "takes": f"{one} min"} for one in minutes]
    other[1:] = [{**one, "takes": f"{time * 30} s"} for one, time in zip(other[1:], minutes[1:], strict=True)]
    other[0]["takes"] = f"{minutes[0] * 30} s"
    sortie = helped(other)
    (index,) = planned_cases(desk_of(sortie), sortie, "ev2")
    assert sortie.plan.flows["ev2"].index(index) == seat
    (index,) = planned_cases(desk_of(sortie), sortie, "ev1")
    assert sortie.plan.steps[index].key == "a/open"


def test_who_has_no_step_but_there_has_a_card_that_says_at_which_step() -> None:
    sortie = helped()
    context = desk_of(sortie)
    assert "ev2" not in sortie.plan.flows
    assert carriers(sortie) == ("ev1", "ev2")
    (task,) = card(context, sortie, "ev2").tasks
    (piece,) = task.pieces
    assert piece.case is not None
    assert piece.case.at is not None
    assert piece.case.at.words.startswith("Step 1")
    assert [row.step.by for row in piece.case.pieces if row.step] == [()]
    (own,) = [row.case for task in card(context, sortie, "ev1").tasks for row in task.pieces if row.case]
    assert own.at is None
    assert [[mark.name for mark in row.step.by] for row in own.pieces if row.step] == [["EV2"]]


def test_the_table_says_how_the_plan_goes_on() -> None:
    ways = {"go on": "Go on as planned", "leave the task": "Leave this task", "in": "Go on with “"}
    for then, words in ways.items():
        sortie = flown(case(then, sets={"cover": "shut"}))
        ((row,),) = [table.rows for table in tables()["cases"].make(sortie)]
        assert row[3].words.startswith(words)
        assert ("not done" in row[4].words) == bool(sortie.cases[0].skipped)
