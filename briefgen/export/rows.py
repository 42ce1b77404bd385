"""A timeline as flat rows: one for every step, way and wait. What the CSV and JSON files hold."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

from briefgen.language.sentences import plain
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.agenda import Entry, EntryKind, agenda
from briefgen.proof.schedule.clock import start_of
from briefgen.tables.case_words import cost_words, done_words, ends_words, then_words
from briefgen.units import show_elapsed

CAUTION = "A training aid. Outside, the approved procedure and the calls from the ground decide."


def rows_of(proved: SortieEvidence) -> Iterator[dict[str, Any]]:
    """The rows of one sortie in the order of the clock: seconds and metres, None where none applies."""
    begin = start_of(proved.sortie)
    for entry in agenda(proved.timeline):
        yield _row(proved, entry, begin)


def _row(proved: SortieEvidence, entry: Entry, begin: datetime | None) -> dict[str, Any]:
    planned = entry.times.step
    step = entry.kind is EntryKind.STEP
    return {
        "sortie": str(proved.sortie.id),
        "kind": entry.kind.value,
        "start_s": round(entry.start, 3),
        "end_s": round(entry.end, 3),
        "elapsed": show_elapsed(entry.start),
        "utc": in_utc(begin, entry.start),
        "people": list(entry.people),
        "task": str(planned.task.id),
        "step": planned.key,
        "what": plain(planned.step.told) if step else None,
        "place": entry.place,
        "from": entry.origin,
        "to": entry.goal or (str(planned.step.to) if step and planned.step.to else None),
        "metres": round(entry.metres, 3) if entry.metres is not None else None,
        "waits_for": entry.cause.key if entry.cause else None,
        "waits_until": entry.until or None,
        "slack_s": round(entry.times.slack, 3) if step else None,
        "critical": entry.times.critical if step else None,
        "in_case": [_case(proof) for proof in proved.cases if proof.step is planned] if step else [],
    }


def _case(proof: CaseProof) -> dict[str, Any]:
    """What is done if the step does not go as planned; `later_s` and `finish_s` are None where no plan was proved."""
    written = proof.case
    return {
        "when": plain(written.when),
        "steps": [
            {"people": list(map(str, step.who)), "what": plain(step.told), "takes_s": step.takes.likely}
            for step in written.steps
        ],
        "then": str(written.then),
        "not_done": [step.key for step in proof.skipped],
        "later_s": round(proof.later, 3) if proof.finish else None,
        "finish_s": round(proof.finish, 3) if proof.finish else None,
    }


def case_lines(proved: SortieEvidence, step: PlannedStep) -> Iterator[str]:
    """The step's cases sentence by sentence, for files that hold words only."""
    for proof in proved.cases:
        if proof.step is step:
            yield f"If not as planned: {plain(proof.case.when)}"
            yield from done_words(proved.library, proof.case)
            yield f"Then {then_words(proved.library, proof.case)}."
            costs = "; ".join(filter(None, [ends_words(proof), cost_words(proof)]))
            yield from [f"The sortie then ends {costs}."] if costs else []


def in_utc(begin: datetime | None, seconds: float) -> str | None:
    """The clock time at some seconds after the start, to the second (ISO 8601)."""
    if begin is None:
        return None
    return (begin + timedelta(seconds=round(seconds))).isoformat().replace("+00:00", "Z")
