"""What steps change: nothing that is so already, no state for nothing, no item forgotten."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence
from briefgen.proof.naming import people_words, step_words
from briefgen.proof.ordering.states import items_named
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import task_of

_OPEN = "who: ev1, do: Open it., takes: 2 min, sets: {cover: open}"
_SHUT = "who: ev1, do: Shut it., takes: 2 min, sets: {cover: shut}"


@rule("already-so", Level.WARNING, Needs.ORDER,
      wrong=task_of(_SHUT.replace("cover: ", "cover: ▸")), right=task_of(_OPEN, _SHUT))  # fmt: skip
def already_so(evidence: Evidence) -> Iterator[Trouble]:
    """A step that sets a state finds another one before.

    Who is told to open what is open already stops and asks. Mostly the step before it that shuts it has lost its
    `sets`, or names another state.
    """
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            for name, state in step.step.sets.items():
                items = items_named(proved.plan, step, str(name))
                answers = [proved.states.reliance.at(item, step.index) for item in items]
                if answers and all(answer.certain and answer.value == state for answer in answers):
                    source = answers[0].source
                    yield Trouble(
                        state.position,
                        f"{step_words(proved.library, step)} sets {proved.library.equipment[name].label_text} “{state}”"
                        ", which it is already.",
                        () if source is None else (Related(proved.plan.steps[source].step.position, "this set it"),),
                    )  # fmt: skip


@rule("unused-state", Level.WARNING, Needs.REFERENCES,
      wrong=task_of(_OPEN, _SHUT) + "\nequipment: {cover: {name: Cover, states: [shut, open, ▸ajar], starts: shut}}",
      right=task_of(_OPEN, _SHUT) + "\nequipment: {cover: {name: Cover, states: [shut, open], starts: shut}}",
)  # fmt: skip
def unused_state(evidence: Evidence) -> Iterator[Trouble]:
    """Every state of an equipment is one that it begins with, or that some step sets, requires or confirms.

    A state that nothing brings about is most often the trace of a `sets` that was forgotten. Where it is the name of a
    failure that the briefing speaks about, accept the finding there.
    """
    met: dict[str, set[str]] = defaultdict(set)
    named: set[str] = set()
    for task in evidence.library.tasks.values():
        for step in task.every_step:
            named |= {str(step.each.equipment)} if step.each else set()
            for states in (step.sets, step.requires, step.verifies):
                for equipment, state in states.items():
                    met[str(equipment)].add(str(state))
    for name, record in evidence.library.equipment.items():
        unmet = [state for state in record.states if state not in met[name] and state != record.starts]
        # What no step names at all is told as unused.
        if unmet and (name in named or met[name]):
            words = " or ".join(f"“{state}”" for state in unmet)
            yield Trouble(
                unmet[0].position, f"No step brings about, needs or confirms that {record.label_text} is {words}."
            )


@dataclass
class _Deed:
    """One thing that is done to many items, step by step."""

    first: PlannedStep
    words: str
    items: set[tuple[str, ...]] = field(default_factory=set)


_RACK = "who: ev1, do: Take it., takes: 2 min, each: {equipment: ▸plates, where: {rack: [1]}}, sets: {plates: in}"
_ALL = "who: ev1, do: Take it., takes: 2 min, each: plates, sets: {plates: in}"


@rule("items-missed", Level.WARNING, Needs.ORDER, wrong=task_of(_RACK), right=task_of(_ALL))
def items_missed(evidence: Evidence) -> Iterator[Trouble]:
    """What is done to the items of an equipment is done to all of them in the end, or to none.

    Eleven of twelve is mostly a slip in a `where`. What counts as one thing done: all steps that set the same state;
    all steps of a task in which the same people confirm the same state; else, the steps of a task. All sorties of the
    programme count together.
    """
    for (name, _), deed in _deeds(evidence).items():
        record, each = evidence.library.equipment[name], deed.first.step.each
        missed = [item for item in record.items if item not in deed.items]
        if missed and each:
            yield Trouble(
                each.equipment.position,
                f"{len(deed.items)} of {len(record.items)} items of {record.label_text} are {deed.words}; never "
                f"reached: {'; '.join(record.item_words(item) for item in missed)}.",
            )


def _deeds(evidence: Evidence) -> dict[tuple[str, tuple[str, ...]], _Deed]:
    deeds: dict[tuple[str, tuple[str, ...]], _Deed] = {}
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            if step.step.each is None:
                continue
            name = str(step.step.each.equipment)
            for key, words in _done_to(evidence, step, name):
                deeds.setdefault((name, key), _Deed(step, words)).items.update(step.items)
    return deeds


def _done_to(evidence: Evidence, step: PlannedStep, name: str) -> Iterator[tuple[tuple[str, ...], str]]:
    """What a step does to each of its items, with words for it."""
    states = {str(key): str(state) for key, state in step.step.sets.items()}
    seen = {str(key): str(state) for key, state in step.step.verifies.items()}
    if name in states:
        yield ("sets", states[name]), f"set “{states[name]}”"
    if name in seen:
        people = people_words(evidence.library, step.people)
        words = f"confirmed “{seen[name]}” by {people} in “{step.task.title}”"
        yield ("confirms", str(step.task.id), seen[name], *step.people), words
    if name not in states and name not in seen:
        yield ("works", str(step.task.id)), f"worked on in “{step.task.title}”"
