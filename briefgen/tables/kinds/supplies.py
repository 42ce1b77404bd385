"""What each suit holds, must keep, uses and has left, and when its reserve would be reached."""

from __future__ import annotations

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import person, three_digits
from briefgen.tables.table import Cell, Column, RecordAddress, Table, cells, numbers
from briefgen.units import show_elapsed

_COLUMNS = (
    Column("Supply", wide=True),
    *numbers("Holds", "Reserve", "Used", "Left at the end", "Reserve reached at"),
)


def supplies_table(proved: SortieEvidence) -> Table:
    """A row a suit and supply."""
    rows = tuple(_row(proved, run) for runs in proved.supplies.runs.values() for run in runs)
    return Table("supplies", "Supplies of the suits", _COLUMNS, rows, "No suit has supplies.")


def _row(proved: SortieEvidence, run: SupplyRun) -> tuple[Cell, ...]:
    amounts = (float(run.supply.holds), float(run.supply.keeps), run.used, run.left)
    reached = "never" if run.reserve_reached is None else f"{show_elapsed(run.reserve_reached)} elapsed"
    first = " (first of all)" if run is proved.supplies.ends and run.reserve_reached is not None else ""
    return (
        Cell(f"{person(proved.library, run.person)}: {run.name.replace('-', ' ')}", RecordAddress("suit", run.suit)),
        *cells(*(f"{three_digits(amount / run.factor)} {run.unit}" for amount in amounts)),
        Cell(f"{reached}{first}"),
    )


TABLE = TableKind("supplies", 40, lambda proved: (supplies_table(proved),))
