"""What to leave out when late, in order, and which optional tasks must stay."""

from __future__ import annotations

from briefgen.language.wording import capital, listing
from briefgen.proof.deciding.drops import Drop, Kept
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import gained, person, task, task_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_duration

SERVING = "serving"
"""What stands for the priority of a task that goes with what it serves."""

PRIORITIES = {
    "required": "Required", "time-permitting": "Time permitting", "get-ahead": "Get-ahead", SERVING: "Serves others",
}  # fmt: skip
"""How a task's priority is said."""

_COLUMNS = (
    Column("Leave out", wide=True), Column("Priority"),
    *numbers("Earlier at the end", "With those above", "Frees", "Reached"),
)  # fmt: skip


def drops_tables(proved: SortieEvidence) -> tuple[Table, ...]:
    """What goes, and what does not."""
    return drops_table(proved), kept_table(proved)


def drops_table(proved: SortieEvidence) -> Table:
    """The tasks to leave out, the first one first."""
    rows = tuple(_drop(proved, number, one) for number, one in enumerate(proved.dropping.drops, start=1))
    return Table("drops", "What to leave out first, in this order", _COLUMNS, rows, "No task can be left out.")


def _drop(proved: SortieEvidence, number: int, one: Drop) -> tuple[Cell, ...]:
    along = "".join(f", and with it {task(proved.library, name)}" for name in one.takes_along)
    frees = listing([f"{person(proved.library, name)} {show_duration(seconds)}" for name, seconds in one.frees])
    reached = proved.chance.tasks[one.task].reached
    return (
        task_cell(proved.library, one.task, f"{number}. {task(proved.library, one.task)}{along}"),
        Cell(PRIORITIES[proved.library.tasks[one.task].priority]),
        *cells(capital(gained(one.gives_back)), capital(gained(one.in_all)), frees or "Nobody"),
        Cell(reached.words if reached else ""),
    )


def kept_table(proved: SortieEvidence) -> Table:
    """Optional tasks that stay, and why."""
    rows = tuple((task_cell(proved.library, one.task), Cell(_why_kept(proved, one))) for one in proved.dropping.kept)
    columns = (Column("Must stay", wide=True), Column("Why", wide=True))
    return Table("kept", "Optional tasks that must stay", columns, rows, "No optional task must stay.")


def _why_kept(proved: SortieEvidence, kept: Kept) -> str:
    if not kept.needed_by:
        return "Not together with those above: something would not hold then"
    return f"Needed by {listing([task(proved.library, name) for name in kept.needed_by])}"


TABLE = TableKind("drops", 90, drops_tables)
