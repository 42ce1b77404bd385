"""What equipment and tools offer is what steps choose from: states, parts, settings."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.nearest import hint, nearest
from briefgen.model.steps import Each
from briefgen.model.tasks import Block
from briefgen.model.things import Equipment, Tool
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.source import Text


@rule(
    "unknown-state", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, requires: {feed: ▸of}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, requires: {feed: on}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_state(evidence: Evidence) -> Iterator[Trouble]:
    """Every state that is required, set, verified or expected is one that the equipment can be in.

    A misspelt state can never come true, so the step that waits for it could never be done.
    """
    equipment = evidence.library.equipment
    for name, state in _named_states(evidence):
        record = equipment.get(name)
        if record and state not in record.states:
            yield Trouble(
                state.position, f"“{state}” is no state of {record.label_text}.{hint(state, record.states)}",
                write=nearest(state, record.states),
            )  # fmt: skip


def _named_states(evidence: Evidence) -> Iterator[tuple[str, Text]]:
    library = evidence.library
    for task in library.tasks.values():
        for step in task.every_step:
            for named in (step.requires, step.sets, step.verifies):
                yield from named.items()
    for hazard in library.hazards.values():
        yield from hazard.controls.items()
    for tool in library.tools.values():
        yield from tool.fitted_as.items()
    for record in library.equipment.values():
        yield record.id, record.starts
        yield from ((record.id, state) for state in record.ends if state != "any")
    for sortie in library.sorties.values():
        yield from ((name, state) for name, states in sortie.ends.items() for state in states)
        yield from ((name, state) for name, state in sortie.carries_over.items() if name in library.equipment)


@rule(
    "unknown-part", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, each: {equipment: plates, where: {plate: [▸z]}}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, each: {equipment: plates, where: {plate: [a]}}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_part(evidence: Evidence) -> Iterator[Trouble]:
    """`each` names an equipment that has `parts`, and `where` only parts and names that it has.

    An item that does not exist would be counted and never found.
    """
    for task in evidence.library.tasks.values():
        for part in (*task.entries, *task.every_step):
            record = evidence.library.equipment.get(part.each.equipment) if part.each else None
            if part.each and record:
                yield from _unknown_parts(part.each, record)
                if isinstance(part, Block):
                    yield from _unknown_parts(part.each.model_copy(update={"where": part.where}), record)


def _unknown_parts(each: Each, record: Equipment) -> Iterator[Trouble]:
    if not record.parts:
        yield Trouble(
            each.equipment.position,
            f"{record.label_text} has no “parts”, so there is nothing to count.",
            write="parts: {number: [1, 2]}",
            write_at=record.position,
        )
    for part, names in each.where.items():
        if part not in record.parts:
            yield Trouble(part.position, f"{record.label_text} has no part “{part}”.{hint(part, record.parts)}")
            continue
        for name in names:
            if name not in record.parts[part]:
                yield Trouble(
                    name.position, f"{record.label_text} has no {part} “{name}”.{hint(name, record.parts[part])}"
                )


@rule(
    "unknown-setting", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    tasks:
      turn:
        title: Turn
        purpose: To open it.
        place: lock
        steps: [{who: ev1, do: Turn it., takes: 2 min, with: [{driver: ▸losen}]}]
    sorties: {s: {title: S, flow: {ev1: [turn]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      turn:
        title: Turn
        purpose: To open it.
        place: lock
        steps:
          - {who: ev1, do: Take the driver., takes: 1 min, picks: [driver]}
          - {who: ev1, do: Turn it., takes: 2 min, with: [{driver: loosen}]}
          - {who: ev1, do: Put it back., takes: 1 min, leaves: {driver: lock}}
    sorties: {s: {title: S, flow: {ev1: [turn]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_setting(evidence: Evidence) -> Iterator[Trouble]:
    """Every setting that a step names is one of the tool's `settings`.

    The wrong number of turns or the wrong torque strips a bolt.
    """
    for task in evidence.library.tasks.values():
        for use in (use for step in task.every_step for use in step.uses if use.setting is not None):
            thing = evidence.library.thing(use.tool)
            settings = thing.settings if isinstance(thing, Tool) else {}
            if thing and use.setting is not None and use.setting not in settings:
                yield Trouble(
                    use.setting.position,
                    f"{thing.label_text} has no setting “{use.setting}”.{hint(use.setting, settings)}",
                )
