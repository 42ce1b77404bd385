"""A person's way through a sortie: what is done earlier or later than before, and what came into it or went out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.revision.change import Change, Detail, Subject, Topic, Verb, remark
from briefgen.revision.pairing.alignment import rising
from briefgen.revision.pairing.pair import Pair, record_subject
from briefgen.revision.telling import instruction

WAY = "Place in the way"
TOGETHER = "Steps together"


@dataclass(frozen=True)
class FlowLine:
    """One person's steps in a sortie, in order, by the names that they have in the new version."""

    steps: Mapping[str, PlannedStep]

    def where(self, key: str) -> str:
        """Behind which step of the way a step comes."""
        keys = list(self.steps)
        seat = keys.index(key)
        return f"after {instruction(self.steps[keys[seat - 1]].step)}" if seat else "first"


def ways(pair: Pair, before: SortieEvidence, after: SortieEvidence, person: str) -> tuple[FlowLine, FlowLine]:
    """A person's way in the old version and in the new, by the new id."""
    names = {pair.now_person(name): name for name in before.plan.flows}
    old = [times.step for times in before.timeline.of(names.get(person, ""))]
    new = [times.step for times in after.timeline.of(person)]
    return FlowLine({pair.now_called(step): step for step in old}), FlowLine({step.key: step for step in new})


def way_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in ways, but for what follows from a step's own place in its task or its people."""
    for before, after in pair.sorties:
        flows = [*after.plan.flows, *map(pair.now_person, before.plan.flows)]
        free = {*after.plan.free, *map(pair.now_person, before.plan.free)}
        for person in dict.fromkeys(flows):
            old, new = ways(pair, before, after, person)
            # Without a flow, steps are in no order from which they could have moved.
            moved = () if person in free else _moved(pair, old, new)
            for run in (*moved, *_came_and_went(pair, old, new, person)):
                yield _line(run, person, str(after.sortie.id))
        yield from _flow_written(pair, before, after)


def _flow_written(pair: Pair, before: SortieEvidence, after: SortieEvidence) -> Iterator[Change]:
    """People whose flow is written in only one version, and orders steps that nothing else puts in this order."""
    names = {pair.now_person(name): name for name in before.plan.flows}
    for person in (one for one in after.plan.flows if one in names):
        was_free, is_free = names[person] in before.plan.free, person in after.plan.free
        if was_free == is_free:
            continue
        old, new = ways(pair, before, after, person)
        if not _ordered_anyway(*((old, new, before) if was_free else (new, old, after))):
            free, written = "in the order that their own waits leave open", "in the order of the flow"
            words = (free, written) if was_free else (written, free)
            subject = record_subject(pair.now, "people", "person", person)
            yield Change(Topic.ORDER, Verb.CHANGED, subject, (Detail(WAY, *words),), (person,), (str(after.sortie.id),))


def _ordered_anyway(free: FlowLine, written: FlowLine, of_free: SortieEvidence) -> bool:
    """Whether the steps that follow each other in the written way do so in the other, too, whatever happens."""
    order = of_free.plan.order
    both = [free.steps[key].index for key in written.steps if key in free.steps]
    return all(order.before(one, other) for one, other in pairwise(both))


Found = tuple[Verb, Detail, dict[str, PlannedStep]]
"""What became of a run of steps, and the steps by the names that they have in the new version."""


def _moved(pair: Pair, old: FlowLine, new: FlowLine) -> Iterator[Found]:
    was = {key: seat for seat, key in enumerate(old.steps)}
    both = [key for key in new.steps if key in was and key not in pair.moved_within_tasks]
    stayed = rising([was[key] for key in both])
    moved = [key for index, key in enumerate(both) if index not in stayed]
    for run in _runs(moved, list(new.steps), list(old.steps)):
        detail = Detail(WAY, old.where(run[0]), new.where(run[0]))
        yield Verb.MOVED, detail, {key: new.steps[key] for key in run}


def _came_and_went(pair: Pair, old: FlowLine, new: FlowLine, person: str) -> Iterator[Found]:
    """Steps written for the person in both versions, and in the person's way in only one."""
    theirs = pair.kept_steps.get(person, frozenset())
    for verb, way, rest in ((Verb.NEW, new, old), (Verb.GONE, old, new)):
        keys = [key for key in way.steps if key not in rest.steps and key in theirs]
        for run in _runs(keys, list(way.steps)):
            words = ("", way.where(run[0])) if verb is Verb.NEW else (way.where(run[0]), "")
            yield verb, Detail(WAY, *words), {key: way.steps[key] for key in run}


def _runs(keys: Sequence[str], *ways: Sequence[str]) -> Iterator[list[str]]:
    """The keys, those of one task that follow each other in every way together."""
    run: list[str] = []
    follows = [dict(pairwise(way)) for way in ways]
    for key in keys:
        same_task = run and run[-1].partition("/")[0] == key.partition("/")[0]
        if run and not (same_task and all(way.get(run[-1]) == key for way in follows)):
            yield run
            run = []
        run.append(key)
    if run:
        yield run


def _line(run: Found, person: str, sortie: str) -> Change:
    """One step, or a run of steps named by its first; all that the person has in a task, by its title."""
    verb, detail, steps = run
    key, first = next(iter(steps.items()))
    task, _, part = key.partition("/")
    mine = {step.key for step in first.task.steps if {*first.people} & {*map(str, step.who)}}
    whole = len(steps) > 1 and {step.step.key for step in steps.values()} == mine
    words, part = (str(first.task.title), "") if whole else (instruction(first.step), part)
    more = (remark(TOGETHER, f"{len(steps)} steps"),) if len(steps) > 1 else ()
    return Change(Topic.ORDER, verb, Subject("task", task, words, part), (detail, *more), (person,), (sortie,))
