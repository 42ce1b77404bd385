"""The steps that keep a place or route free of everybody else outside."""

from __future__ import annotations

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import step_cell
from briefgen.tables.table import Column, Table, cells, numbers
from briefgen.units import show_elapsed

_COLUMNS = (Column("While this is done", wide=True), *numbers("From", "To"), Column("Nobody else at", wide=True))


def kept_free_table(proved: SortieEvidence) -> Table:
    """By the time of their beginning."""
    times = sorted((one for one in proved.timeline.times if one.step.step.keeps_out), key=lambda one: one.start)
    rows = tuple(
        (
            step_cell(one.step, f" [{one.step.key}]"),
            *cells(show_elapsed(one.start), show_elapsed(one.end), _kept(proved, one.step)),
        )
        for one in times
    )
    return Table("kept-free", "Kept free", _COLUMNS, rows, "No step keeps a place free.")


def _kept(proved: SortieEvidence, planned: PlannedStep) -> str:
    places, routes = proved.library.places, proved.library.routes
    return ", ".join((places.get(name) or routes[name]).label_text for name in planned.step.keeps_out)


TABLE = TableKind("kept-free", 60, lambda proved: (kept_free_table(proved),))
