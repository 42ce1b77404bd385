"""What is done if a step does not go as planned, in words: who does what then, how the plan goes on, what it costs."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.sentences import plain
from briefgen.language.wording import count, takes
from briefgen.model.fields.values import GO_ON, LEAVE
from briefgen.model.library import Library
from briefgen.model.steps import PlannedCase
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.tables.naming import people
from briefgen.units import show_duration, show_elapsed

_ON = {
    GO_ON: "go on as planned",
    LEAVE: "leave this task: what would follow of it is not done, nor the tasks that need it",
}


def leads_on(case: PlannedCase) -> str:
    """Where the plan goes on, as `task/step`; nothing where it goes on as planned or the task is left."""
    return "" if case.then in _ON else str(case.then)


def then_words(library: Library, case: PlannedCase) -> str:
    """How the plan goes on: `go on as planned`, `go on with “Shut the cover”`."""
    if case.then in _ON:
        return _ON[case.then]
    task, _, name = str(case.then).partition("/")
    record = library.tasks.get(task)
    (step, *_) = (record.named(name) if record else ()) or (None,)
    return f"go on with “{plain(step.told).rstrip('.')}”" if step else f"go on with {case.then}"


def done_words(library: Library, case: PlannedCase) -> Iterator[str]:
    """Each step of the case: `Heron: Lean on the driver, 2/3/4 min.`."""
    for step in case.steps:
        yield f"{people(library, map(str, step.who))}: {plain(step.told).rstrip('.')}, {takes(step.takes)}."


def ends_words(proof: CaseProof) -> str:
    """When the sortie ends then, at the latest: `12 min later, at 6:20:00`; nothing where no plan was proved."""
    if not proof.finish:
        return ""
    later = f"{show_duration(proof.later)} later" if proof.later >= 1 else "no later"
    return f"{later}, at {show_elapsed(proof.finish)}"


def cost_words(proof: CaseProof) -> str:
    """What else it costs: steps that are not done then, and work that falls into the night."""
    dropped = f"{count(len(proof.skipped), 'step')} not done" if proof.skipped else ""
    return "; ".join(filter(None, [dropped, "work that needs light then falls into the night" if proof.dark else ""]))
