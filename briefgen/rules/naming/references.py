"""Whatever a record names exists: other records, and steps."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.expansion.whoever import roles_in, stand_ins
from briefgen.findings import Level
from briefgen.language.nearest import hint, nearest
from briefgen.model.fields.base import Record
from briefgen.model.fields.references import references_of, step_references_of
from briefgen.model.library import KINDS
from briefgen.model.tasks import Task, WrittenTask
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lookup import nearest_step, no_step, step_names, unknown_record
from briefgen.source import Ref, StepRef


@rule(
    "unknown-reference", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      open-cover: {title: Open, purpose: To see inside., place: ▸k9, steps: [{who: ev1, do: Open it., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [open-cover]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      open-cover: {title: Open, purpose: To see inside., place: lock, steps: [{who: ev1, do: Open it., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [open-cover]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_reference(evidence: Evidence) -> Iterator[Trouble]:
    """Every id that a record names stands for a record of the right kind.

    A misspelt id would leave a hole in the briefing: a tool that nobody packs, a hazard that is never printed.
    """
    stand = stand_ins(evidence.written)
    for _, record in evidence.written.every():
        roles = roles_in(record, stand) if isinstance(record, WrittenTask) else []
        for ref in references_of(record):
            if not any(ref is role for role in roles):
                yield from unknown_record(evidence, ref)
        if isinstance(record, WrittenTask):
            for old, new in record.instead.items():
                kinds = ("people",) if old in stand else tuple(kind for kind in KINDS if evidence.knows(kind, old))
                if kinds and not (new in stand and "people" in kinds):
                    yield from unknown_record(evidence, Ref(new, new.position, kinds))


@rule(
    "unknown-step", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - {id: see, who: ev1, do: Look at it., takes: 2 min}
          - {who: ev2, do: Look again., takes: 2 min, after: [▸look/sea]}
    sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - {id: see, who: ev1, do: Look at it., takes: 2 min}
          - {who: ev2, do: Look again., takes: 2 min, after: [look/see]}
    sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_step(evidence: Evidence) -> Iterator[Trouble]:
    """Every step that `after` or a flow names exists.

    Somebody would wait for a step that nobody does, or go on without one that was meant.
    """
    for _, record in evidence.library.every():
        for ref in step_references_of(record):
            yield from _unknown_step(evidence, ref, record)
    for task in evidence.library.tasks.values():
        for word in (word for need in task.prerequisites for word in need.before if not task.named(word)):
            yield Trouble(word.position, no_step(task.title or task.id, word, task), write=nearest_step(word, task))


def _unknown_step(evidence: Evidence, ref: StepRef, within: Record) -> Iterator[Trouble]:
    task = evidence.library.tasks.get(ref.task)
    if not evidence.knows("tasks", ref.task):
        shown, write = _meant(evidence, ref, within)
        known = hint(ref.task, evidence.library.tasks)
        sentence = f"There is no task “{ref.task}”." + (f" Did you mean “{shown}”?" if shown else known)
        yield Trouble(ref.position, sentence, write=write)
    elif task and ref.step and not task.named(ref.step):
        close = nearest_step(ref.step, task)
        sentence = no_step(task.title or task.id, ref.step, task)
        yield Trouble(ref.position, sentence, write=close and f"{ref.task}/{close}")


def _meant(evidence: Evidence, ref: StepRef, within: Record) -> tuple[str, str]:
    """What was meant by a name whose task there is not: as it is told, and as it is written."""
    tasks = evidence.library.tasks
    if not ref.step:
        return (close := nearest(ref.task, tasks)), close
    own = [name for name in step_names(within) if "/" in name] if isinstance(within, Task) else []
    whole = [f"{name}/{ref.step}" for name, task in tasks.items() if task.named(ref.step)]
    close = nearest(ref, [*own, *whole])
    if close in own:
        return close, f"{within.id}/{close}"
    task = tasks.get(close.partition("/")[0] or nearest(ref.task, tasks))
    step = task and nearest_step(ref.step, task)
    return (f"{task.id}", f"{task.id}/{step}" if step else "") if task else ("", "")


@rule(
    "carried-to-nowhere", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, carries_over: {driver: ▸k9}}}
    """,
    right="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, carries_over: {driver: lock}}}
    """,
)  # fmt: skip
def carried_to_nowhere(evidence: Evidence) -> Iterator[Trouble]:
    """What `carries_over` says of a tool or bag is a place or a bag.

    The next sortie would look for it where nobody could have left it.
    """
    library = evidence.library
    for sortie in library.sorties.values():
        for name, spot in sortie.carries_over.items():
            known = [*library.places, *library.bags]
            if library.thing(name) and spot not in known:
                yield Trouble(spot.position, f"There is no place or bag “{spot}”.{hint(spot, known)}")
