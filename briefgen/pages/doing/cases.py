"""If a step does not go as planned, as rows: what is seen, what is done then, how long it takes and what follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import listing
from briefgen.model.steps import PlannedCase
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing.sequence import Sequenced, sequence_of
from briefgen.pages.rows import Link
from briefgen.tables.case_words import ends_words, leads_on, then_words


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


def case_rows(context: PageContext, task: Task) -> Iterator[CaseRow]:
    """The cases of a task, in the order of its steps; of a block those of one round."""
    for step in (step for step in task.steps if not step.origin.again):
        for case in cases_of(task, step):
            anchor = case_anchor(case)
            yield CaseRow(
                anchor, context.step_link(task, step), str(case.when),
                sequence_of(context, task, case.steps, f"{anchor}-h"),
                then_sentence(context, case), goal_link(context, case), tuple(_ends(context, case)),
            )  # fmt: skip


def goal_link(context: PageContext, case: PlannedCase) -> Link | None:
    """The step with which the plan goes on, if the case names one."""
    goal = leads_on(case)
    return context.link("task", *goal.split("/", 1)) if goal else None


def then_sentence(context: PageContext, case: PlannedCase) -> str:
    """What follows a case; before the link to its goal only the beginning of the sentence."""
    return "Then go on with" if leads_on(case) else f"Then {then_words(context.library, case)}."


def _ends(context: PageContext, case: PlannedCase) -> Iterator[str]:
    """In each sortie: by how much it ends later, and when; what then needs light at night; and what is not done."""
    for sortie in context.sorties:
        for one in sortie.cases:
            if one.case is case and one.finish:
                yield f"{context.label('sortie', str(sortie.sortie.id))} then ends {ends_words(one)}."
                if one.dark:
                    yield "Work that needs light would then fall into the night: wait for the light."
                if one.skipped:
                    yield f"Not done then: {listing([f'“{step.step.told.rstrip(chr(46))}”' for step in one.skipped])}."
