"""What uses each record: the one index behind every page's “used by”."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.model.inheritance import hazards_of
from briefgen.model.library import SINGULAR, Library
from briefgen.model.work import Step, Task
from briefgen.proof.plan import step_key

Record = tuple[str, str]
"""A record's kind in the singular and its id."""


@dataclass(frozen=True)
class UseEntry:
    """`user` (a record, and a step or callout of it) uses something; `how` says in a few words."""

    kind: str
    identifier: str
    part: str
    how: str
    callout: str = ""


def uses_of(library: Library) -> Mapping[Record, tuple[UseEntry, ...]]:
    """Every use of every record, in the order of the library. Linear in its size."""
    found: defaultdict[Record, list[UseEntry]] = defaultdict(list)
    for used, use in _all(library):
        found[used].append(use)
    return {used: tuple(dict.fromkeys(uses)) for used, uses in found.items()}


def _all(library: Library) -> Iterator[tuple[Record, UseEntry]]:
    for task in library.tasks.values():
        yield from _task(library, task)
        for step in task.every_step:
            for used, how, callout in _step(library, task, step):
                yield used, UseEntry("task", str(task.id), step.key, how, callout)
            for ref in step.after:
                key = step_key(library, ref.task, ref.step)
                if key and ref.task != task.id:
                    yield ("task", ref.task), UseEntry("task", str(task.id), step.key, "waits for a step of it")
    yield from _world(library)
    yield from _sorties(library)
    yield from _learning(library)
    yield from _figures(library)


def _task(library: Library, task: Task) -> Iterator[tuple[Record, UseEntry]]:
    use = UseEntry("task", str(task.id), "", "")
    if task.place:
        yield ("place", str(task.place)), UseEntry("task", str(task.id), "", "is done here")
    for other in task.needed:
        yield ("task", str(other)), UseEntry("task", str(task.id), "", "has it as a prerequisite")
    for outcome in task.outcomes:
        yield ("outcome", str(outcome)), use
    for figure in task.figures:
        yield ("figure", str(figure)), UseEntry("task", str(task.id), "", "", figure.part)


def _step(library: Library, task: Task, step: Step) -> Iterator[tuple[Record, str, str]]:
    def thing(name: str) -> Record:
        return ("tool" if name in library.tools else "bag", str(name))

    def spot(name: str) -> Record:
        return ("place" if name in library.places else "bag", str(name))

    for use in step.uses:
        yield thing(use.tool), f"in use, set to {use.setting}" if use.setting else "in use", ""
    for name in step.picks:
        yield thing(name), "taken", ""
    for name, where in step.leaves.items():
        yield thing(name), "left", ""
        yield spot(where), "left here" if where in library.places else "put into", ""
    for name in step.hands:
        yield thing(name), "handed over", ""
    for name, number in step.spends.items():
        yield thing(name), f"spends {number}" + (" for each item" if step.each else ""), ""
    for verb, states in (("needs", step.requires), ("sets", step.sets), ("verifies", step.verifies)):
        for name, state in states.items():
            yield ("equipment", str(name)), f"{verb} {state}", ""
    if step.each and not {step.each.equipment} & {*step.requires, *step.sets, *step.verifies}:
        yield ("equipment", str(step.each.equipment)), "works on each item", ""
    for one in hazards_of(library, task, step):
        how = f"through the {one.kind}" if one.inherited else ""
        yield ("hazard", str(one.hazard)), how, ""
    for place, how in ((step.at, "is done here"), (step.to, "leads here"), (step.anchors, "tether moved here")):
        if place:
            yield ("place", str(place)), how, ""
    for name in step.keeps_out:
        yield ("route" if name in library.routes else "place", str(name)), "keeps it free of others", ""
    for ref in step.figures:
        yield ("figure", str(ref)), "", ref.part


def _world(library: Library) -> Iterator[tuple[Record, UseEntry]]:
    for identifier, person in library.people.items():
        if person.suit:
            yield ("suit", str(person.suit)), UseEntry("person", identifier, "", "wears it")
    for identifier, place in library.places.items():
        for hazard in place.hazards:
            yield ("hazard", str(hazard)), UseEntry("place", identifier, "", "at this place")
    for identifier, route in library.routes.items():
        for hazard in route.hazards:
            yield ("hazard", str(hazard)), UseEntry("route", identifier, "", "on this route")
    for kind, things in (("tool", library.tools), ("bag", library.bags)):
        for identifier, thing in things.items():
            where = "place" if thing.stowed in library.places else "bag"
            yield (where, str(thing.stowed)), UseEntry(kind, identifier, "", "stowed here")
            for end in thing.ends:
                where = "place" if end in library.places else "bag"
                yield (where, str(end)), UseEntry(kind, identifier, "", "may stay here in the end")
    for identifier, tool in library.tools.items():
        for name, state in tool.fitted_as.items():
            yield ("equipment", str(name)), UseEntry("tool", identifier, "", f"is fitted while {state}")
        for hazard in tool.hazards:
            yield ("hazard", str(hazard)), UseEntry("tool", identifier, "", "with this in use")
    for identifier, item in library.equipment.items():
        for hazard in item.hazards:
            yield ("hazard", str(hazard)), UseEntry("equipment", identifier, "", "setting this")
        if item.place:
            yield ("place", str(item.place)), UseEntry("equipment", identifier, "", "is here")
    for identifier, danger in library.hazards.items():
        for name, state in danger.controls.items():
            yield ("equipment", str(name)), UseEntry("hazard", identifier, "", f"is kept controlled by {state}")


def _sorties(library: Library) -> Iterator[tuple[Record, UseEntry]]:
    for identifier, sortie in library.sorties.items():
        for name, states in sortie.ends.items():
            yield ("equipment", str(name)), UseEntry("sortie", identifier, "", f"must leave it {' or '.join(states)}")


def _learning(library: Library) -> Iterator[tuple[Record, UseEntry]]:
    for identifier, question in library.questions.items():
        yield ("outcome", str(question.outcome)), UseEntry("question", identifier, "", "")
        if question.look:
            yield (question.look.kind, str(question.look)), UseEntry("question", identifier, "", "")


def _figures(library: Library) -> Iterator[tuple[Record, UseEntry]]:
    for kind, record in library.every():
        if kind != "tasks":
            singular = next(name for name, key in SINGULAR.items() if key == kind)
            for figure in record.figures:
                yield ("figure", str(figure)), UseEntry(singular, str(record.id), "", "", figure.part)
    for identifier, picture in library.figures.items():
        for name, callout in picture.callouts.items():
            kind, _, rest = callout.shows.partition(":")
            if kind in SINGULAR and rest and " " not in rest:
                yield (kind, rest.partition("#")[0]), UseEntry("figure", identifier, str(name), "shown")
