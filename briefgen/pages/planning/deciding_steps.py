"""Which steps decide the end of a sortie: how often each is critical in the runs, task by task."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import numbered
from briefgen.pages.desk import Desk, task_of
from briefgen.pages.rows import Cell, Table
from briefgen.proof.evidence import SortieEvidence

LEAST = 0.05
"""Steps that are critical in fewer runs than this share are left out of the table."""


def decisive_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """The steps of each task that are critical equally often, by the task's beginning; nothing where no run differs."""
    if case.chance.varies:
        head = (Cell("Task"), Cell("Steps"), Cell("Critical in", number=True))
        rows = tuple(_row(desk, task, words, steps) for (task, words), steps in _alike(desk, case).items())
        yield Table("_decisive", "Steps that can't slip without ending later, by share of the runs", head, rows)


def _alike(desk: Desk, case: SortieEvidence) -> dict[tuple[str, str], list[tuple[int, str]]]:
    """Steps' numbers and keys by task and by how often they are critical, in words."""
    begins = {one.task: number for number, one in enumerate(case.latest)}
    found: dict[tuple[str, str], list[tuple[int, str]]] = {}
    for step in sorted(case.plan.steps, key=lambda step: (begins[task_of(step)], desk.number(step.task, step.step))):
        share = case.chance.critical[step.index]
        if share.value >= LEAST:
            found.setdefault((task_of(step), share.words), []).append(
                (desk.number(step.task, step.step), step.step.key)
            )
    return found


def _row(desk: Desk, task: str, words: str, steps: list[tuple[int, str]]) -> tuple[Cell, ...]:
    link, (_, first) = desk.link("task", task), steps[0]
    where, numbers = desk.links.target("task", task, first), dict.fromkeys(number for number, _ in steps)
    return Cell(link.words, link.target), Cell(numbered(numbers), where), Cell(words, number=True)
