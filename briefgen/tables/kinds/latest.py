"""By when each task must begin."""

from __future__ import annotations

from briefgen.proof.deciding.latest import Latest
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import by_minute, people, spread_words, task_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_duration, show_elapsed

_COLUMNS = (Column("Task", wide=True), Column("Who"), *numbers("Planned", "Begin by", "To spare", "Lasts"))


def latest_table(proved: SortieEvidence) -> Table:
    """Every task by its planned beginning."""
    title = "By when each task must begin, in elapsed time (hours:minutes:seconds)"
    note = "What is optional and has not begun by then is left out."
    return Table("latest", title, _COLUMNS, tuple(_row(proved, one) for one in proved.latest), note=note)


def _row(proved: SortieEvidence, one: Latest) -> tuple[Cell, ...]:
    lasts = spread_words(proved.chance.tasks[one.task].lasts)
    return (
        task_cell(proved.library, one.task),
        *cells(people(proved.library, one.people), show_elapsed(one.begins)),
        *cells(by_minute(one.latest).capitalize(), spare_words(one), lasts),
    )


def spare_words(latest: Latest) -> str:
    """How much later than planned a task may begin; that it can't even begin as planned, where it can't."""
    return show_duration(latest.spare) if latest.spare >= 0 else f"Too late by {show_duration(-latest.spare)}"


TABLE = TableKind("latest", 80, lambda proved: (latest_table(proved),))
