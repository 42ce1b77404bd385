"""Nights, and the steps that need light."""

from __future__ import annotations

from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import step_cell
from briefgen.tables.table import Column, Table, cells, numbers
from briefgen.units import show_duration, show_elapsed


def light_tables(proved: SortieEvidence) -> tuple[Table, ...]:
    """The nights, then what must not reach into one."""
    return nights_table(proved), lit_table(proved)


def nights_table(proved: SortieEvidence) -> Table:
    """The nights along the sortie."""
    rows = tuple(
        cells(
            f"Night {number}", f"{show_elapsed(start)} elapsed", f"{show_elapsed(end)} elapsed",
            show_duration(end - start),
        )
        for number, (start, end) in enumerate(proved.light.nights, start=1)
    )  # fmt: skip
    return Table("nights", "Nights", (Column("Night"), *numbers("Sunset", "Sunrise", "Lasts")), rows,
                 "No night is known: no day and night are given, or none comes.")  # fmt: skip


def lit_table(proved: SortieEvidence) -> Table:
    """How far each step that needs light may slip before night reaches it."""
    rows = tuple(
        (
            step_cell(need.times.step),
            *cells(
                f"{show_elapsed(need.times.start)} elapsed", f"{show_elapsed(need.times.end)} elapsed",
                "no night comes" if need.spare is None else show_duration(need.spare),
            ),
        )
        for need in proved.light.needs
    )  # fmt: skip
    columns = (Column("Step", wide=True), *numbers("Begins", "Ends", "Spare before night"))
    return Table("lit", "Steps that need light", columns, rows, "No step needs light.")


TABLE = TableKind("light", 50, light_tables)
