"""Put a person's steps of a task in order: those that follow each other in the person's own flow."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Exercise, QuestionKind, Sequence
from briefgen.practice.words import deed, look_at
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import called
from briefgen.proof.plan import PlannedStep

_FEWEST, _USUAL = 3, 4


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """Runs of three to five steps of one person in one task, each step in one of them."""
    for person in proved.plan.chains:
        if person not in proved.library.people:
            continue
        for steps in _by_task(proved, person):
            for run in _runs(steps):
                yield _question(proved, person, run)


def _by_task(proved: SortieEvidence, person: str) -> Iterator[list[PlannedStep]]:
    """A person's steps task by task; of steps that read alike, and of the rounds of a block, the first."""
    tasks: dict[str, dict[str, PlannedStep]] = {}
    for step in (proved.plan.steps[index] for index in proved.plan.chains[person]):
        if not step.step.origin.again:
            tasks.setdefault(str(step.task.id), {}).setdefault(str(step.step.do), step)
    for steps in tasks.values():
        yield list(steps.values())


def _runs(steps: list[PlannedStep]) -> Iterator[list[PlannedStep]]:
    """Steps in runs of a usual length; none where there are too few to ask for.

    >>> [len(run) for run in _runs([None] * 10)], list(_runs([None] * 2))
    ([5, 5], [])
    """
    parts = max(1, round(len(steps) / _USUAL))
    if len(steps) >= _FEWEST:
        for part in range(parts):
            yield steps[part * len(steps) // parts : (part + 1) * len(steps) // parts]


def _question(proved: SortieEvidence, person: str, run: list[PlannedStep]) -> Exercise:
    library, first = proved.library, run[0]
    return Exercise(
        id=f"order:{person}:{first.key}",
        kind=KIND.name,
        asks=f"{first.task.label_text}: in which order does {called(library, person)} do these?",
        answer=Sequence(tuple(deed(step) for step in run)),
        because="This is the order of the plan.",
        look=look_at(first),
        people=(person,),
        outcomes=tuple(map(str, first.task.outcomes)),
    )


KIND = QuestionKind("order", "Put in order", make)
