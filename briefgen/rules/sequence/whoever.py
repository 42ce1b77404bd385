"""Whoever is free: roles stand in get-aheads alone, and there are people enough for them."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.expansion.whoever import roles_in, stand_ins
from briefgen.findings import Level, Related
from briefgen.model.tasks import WrittenTask
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
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
            yield Trouble(
                somebody.position,
                f"“{task.title or task.id}” is for whoever is free (“{roles[0]}”), and names "
                f"{people[somebody].label_text}, too. Write “one” and “other”, or the people.",
                (Related(roles[0].position, f"“{roles[0]}”"),),
            )


def _tasks(evidence: Evidence) -> Iterator[tuple[WrittenTask, list[Ref]]]:
    stand = stand_ins(evidence.written)
    for task in evidence.written.of("tasks").values():
        if isinstance(task, WrittenTask) and (roles := roles_in(task, stand)):
            yield task, roles
