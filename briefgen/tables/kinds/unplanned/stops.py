"""What a stop at the end of each step leaves open, and how long closing up takes."""

from __future__ import annotations

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.stopping.stops import Stop
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import step_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_elapsed

_COLUMNS = (
    Column("As this ends", wide=True),
    *numbers("At", "Left open", "Steps that close up", "Orderly stop", "Immediate return"),
    Column("Clean stop"),
)


def stops_table(proved: SortieEvidence) -> Table:
    """Every moment in the order of time."""
    title = "A stop at the end of each step, in elapsed time (hours:minutes:seconds)"
    note = (
        "Orderly stop: until all is closed and everybody home. Immediate return: until everybody is home, leaving all."
    )
    rows = tuple(_row(proved, stop) for stop in proved.stops)
    return Table("stops", title, _COLUMNS, rows, "Nobody does anything.", note)


def _row(proved: SortieEvidence, stop: Stop) -> tuple[Cell, ...]:
    more = f" (and {len(stop.ended) - 1} more)" if len(stop.ended) > 1 else ""
    stuck = f"; {_stuck(stop)}" if stop.stuck else ""
    stuck += "" if stop.searched else "; too much is open to try every way: there may be a quicker one"
    return (
        step_cell(proved.plan.steps[stop.ended[0]], more),
        *cells(show_elapsed(stop.at), f"{len(stop.open)}{stuck}", str(len(stop.closing))),
        *cells(until_home(stop.seconds), until_home(stop.bare), "yes" if stop.clean else ""),
    )


TABLE = TableKind("stops", 120, lambda proved: (stops_table(proved),))


def _stuck(stop: Stop) -> str:
    number = len(stop.stuck)
    return f"no way back is written for {number}" if stop.searched else f"what is shown leaves {number} open"
