"""The timeline as a table: every step once, with the ways and waits that lead to it."""

from __future__ import annotations

from briefgen.charts.kinds.timeline.rows import Bar, Rows
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_duration, show_elapsed

HEAD = ("Starts", "Ends", "Takes", "Who", "What", "Where", "Slack to the finish", "Remarks")
_RANK = {"way": 0, "standby": 1, "wait": 1, "step": 2}


def table(rows: Rows) -> Table:
    """One row a step, way or wait, by the time of its start; a joint step stands in one row."""
    listed = [bar for bar in rows.bars if not bar.together or bar.lane == bar.together[0]]
    listed.sort(key=lambda bar: (bar.start, _RANK[bar.kind], bar.lane))
    return Table(
        name="timeline",
        title=f"Timeline: {rows.title}, in elapsed time (hours:minutes:seconds)",
        columns=headed(*HEAD, figures={0, 1, 2, 6}),
        rows=tuple(_row(bar, rows) for bar in listed),
    )


def _row(bar: Bar, rows: Rows) -> tuple[Cell, ...]:
    who = ", ".join(rows.lanes[lane].person.label_text for lane in bar.together or (bar.lane,))
    return (
        Cell(show_elapsed(bar.start)),
        Cell(show_elapsed(bar.end)),
        Cell(bar.takes),
        Cell(who),
        Cell(bar.title, bar.href),
        Cell(bar.place),
        Cell(show_duration(bar.slack) if bar.kind == "step" else ""),
        Cell(", ".join(_remarks(bar))),
    )


def _remarks(bar: Bar) -> list[str]:
    said = ["critical"] if bar.critical else []
    said += ["together"] if bar.together else []
    said += ["optional"] if bar.optional else []
    return [*said, *bar.hazards]
