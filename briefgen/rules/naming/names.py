"""Ids that could mean two things: steps of one task, and records that one word can name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from briefgen.findings import Level, Related
from briefgen.model.library import KINDS
from briefgen.model.steps import Case, Step
from briefgen.model.tasks import Block, Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.source import Text

_STEPS = """
tasks:
  open:
    title: Open it
    purpose: To look inside.
    place: lock
    steps:
      - {id: open, who: ev1, do: Open the cover., takes: 2 min, sets: {cover: open}}
      - {id: SECOND, who: ev1, do: Shut the cover., takes: 2 min, sets: {cover: shut}}
sorties: {s: {title: S, flow: {ev1: [open]}, limits: {length: 1 h}}}
"""


@rule("step-named-twice", Level.ERROR, Needs.RECORDS,
      wrong=_STEPS.replace("SECOND", "▸open"), right=_STEPS.replace("SECOND", "shut"))  # fmt: skip
def step_named_twice(evidence: Evidence) -> Iterator[Trouble]:
    """No two steps of a task share an id.

    `task/step` must stand for one step: of two with one id, only the first could be put into a flow or waited for, and
    the other would be missing from the plan.
    """
    for task in evidence.library.tasks.values():
        yield from _named_twice(task, task.entries)
        for block in task.entries:
            yield from _named_twice(task, block.steps) if isinstance(block, Block) else ()
        for way in task.written_undo:
            yield from _named_twice(task, way.steps)
        for case in _cases(task.entries):
            yield from _named_twice(task, case.steps)


def _cases(entries: Iterable[Step | Block]) -> Iterator[Case]:
    for entry in entries:
        yield from entry.in_case if isinstance(entry, Step) else _cases(entry.steps)


def _named_twice(task: Task, entries: Iterable[Step | Block]) -> Iterator[Trouble]:
    first: dict[str, Text] = {}
    for name in (name for entry in entries for name in _names(entry)):
        if name in first:
            yield Trouble(
                name.position,
                f"Two steps of “{task.title}” are both called “{name}”. Give one of them another id.",
                (Related(first[name].position, f"the other “{name}”"),),
                f"id: {name}-2",
            )
        first.setdefault(name, name)


def _names(entry: Step | Block) -> Iterator[Text]:
    """What an entry of a task is called, and the step that confirms it."""
    if entry.id is not None:
        yield entry.id
    if isinstance(entry, Step) and entry.confirmed_by:
        told = entry.confirmed_by
        if told.id is not None or entry.id is not None:
            yield told.id or Text(f"{entry.id}-confirmed", told.position)


_EITHER = (("tools", "bags"), ("places", "bags"), ("places", "routes"), ("tools", "equipment"), ("bags", "equipment"))
"""Kinds of which one word may name either: `picks` and `with`, `leaves` and `stowed`, `keeps_out`, `carries_over`."""
_ARTICLES = {"equipment": "a piece of"}


@rule("shared-id", Level.ERROR, Needs.RECORDS,
      wrong="bags:\n  ▸k2: {name: Bag for K2, stowed: lock}",
      right="bags:\n  k2-bag: {name: Bag for K2, stowed: lock}")  # fmt: skip
def shared_id(evidence: Evidence) -> Iterator[Trouble]:
    """A bag shares its id with no tool and no place, a route with no place, and equipment with no tool and no bag.

    `leaves: {driver: k2}` names a place or a bag. If both are called `k2`, nobody can tell where the driver is.
    """
    for kind, other in _EITHER:
        records, others = evidence.library.of(kind), evidence.library.of(other)
        for name in (name for name in others if name in records):
            words = " and ".join(f"{_ARTICLES.get(one, 'a')} {KINDS[one].singular}" for one in (kind, other))
            yield Trouble(
                others[name].id.position,
                f"“{name}” is the id of {words}, so what names it could mean either. Give one of them another id.",
                (Related(records[name].id.position, f"the {KINDS[kind].singular} of that id"),),
            )
