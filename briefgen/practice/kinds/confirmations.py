"""Who confirms a state, on the ground or elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Choose, Kind, Question
from briefgen.practice.words import called, deed, look_at, state_words
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep


def make(case: SortieEvidence) -> Iterator[Question]:
    """One for each state that a single person confirms in a task."""
    asked: set[tuple[str, str, str]] = set()
    for step in case.plan.steps:
        for name, state in step.step.verifies.items():
            key = (str(name), str(state), str(step.task.id))
            if len(step.people) == 1 and name in case.library.equipment and key not in asked:
                asked.add(key)
                yield _question(case, step, (str(name), str(state)))


def _question(case: SortieEvidence, step: PlannedStep, matter: tuple[str, str]) -> Question:
    library = case.library
    confirming = {person for one in case.plan.steps if _confirms(one, matter) for person in one.people}
    others = [person for person in case.plan.flows if person not in confirming and person in library.people]
    people = {person: None for one in case.plan.steps if one.task is step.task for person in one.people}
    return Question(
        id=f"confirmations:{step.key}:{matter[0]}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: who confirms “{state_words(library, *matter)}”?",
        answer=Choose((called(library, step.people[0]),), tuple(called(library, person) for person in others)),
        because=f"{called(library, step.people[0])}: {deed(library, step)}.",
        look=look_at(step),
        people=tuple(people),
        outcomes=tuple(map(str, step.task.outcomes)),
    )


def _confirms(step: PlannedStep, matter: tuple[str, str]) -> bool:
    return any((str(name), str(state)) == matter for name, state in step.step.verifies.items())


KIND = Kind("confirmations", "Who confirms", make)
