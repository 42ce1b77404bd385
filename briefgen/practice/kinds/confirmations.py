"""Who confirms a state, on the ground or elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.model.library import Library
from briefgen.practice.question import Choose, Exercise, QuestionKind
from briefgen.practice.words import deed, look_at, state_words
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import called
from briefgen.proof.plan import PlannedStep


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each state that a single person confirms in a task."""
    asked: set[tuple[str, str, str]] = set()
    confirming: dict[tuple[str, str], set[str]] = {}
    people: dict[str, dict[str, None]] = {}
    for step in proved.plan.steps:
        people.setdefault(str(step.task.id), {}).update(dict.fromkeys(step.people))
        for name, state in step.step.verifies.items():
            confirming.setdefault((str(name), str(state)), set()).update(step.people)
    for step in proved.plan.steps:
        for name, state in step.step.verifies.items():
            key = (str(name), str(state), str(step.task.id))
            if len(step.people) == 1 and name in proved.library.equipment and key not in asked:
                asked.add(key)
                others = [person for person in proved.plan.flows if person not in confirming[key[:2]]]
                yield _question(proved.library, step, key[:2], others, tuple(people[key[2]]))


def _question(
    library: Library, step: PlannedStep, matter: tuple[str, str], others: list[str], people: tuple[str, ...]
) -> Exercise:
    return Exercise(
        id=f"confirmations:{step.key}:{matter[0]}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: who confirms “{state_words(library, *matter)}”?",
        answer=Choose((called(library, step.people[0]),), tuple(called(library, person) for person in others)),
        because=f"{called(library, step.people[0])}: {deed(step)}.",
        look=look_at(step),
        people=people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


KIND = QuestionKind("confirmations", "Who confirms", make)
