"""Every step, way and wait by the clock."""

from __future__ import annotations

from briefgen.language.sentences import plain
from briefgen.language.wording import metres
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import hold_words
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.agenda import Entry, EntryKind, agenda
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import people, place, step_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_duration, show_elapsed

_COLUMNS = (
    *numbers("Start", "End"), Column("Who", wide=True), Column("What", wide=True), Column("Where", wide=True),
    *numbers("Slack"), Column("Critical"),
)  # fmt: skip


def timeline_table(proved: SortieEvidence) -> Table:
    """One row an entry of the agenda."""
    rows = tuple(_row(proved, entry) for entry in agenda(proved.timeline))
    title = "Timeline, in elapsed time (hours:minutes:seconds)"
    return Table(
        "timeline", title, _COLUMNS, rows, "Nobody does anything.", "Critical: can't slip without ending later."
    )


def _row(proved: SortieEvidence, entry: Entry) -> tuple[Cell, ...]:
    step = entry.kind is EntryKind.STEP
    slack = show_duration(entry.times.slack) if step else ""
    return (
        *cells(show_elapsed(entry.start), show_elapsed(entry.end), people(proved.library, entry.people)),
        _what(proved, entry),
        *cells(place(proved.library, entry.place), slack, "yes" if step and entry.times.critical else ""),
    )


def _what(proved: SortieEvidence, entry: Entry) -> Cell:
    if entry.kind is EntryKind.STEP:
        planned = entry.times.step
        many = f" ({planned.times} times)" if planned.times > 1 else ""
        return Cell(f"{plain(planned.step.told)}{many}{_grip(planned)} [{planned.key}]", step_cell(planned).target)
    if entry.kind is EntryKind.WAY:
        far = f", {metres(entry.metres)}" if entry.metres is not None else ""
        return Cell(f"→ {place(proved.library, entry.goal)}{far}")
    if entry.cause is None:
        return Cell(f"waits until {entry.until}")
    if entry.cause is entry.times.step:
        others = [name for name in entry.cause.people if name not in entry.people]
        return Cell(f"waits until {people(proved.library, others)} is there")
    return Cell(f"waits for {hold_words(proved.library, entry.cause)}")


def _grip(planned: PlannedStep) -> str:
    """What the step gets somebody into, or out of."""
    step = planned.step
    return f" (into {step.enters})" if step.enters else f" (out of {step.exits})" if step.exits else ""


TABLE = TableKind("timeline", 10, lambda proved: (timeline_table(proved),))
