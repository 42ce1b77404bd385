"""What the tasks teach, and whom: outcomes against tasks and the people in them.

Source: DOE-HDBK-1078-94, Training Program Handbook: A Systematic Approach to Training, section 3.2.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from briefgen.findings import Level, Related
from briefgen.model.work import Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import FLOW, OUTCOME, QUESTION, TASK


@rule(
    "outcome-not-taught", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      see: {OUTCOME}
      ▸feel: {OUTCOME}
    questions:
      where: {QUESTION}
      how: {QUESTION.replace("see", "feel")}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
)  # fmt: skip
def outcome_not_taught(evidence: Evidence) -> Iterator[Trouble]:
    """Every outcome is taught by a task.

    An outcome is promised to the learner; without a task there is nothing to learn it from. DOE-HDBK-1078-94, 3.2: the
    objective comes from the task, and 3.3.5: objectives and what belongs to them are tracked both ways.
    """
    taught = _taught(evidence)
    for name, outcome in evidence.library.outcomes.items():
        if name not in taught:
            asking = [one for one in evidence.library.questions.values() if one.outcome == name]
            yield Trouble(
                outcome.id.position,
                f"No task teaches the outcome “{outcome.label_text}”: name it in a task, or take it out "
                "(DOE-HDBK-1078-94, 3.2).",
                tuple(Related(one.id.position, "a question about it") for one in asking),
                write=f"outcomes: [{name}]",
            )


@rule(
    "outcome-without-learner", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      see: {OUTCOME.replace("[ev1]", "[▸ev2]")}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
)  # fmt: skip
def outcome_without_learner(evidence: Evidence) -> Iterator[Trouble]:
    """Whoever is to learn an outcome has a step, or is spoken to, in a task that teaches it.

    Otherwise the promise is made to somebody who never gets to do it. The objective comes from the learner's own task:
    DOE-HDBK-1078-94, 3.2.
    """
    taught = _taught(evidence)
    for name, outcome in evidence.library.outcomes.items():
        tasks = taught.get(name, [])
        if not tasks:
            continue
        taking_part = {person for task in tasks for person in _people_of(task)}
        for person in outcome.audience:
            if person not in taking_part:
                record = evidence.library.people.get(person)
                label = record.label_text if record else str(person)
                yield Trouble(
                    person.position,
                    f"{label} is to learn “{outcome.label_text}”, but has no part in "
                    f"{_titles(tasks)}, where it is taught.",
                    tuple(Related(task.id.position, f"“{task.title}” teaches it") for task in tasks[:3]),
                )


def _taught(evidence: Evidence) -> Mapping[str, list[Task]]:
    tasks: dict[str, list[Task]] = defaultdict(list)
    for task in evidence.library.tasks.values():
        for outcome in task.outcomes:
            tasks[str(outcome)].append(task)
    return tasks


def _people_of(task: Task) -> set[str]:
    people = {str(person) for step in task.steps for person in step.who}
    return people | {str(person) for step in task.steps for call in step.calls for person in call.to}


def _titles(tasks: list[Task]) -> str:
    return " or ".join(f"“{task.title}”" for task in tasks[:3])
