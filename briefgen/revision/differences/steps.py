"""Steps: new ones, those that are gone, those that moved within their task, and what each says otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from briefgen.model.library import Library
from briefgen.model.work import Step, Task
from briefgen.revision.change import Change, Detail, Subject, Topic, Verb, detail
from briefgen.revision.differences.facets import EACH, FACETS, INSTRUCTION, SAFETY, STATES, Facet
from briefgen.revision.pairing.matching import split
from briefgen.revision.pairing.normal import as_written
from briefgen.revision.pairing.pair import Pair, sorties_of, step_subject
from briefgen.revision.pairing.version import Version
from briefgen.revision.telling import Telling, instruction

ORDER = "Place in the task"


def step_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in steps and in which tasks there are."""
    yield from _tasks(pair, pair.new, pair.now, Verb.NEW, set(pair.names.tasks))
    known = {str(pair.old_task(name).id) for name in pair.names.tasks}
    yield from _tasks(pair, pair.old, pair.was, Verb.GONE, known)
    for name, pairs in pair.names.tasks.items():
        before, after = pair.old_task(name), pair.new.library.tasks[name]
        yield from (_whole(pair.new, pair.now, after, step, Verb.NEW, name) for step in pairs.new)
        yield from (_whole(pair.old, pair.was, before, step, Verb.GONE, name) for step in pairs.gone)
        for one, other in pairs.both:
            details = (*_details(pair, before, one, after, other), *_order(pair, before, one, after, other))
            if details:
                yield _changed(pair, name, one, other, details)


def _tasks(pair: Pair, version: Version, telling: Telling, verb: Verb, known: set[str]) -> Iterator[Change]:
    """Whole tasks that only one of the versions has."""
    for name, task in version.library.tasks.items():
        if name not in known:
            people = tuple(dict.fromkeys(str(person) for step in task.steps for person in step.who))
            sorties = sorties_of(version, *(f"{name}/{step.key}" for step in task.steps))
            steps = detail("Steps", *_one_side(verb, f"{len(task.steps)} step{'' if len(task.steps) == 1 else 's'}"))
            yield Change(Topic.STEPS, verb, Subject("task", name, telling.name(name, "tasks")), steps, people, sorties)


def _one_side(verb: Verb, words: str) -> tuple[str, str]:
    return ("", words) if verb is Verb.NEW else (words, "")


def _whole(version: Version, telling: Telling, task: Task, step: Step, verb: Verb, name: str) -> Change:
    """A step that only one of the versions has, with all that it says; `name` is the task's new id."""
    said = ((facet, facet.said(telling, task, step)) for facet in FACETS if facet.name != INSTRUCTION)
    details = [
        Detail(facet.name, *_one_side(verb, words), _touches_safety(facet, version.library, step))
        for facet, words in said if words not in ("", "clear", "no", "light")
    ]  # fmt: skip
    details += detail(ORDER, *_one_side(verb, _behind(task, step)))
    people, sorties = tuple(map(str, step.who)), sorties_of(version, f"{task.id}/{step.key}")
    return Change(Topic.STEPS, verb, step_subject(name, step), tuple(details), people, sorties)


def _changed(pair: Pair, task: str, one: Step, other: Step, details: Sequence[Detail]) -> Change:
    verb = Verb.CHANGED
    if all(one.what == ORDER for one in details):
        verb = Verb.MOVED
    elif all(one.what == "Id" for one in details):
        verb = Verb.RENAMED
    people = dict.fromkeys([*map(str, other.who), *(pair.now_person(str(person)) for person in one.who)])
    here = tuple(person for person in people if person in pair.new.library.people)
    sorties = sorties_of(pair.new, f"{task}/{other.key}")
    return Change(Topic.STEPS, verb, step_subject(task, other), tuple(details), here, sorties)


def _details(pair: Pair, before: Task, one: Step, after: Task, other: Step) -> Iterator[Detail]:
    old, new, names = pair.old.library, pair.new.library, pair.names
    for facet in () if _as_before(pair, before, one, after, other) else FACETS:
        if facet.compared(names.old, before, one, old) != facet.compared(names.new, after, other, new):
            if facet.name == EACH and (split(one, other) or split(other, one)):
                yield Detail(EACH, _items(pair.was, one), _items(pair.now, other))
                continue
            safety = _touches_safety(facet, old, one) or _touches_safety(facet, new, other)
            yield Detail(facet.name, facet.said(pair.was, before, one), facet.said(pair.now, after, other), safety)
    made = one.origin.block or other.origin.block or one.origin.confirms or other.origin.confirms
    if (one.id or other.id) and one.key != other.key and not made:
        yield Detail("Id", _called(one), _called(other))


def _items(telling: Telling, step: Step) -> str:
    """For which items a step is done; of one in a block, for all rounds."""
    equipment = str(step.each.equipment) if step.each else ""
    return telling.name(equipment, "equipment") + (", round by round" if step.origin.block else ", all at once")


def _called(step: Step) -> str:
    """Its id; without one, the number by which it is named."""
    return step.key if step.id else f"step {step.key}"


def _as_before(pair: Pair, before: Task, one: Step, after: Task, other: Step) -> bool:
    """Whether every facet is what it was, seen at a glance: most are."""
    same_place = before.place == after.place and pair.outside_before == pair.outside_now
    return pair.names_stand and same_place and as_written(one, other)


def _touches_safety(facet: Facet, library: Library, step: Step) -> bool:
    """Whether a facet of a step names a control, a hazard or a tether."""
    if facet.name in SAFETY:
        return bool({"Hazards": step.hazards, "Tether to": step.anchors}.get(facet.name, step.keeps_out))
    named = {"Needs": step.requires, "Sets": step.sets, "Verifies": step.verifies}.get(facet.name, {})
    return facet.name in STATES and any(_is_control(library, str(name)) for name in named)


def _is_control(library: Library, equipment: str) -> bool:
    record = library.equipment.get(equipment)
    return record is not None and record.control


def _order(pair: Pair, before: Task, one: Step, after: Task, other: Step) -> Iterator[Detail]:
    """Where a step stands, if it moved within its task."""
    if f"{after.id}/{other.key}" in pair.moved_within_tasks:
        yield Detail(ORDER, _behind(before, one), _behind(after, other))


def _behind(task: Task, step: Step) -> str:
    """`after “Close the valves”`, or that it comes first."""
    seat = task.seat(step)
    return f"after {instruction(task.steps[seat - 1])}" if seat else "first"
