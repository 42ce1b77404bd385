"""A timeline as flat rows: one for every step, way and wait. What the CSV and JSON files hold."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

from briefgen.language.sentences import plain
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.agenda import Entry, EntryKind, agenda
from briefgen.proof.schedule.clock import start_of
from briefgen.units import show_elapsed

CAUTION = "A training aid. Outside, the approved procedure and the calls from the ground decide."


def rows_of(case: SortieEvidence) -> Iterator[dict[str, Any]]:
    """The rows of one sortie in the order of the clock: seconds and metres, None where none applies."""
    begin = start_of(case.sortie)
    for entry in agenda(case.timeline):
        yield _row(case, entry, begin)


def _row(case: SortieEvidence, entry: Entry, begin: datetime | None) -> dict[str, Any]:
    planned = entry.times.step
    step = entry.kind is EntryKind.STEP
    return {
        "sortie": str(case.sortie.id),
        "kind": entry.kind.value,
        "start_s": round(entry.start, 3),
        "end_s": round(entry.end, 3),
        "elapsed": show_elapsed(entry.start),
        "utc": in_utc(begin, entry.start),
        "people": list(entry.people),
        "task": str(planned.task.id),
        "step": planned.key,
        "what": plain(planned.step.do) if step else None,
        "place": entry.place,
        "from": entry.origin,
        "to": entry.goal or (str(planned.step.to) if step and planned.step.to else None),
        "metres": round(entry.metres, 3) if entry.metres is not None else None,
        "waits_for": entry.cause.key if entry.cause else None,
        "slack_s": round(entry.times.slack, 3) if step else None,
        "critical": entry.times.critical if step else None,
    }


def in_utc(begin: datetime | None, seconds: float) -> str | None:
    """The clock time at some seconds after the start, to the second (ISO 8601)."""
    if begin is None:
        return None
    return (begin + timedelta(seconds=round(seconds))).isoformat().replace("+00:00", "Z")
