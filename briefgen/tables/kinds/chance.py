"""How likely the sortie ends in time, from many runs of the plan."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kind import TableKind
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_duration, show_elapsed


def chance_table(proved: SortieEvidence) -> Table:
    """The chances, and when the sortie ends in the runs."""
    columns = (Column("What", wide=True), *numbers("Value"))
    return Table("chance", f"Chance ({RUNS} runs, seed {SEED})", columns, tuple(_rows(proved)))


def _rows(proved: SortieEvidence) -> Iterator[tuple[Cell, ...]]:
    chance, finish = proved.chance, proved.chance.finish
    usable = show_elapsed(chance.usable)
    if chance.usable < chance.length:
        yield cells(f"Ends by {usable}, the reserve kept", finish.within(chance.usable).words)
    yield cells(f"Ends by {show_elapsed(chance.length)}, the limit", finish.within(chance.length).words)
    if chance.bare:
        yield cells(f"Ends by {usable} without optional tasks", chance.bare.within(chance.usable).words)
    yield cells("Mean of the finish", show_elapsed(finish.spread.mean))
    yield cells("Spread of the finish (standard deviation)", show_duration(finish.spread.deviation))
    for share in (0.05, 0.5, 0.95):
        yield cells(f"{100 * share:.0f} % of the runs end by", show_elapsed(finish.by(share)))


TABLE = TableKind("chance", 70, lambda proved: (chance_table(proved),))
