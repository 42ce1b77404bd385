"""Which get-aheads fit into what is left, and why the others do not."""

from __future__ import annotations

import math

from briefgen.language.wording import listing
from briefgen.proof.deciding.extras import MOST_LOOKED_AT, Between, Extra, Unfit, WhyNot
from briefgen.proof.deciding.faults import FAULTS
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import person, task, task_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import MINUTE, show_duration, show_elapsed

_COLUMNS = (
    Column("Take up", wide=True), Column("Where it stands", wide=True),
    *numbers("Begins", "Ends", "Work and ways", "Alone, later by"),
)  # fmt: skip


def extras_tables(case: SortieEvidence) -> tuple[Table, ...]:
    """What fits, and what does not."""
    return extras_table(case), unfit_table(case)


def extras_table(case: SortieEvidence) -> Table:
    """The get-aheads that fit, in the order in which they are done."""
    rows = tuple(_extra(case, number, one) for number, one in enumerate(case.extras.fitting, start=1))
    title = "What fits into what is left, in this order"
    return Table("get-aheads", title, _COLUMNS, rows, "Nothing fits into what is left.", extras_note(case))


def extras_note(case: SortieEvidence) -> str:
    """When the sortie would end with all that fits, and how thoroughly that was looked for; nothing where none does."""
    extras = case.extras
    if not extras.fitting:
        return "As planned there is no time that any of them fits into." if extras.unfit else ""
    left = show_duration(extras.usable - extras.finish)
    tried = (
        "Every order was tried, each task at the cheapest place that it has by then."
        if extras.exact
        else "Not every order was tried: another one may fit more."
    )
    return f"With all of these the sortie ends at {show_elapsed(extras.finish)}, with {left} to spare. {tried}"


def _extra(case: SortieEvidence, number: int, one: Extra) -> tuple[Cell, ...]:
    busy = listing([f"{person(case.library, name)} {show_duration(seconds)}" for name, seconds in one.busy])
    later = show_duration(one.later) if one.later >= 0.5 else "Nothing"
    return (
        task_cell(case.library, one.task, f"{number}. {task(case.library, one.task)}"),
        Cell("; ".join(_between(case, between) for between in one.between)),
        *cells(show_elapsed(one.begins), show_elapsed(one.ends), busy, later),
    )


def _between(case: SortieEvidence, one: Between) -> str:
    after = f"after “{task(case.library, one.after)}”" if one.after else "first of all"
    before = f", before “{task(case.library, one.before)}”" if one.before else ""
    return f"{person(case.library, one.person)} {after}{before}"


def unfit_table(case: SortieEvidence) -> Table:
    """The get-aheads that do not fit, each with the reason."""
    rows = tuple((task_cell(case.library, one.task), Cell(_why(case, one))) for one in case.extras.unfit)
    columns = (Column("Does not fit", wide=True), Column("Why", wide=True))
    empty = "Every get-ahead fits." if case.extras.fitting else "The sortie has no get-aheads."
    return Table("unfit", "Get-aheads that do not fit", columns, rows, empty)


def _why(case: SortieEvidence, one: Unfit) -> str:
    match one.why:
        case WhyNot.TOO_LONG:
            return f"Fits once the crew is at least {show_duration(math.ceil(one.missing / MINUTE) * MINUTE)} early"
        case WhyNot.BESIDE:
            return "Fits, but not beside those above"
        case WhyNot.NOT_HELD:
            return f"There is time, but {listing([FAULTS[kind] for kind in one.faults], 'or')}"
        case WhyNot.NOT_READY:
            return f"Needs {listing([task(case.library, name) for name in one.needs])} first, which is not done"
        case WhyNot.NO_PLACE:
            return "No gap in anybody's work has a way to it and on from it"
        case WhyNot.FOR_NOTHING:
            return "What it serves does not fit"
        case WhyNot.UNTRIED:
            return f"Not looked at: only the first {MOST_LOOKED_AT} listed are"


TABLE = TableKind("get-aheads", 100, extras_tables)
