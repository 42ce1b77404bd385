"""If a step does not go as planned, as rows: what is seen, what is done then, how long it takes and what follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import listing
from briefgen.model.fields.values import GO_ON, LEAVE
from briefgen.model.steps import PlannedCase
from briefgen.model.work import Step, Task
from briefgen.pages.desk import Desk
from briefgen.pages.doing.sequence import Sequenced, sequence_of
from briefgen.pages.rows import Link
from briefgen.units import show_duration, show_elapsed


@dataclass(frozen=True)
class CaseRow:
    """A case: its step, what is seen, its own steps, and in sentences what follows and when the sortie ends then."""

    anchor: str
    step: Link
    when: str
    steps: Sequenced
    then: str
    goal: Link | None
    ends: tuple[str, ...]


def case_anchor(case: PlannedCase) -> str:
    """Where a case stands on its task's page."""
    return f"_case-{case.of.step.replace('/', '-')}-{case.number}"


def cases_of(task: Task, step: Step) -> Iterator[PlannedCase]:
    """The cases of a step of the task."""
    return (case for case in task.cases if case.of.step == step.key)


def case_rows(desk: Desk, task: Task) -> Iterator[CaseRow]:
    """The cases of a task, in the order of its steps; of a block those of one round."""
    for step in (step for step in task.steps if step.origin.round <= 1):
        for case in cases_of(task, step):
            anchor = case_anchor(case)
            goal = None if case.then in (GO_ON, LEAVE) else desk.link("task", *str(case.then).split("/", 1))
            yield CaseRow(
                anchor, desk.step_link(task, step), str(case.when), sequence_of(desk, task, case.steps, f"{anchor}-h"),
                _then(case), goal, tuple(_ends(desk, case)),
            )  # fmt: skip


def _then(case: PlannedCase) -> str:
    if case.then == GO_ON:
        return "Then go on as planned."
    if case.then == LEAVE:
        return "Then leave this task: what would follow of it is not done, nor the tasks that need it."
    return "Then go on with"


def _ends(desk: Desk, case: PlannedCase) -> Iterator[str]:
    """In each sortie: by how much it ends later, and when; what then needs light at night; and what is not done."""
    for sortie in desk.cases:
        for one in sortie.cases:
            if one.case is case and one.finish:
                later = f"{show_duration(one.later)} later" if one.later >= 1 else "no later"
                yield f"{desk.label('sortie', str(sortie.sortie.id))} then ends {later}, at {show_elapsed(one.finish)}."
                if one.dark:
                    yield "Work that needs light would then fall into the night: wait for the light."
                if one.skipped:
                    yield f"Not done then: {listing([f'“{step.step.do.rstrip(chr(46))}”' for step in one.skipped])}."
