"""Who may not go on before somebody else is done."""

from __future__ import annotations

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import hold_words
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import people, step_cell
from briefgen.tables.table import Cell, Column, Table, numbers
from briefgen.units import show_duration

_COLUMNS = (Column("Holds before", wide=True), Column("Who"), Column("Until", wide=True), *numbers("Wait"))


def holds_table(proved: SortieEvidence) -> Table:
    """Every hold in the order of the plan."""
    steps = proved.plan.steps
    rows = tuple(
        (
            step_cell(steps[hold.step], f" [{steps[hold.step].key}]"),
            Cell(people(proved.library, hold.people)),
            Cell(hold_words(proved.library, steps[hold.first]), step_cell(steps[hold.first]).target),
            Cell(show_duration(hold.seconds) if hold.seconds else "none planned"),
        )
        for hold in proved.holds
    )
    return Table("holds", "Holds", _COLUMNS, rows, "Nobody has to hold for anybody.")


TABLE = TableKind("holds", 20, lambda proved: (holds_table(proved),))
