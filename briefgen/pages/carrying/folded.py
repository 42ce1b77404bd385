"""A card's steps with each block told once: of its rounds the first, and a grid to tick for all of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from briefgen.model.work import Step, Task
from briefgen.pages.carrying.rows import CardCase, CardPiece, CardStep, pieces
from briefgen.pages.context import PageContext
from briefgen.pages.doing.moments import each_once
from briefgen.pages.doing.rounds import RoundsRow, remarks, rounds_row
from briefgen.pages.doing.statements import Statement
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep


@dataclass(frozen=True)
class OwnStep:
    """A person's step with its row and the cases that stand after it; `planned` where it has a time."""

    step: Step
    row: CardStep
    cases: tuple[CardCase, ...] = ()
    planned: PlannedStep | None = None


def folded(
    context: PageContext, proved: SortieEvidence, person: str, task: Task, steps: Sequence[OwnStep]
) -> tuple[CardPiece, ...]:
    """The rows of a card for steps of one task, in the order in which the person does them."""
    told: list[OwnStep] = []
    blocks: dict[int, RoundsRow] = {}
    for run in _runs(steps):
        if len({one.step.origin.round for one in run}) < 2:
            told += run
            continue
        planned = [one.planned for one in run if one.planned]
        said = remarks(context, [proved], planned, person)
        for one in run:
            if one.row.clean and not all(other.row.clean for other in run if other.step.number == one.step.number):
                said[one.step.origin.round] += f", a clean stop after step {one.row.number}"
        blocks[len(told)] = rounds_row(context, task, [one.step for one in run], said)
        told += _once(run)
    return pieces([one.row for one in told], "", [one.cases for one in told], blocks)


def _runs(steps: Sequence[OwnStep]) -> Iterator[list[OwnStep]]:
    """Steps in a row that are of one block, or of none."""
    return (list(run) for _, run in groupby(steps, key=lambda one: one.step.origin.block))


def _once(run: Sequence[OwnStep]) -> Iterator[OwnStep]:
    """The first of each step, with all that can hurt in any of its rounds."""
    for number in dict.fromkeys(one.step.number for one in run):
        same = [one for one in run if one.step.number == number]
        warned: dict[str, Statement] = {}
        for statement in (row for one in same for row in one.row.statements):
            warned.setdefault(statement.name, statement)
        first, clean = same[0], all(one.row.clean for one in same)
        holds = each_once(hold for one in same for hold in one.row.holds)
        row = replace(first.row, do=str(first.step.do), statements=tuple(warned.values()), holds=holds, clean=clean)
        yield replace(first, row=row)
