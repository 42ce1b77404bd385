"""How long each step lasts, and how often it decides the end."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import numbered
from briefgen.proof.chance.spread import spread
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import people, step_cell, task, task_cell
from briefgen.tables.table import Cell, Column, RecordAddress, Table, cells, numbers
from briefgen.units import show_duration

LEAST = 0.05
"""Steps that are critical in fewer runs than this share are left out of the table of those that decide."""


def steps_tables(proved: SortieEvidence) -> tuple[Table, ...]:
    """Every step, then those that decide the end."""
    return steps_table(proved), decisive_table(proved)


def steps_table(proved: SortieEvidence) -> Table:
    """Every step's duration, as given and as its distribution has it."""
    columns = (
        Column("Step", wide=True), Column("Who"),
        *numbers("Shortest", "Likely", "Longest", "Mean", "Spread", "Critical in"),
    )  # fmt: skip
    return Table("steps", "Steps: durations, and the share of runs in which they are critical", columns,
                 tuple(_steps(proved)))  # fmt: skip


def _steps(proved: SortieEvidence) -> Iterator[tuple[Cell, ...]]:
    for step, share in zip(proved.plan.steps, proved.chance.critical, strict=True):
        span, its = step.duration, spread(step.duration)
        times = (span.low, span.likely, span.high, its.mean, its.deviation)
        who = people(proved.library, step.people)
        yield step_cell(step, f" [{step.key}]"), *cells(who, *map(show_duration, times), share.words)


def decisive_table(proved: SortieEvidence) -> Table:
    """The steps of each task that are critical equally often, by the task's beginning; none where no run differs."""
    columns = (Column("Task", wide=True), Column("Steps"), *numbers("Critical in"))
    alike = _alike(proved) if proved.chance.varies else {}
    rows = tuple(_row(proved, name, words, steps) for (name, words), steps in alike.items())
    title = "Steps that can't slip without ending later, by share of the runs"
    return Table("decisive", title, columns, rows, "All runs are alike.")


def _alike(proved: SortieEvidence) -> dict[tuple[str, str], list[tuple[int, str]]]:
    """Steps' numbers and keys by task and by how often they are critical, in words."""
    begins = {one.task: number for number, one in enumerate(proved.latest)}
    found: dict[tuple[str, str], list[tuple[int, str]]] = {}
    for step in sorted(proved.plan.steps, key=lambda step: (begins[str(step.task.id)], _number(proved, step))):
        share = proved.chance.critical[step.index]
        if share.value >= LEAST:
            key = str(step.task.id), share.words
            found.setdefault(key, []).append((_number(proved, step), step.step.key))
    return found


def _number(proved: SortieEvidence, step: PlannedStep) -> int:
    return proved.evidence.numbers.get(step.key, step.step.number)


def _row(proved: SortieEvidence, name: str, words: str, steps: list[tuple[int, str]]) -> tuple[Cell, ...]:
    told = numbered(dict.fromkeys(number for number, _ in steps))
    return (
        task_cell(proved.library, name, task(proved.library, name)),
        Cell(told, RecordAddress("task", name, steps[0][1])),
        Cell(words),
    )


TABLE = TableKind("steps", 110, steps_tables)
