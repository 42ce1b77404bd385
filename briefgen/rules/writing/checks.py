"""Checks that only look.

The action verbs are those of DOE-STD-1029-92, Writer's Guide for Technical Procedures, section 4.
"""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.sentences import sentences
from briefgen.model.work import Step
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.wording import steps_of


@rule(
    "check-that-changes", Level.ADVICE, Needs.RECORDS,
    wrong="""
    equipment: {valve: {name: Valve, place: k2, states: [open, closed], starts: open, ends: any}}
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: ▸Check that the valve is closed., takes: 1 min, sets: {valve: closed}}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    equipment: {valve: {name: Valve, place: k2, states: [open, closed], starts: open, ends: any}}
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps:
          - {id: turn, who: ev1, do: Close the valve., takes: 1 min, sets: {valve: closed}}
          - {who: ground, do: Check that no flow shows., takes: 1 min, verifies: {valve: closed}, after: [shut/turn]}
    sorties: {s: {title: S, flow: {ev1: [shut], ground: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def check_that_changes(evidence: Evidence) -> Iterator[Trouble]:
    """A step that begins with “Check” compares and changes nothing.

    If a check may also act, nobody knows afterwards who put the thing into its state. DOE-STD-1029-92, section 4: to
    check is to compare with a stated condition; where something may have to be moved for it, the verb is “verify”.
    """
    for step in steps_of(evidence):
        first = next(iter(sentences(step.do)), None)
        if first and first.first in ("check", "inspect", "observe") and step.sets:
            yield Trouble(
                step.do.position,
                f"“{first.first.capitalize()}” only looks, but this step sets {_names(evidence, step)}: say what is "
                "done, or use “verifies” (DOE-STD-1029-92, section 4).",
            )


def _names(evidence: Evidence, step: Step) -> str:
    equipment = evidence.library.equipment
    names = [equipment[name].label_text if name in equipment else str(name) for name in step.sets]
    return " and ".join(f"“{name}”" for name in names)
