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


def extras_tables(proved: SortieEvidence) -> tuple[Table, ...]:
    """What fits, and what does not."""
    return extras_table(proved), unfit_table(proved)


def extras_table(proved: SortieEvidence) -> Table:
    """The get-aheads that fit, in the order in which they are done."""
    rows = tuple(_extra(proved, number, one) for number, one in enumerate(proved.extras.fitting, start=1))
    title = "What fits into what is left, in this order"
    return Table("get-aheads", title, _COLUMNS, rows, "Nothing fits into what is left.", extras_note(proved))


def extras_note(proved: SortieEvidence) -> str:
    """When the sortie would end with all that fits, and how thoroughly that was looked for; nothing where none does."""
    extras = proved.extras
    if not extras.fitting:
        return "As planned there is no time that any of them fits into." if extras.unfit else ""
    left = show_duration(extras.usable - extras.finish)
    tried = (
        "Every order was tried, each task at the cheapest place that it has by then."
        if extras.exact
        else "Not every order was tried: another one may fit more."
    )
    return f"With all of these the sortie ends at {show_elapsed(extras.finish)}, with {left} to spare. {tried}"


def _extra(proved: SortieEvidence, number: int, one: Extra) -> tuple[Cell, ...]:
    busy = listing([f"{person(proved.library, name)} {show_duration(seconds)}" for name, seconds in one.busy])
    later = show_duration(one.later) if one.later >= 0.5 else "Nothing"
    return (
        task_cell(proved.library, one.task, f"{number}. {task(proved.library, one.task)}"),
        Cell("; ".join(_between(proved, between) for between in one.between)),
        *cells(show_elapsed(one.begins), show_elapsed(one.ends), busy, later),
    )


def _between(proved: SortieEvidence, one: Between) -> str:
    after = f"after “{task(proved.library, one.after)}”" if one.after else "first of all"
    before = f", before “{task(proved.library, one.before)}”" if one.before else ""
    return f"{person(proved.library, one.person)} {after}{before}"


def unfit_table(proved: SortieEvidence) -> Table:
    """The get-aheads that do not fit, each with the reason."""
    rows = tuple((task_cell(proved.library, one.task), Cell(_why(proved, one))) for one in proved.extras.unfit)
    columns = (Column("Does not fit", wide=True), Column("Why", wide=True))
    empty = "Every get-ahead fits." if proved.extras.fitting else "The sortie has no get-aheads."
    return Table("unfit", "Get-aheads that do not fit", columns, rows, empty)


def _why(proved: SortieEvidence, one: Unfit) -> str:
    match one.why:
        case WhyNot.TOO_LONG:
            return f"Fits once the crew is at least {show_duration(math.ceil(one.missing / MINUTE) * MINUTE)} early"
        case WhyNot.BESIDE:
            return "Fits, but not beside those above"
        case WhyNot.NOT_HELD:
            return f"There is time, but {listing([FAULTS[kind] for kind in one.faults], 'or')}"
        case WhyNot.NOT_READY:
            return f"Needs {listing([task(proved.library, name) for name in one.needs])} first, which is not done"
        case WhyNot.NO_PLACE:
            return "No gap in anybody's work has a way to it and on from it"
        case WhyNot.FOR_NOTHING:
            return "What it serves does not fit"
        case WhyNot.UNTRIED:
            return f"Not looked at: only the first {MOST_LOOKED_AT} listed are"


TABLE = TableKind("get-aheads", 100, extras_tables)
