"""A block of steps for every item, told once: how often, and a tick for each step of each round."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.language.wording import capital, count, steps_words
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.links import step_anchor


@dataclass(frozen=True)
class RoundTick:
    """One step of one round: the browser remembers it under `keep`; links to the step lead to `anchor`."""

    keep: str
    anchor: str
    words: str


@dataclass(frozen=True)
class Round:
    """An item's name and the steps done for it."""

    item: str
    ticks: tuple[RoundTick, ...]


@dataclass(frozen=True)
class RoundsRow:
    """A block: what it is done for, its steps in words, and all its rounds."""

    head: str
    steps: str
    total: str
    columns: int
    rounds: tuple[Round, ...]


def rounds_row(context: PageContext, task: Task, block: str) -> RoundsRow:
    """The block of that id in a task."""
    steps = [step for step in task.steps if step.origin.block == block]
    rounds: dict[int, list[Step]] = {}
    for step in steps:
        rounds.setdefault(step.origin.round, []).append(step)
    equipment = context.library.equipment[steps[0].origin.equipment]
    parts = list(map(str, equipment.parts))
    rows = tuple(
        Round(
            " ".join(f"{part} {name}" for part, name in zip(parts, round_[0].origin.item, strict=True)),
            tuple(_tick(context, task, step) for step in round_),
        )
        for round_ in rounds.values()
    )
    return RoundsRow(
        context.label("equipment", str(equipment.id)),
        capital(steps_words({context.number(task, step) for step in steps})),
        count(len(rows), "round"),
        max(len(row.ticks) for row in rows),
        rows,
    )


def _tick(context: PageContext, task: Task, step: Step) -> RoundTick:
    anchor = "" if step.origin.round <= 1 else step_anchor(step)
    return RoundTick(f"task:{task.id}#{step.key}/done", anchor, f"step {context.number(task, step)}")
