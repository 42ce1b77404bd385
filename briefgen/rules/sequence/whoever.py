"""Whoever is free: roles stand in get-aheads alone, and there are people enough for them."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.expansion.likes import Likes
from briefgen.expansion.whoever import ROLES, roles_in, stand_ins
from briefgen.findings import Level, Related
from briefgen.model.tasks import WrittenTask
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import map_line
from briefgen.source import Ref

_FREE = """
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look at it., takes: 2 min}]}
  wipe: {title: Wipe, purpose: To see., place: lock, priority: get-ahead,
    steps: [{who: WHO, do: Wipe it., takes: 1 min}, {who: ev2, do: Go on., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [look], FLOW}, limits: {length: 1 h}, GET}}
"""


def _example(who: str, flow: str = "", get: str = "get_aheads: [wipe]") -> str:
    return _FREE.replace("WHO", who).replace("FLOW", flow).replace("GET", get)


@rule("whoever-in-a-flow", Level.ERROR, Needs.RECORDS,
      wrong=_example("▸one", "ev2: [wipe]", "note: N").replace("who: ev2", "who: ground"),
      right=_example("ev2", "ev2: [wipe]", "note: N"))  # fmt: skip
def whoever_in_a_flow(evidence: Evidence) -> Iterator[Trouble]:
    """What whoever is free may do is in nobody's flow: `one` and `other` stand in get-aheads.

    A flow says who does it, so the step must say so, too. Only for what may be taken up is it looked for who has time.
    """
    for task, roles in _tasks(evidence):
        if str(task.id) in evidence.flown:
            yield Trouble(
                roles[0].position,
                f"“{roles[0]}” is whoever is free, but “{task.title or task.id}” is in a flow. Say who does it, or "
                "make it a get-ahead.",
                (Related(task.id.position, "this task"),),
            )


@rule("whoever-and-somebody", Level.ERROR, Needs.RECORDS,
      wrong=_example("one").replace("who: ev2", "who: ▸ev2"),
      right=_example("one").replace("who: ev2", "who: other"))  # fmt: skip
def whoever_and_somebody(evidence: Evidence) -> Iterator[Trouble]:
    """A task that whoever is free may do names nobody outside.

    Whoever is named might be the one who is free: then one person would do what two do. Write `one` and `other`.
    """
    people = evidence.written.people
    for task, roles in _tasks(evidence):
        named = (value for value in task.values if type(value) is Ref and value.kinds == ("people",))
        somebody = next((ref for ref in named if ref in people and people[ref].outside), None)
        if somebody is not None:
            free = next((role for role in ROLES if role not in map(str, roles)), "")
            like = _exchanged(evidence, task, somebody)
            line = map_line("instead", like.instead.items(), somebody, free) if like else free
            here, there = (roles[0], somebody) if like else (somebody, roles[0])
            yield Trouble(
                here.position,
                f"“{task.title or task.id}” is for whoever is free (“{roles[0]}”), and names "
                f"{people[somebody].label_text}, too. Write “one” and “other”, or the people.",
                (Related(there.position, f"“{there}”"),), line if free else "", like.spot("instead") if like else None,
            )  # fmt: skip


def _exchanged(evidence: Evidence, task: WrittenTask, somebody: Ref) -> WrittenTask | None:
    """The task as written, if it has this name from the one that it is like, and says what stands instead of others."""
    written = evidence.written.of("tasks")[task.id]
    if not isinstance(written, WrittenTask) or not written.instead:
        return None
    own = {value.position for value in written.values if type(value) is Ref}
    return None if somebody.position in own else written


def _tasks(evidence: Evidence) -> Iterator[tuple[WrittenTask, list[Ref]]]:
    """The tasks that name roles, with all that they take from others, and where."""
    stand = stand_ins(evidence.written)
    tasks = {name: task for name, task in evidence.written.of("tasks").items() if isinstance(task, WrittenTask)}
    likes = Likes(tasks)
    for name in tasks:
        if (task := likes.task(name)) and (roles := roles_in(task, stand)):
            yield task, roles
