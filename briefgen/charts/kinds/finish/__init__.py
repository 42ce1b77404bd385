"""When a sortie ends: the finish in many runs with drawn durations, against its limit and its reserve."""

from __future__ import annotations

from briefgen.charts.chart import KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.drawing.textures import area
from briefgen.charts.drawing.words import plain
from briefgen.charts.kind import ChartKind, ChartSubject, Head
from briefgen.charts.kinds.finish import live, still
from briefgen.charts.kinds.finish.rows import Bar, Moment, Rows, finish_rows
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_elapsed

__all__ = ["CHART", "Bar", "Moment", "Rows", "finish_rows"]


def _rows(subject: ChartSubject) -> Rows:
    sortie = subject.sortie
    return finish_rows(str(sortie.sortie.id), plain(sortie.sortie.title), sortie.chance, sortie.timeline.finish)


def _head(rows: Rows) -> Head:
    return Head(f"finish-{rows.sortie}", f"When the sortie ends: {rows.title}", summary(rows), rows.varies)


def summary(rows: Rows) -> str:
    """How many runs, and between which moments nine of ten end."""
    early, middle, late = map(show_elapsed, rows.usual)
    if not rows.varies:
        return f"No duration has three points: every run ends at {middle}."
    return (
        f"{rows.runs} runs with durations drawn at random. Half of them end by {middle}, and nine of ten between "
        f"{early} and {late}."
    )


def _table(rows: Rows) -> Table:
    return Table(
        name="finish",
        title=f"When the runs end: {rows.title}, in elapsed time (hours:minutes:seconds)",
        columns=headed("From", "Until", "Runs that end then", "Runs that have ended by then", figures={1, 2, 3}),
        rows=tuple(_row(bar) for bar in rows.bars),
    )


def _row(bar: Bar) -> tuple[Cell, ...]:
    return (
        Cell(show_elapsed(bar.start)),
        Cell(show_elapsed(bar.end)),
        Cell(bar.share.words),
        Cell(bar.by.words),
    )


def _key(rows: Rows) -> tuple[KeyLine, ...]:
    signs = [KeyLine(svg.sample(svg.rect(1, 1, 28, 14, "c-state")), f"share of {rows.runs} runs that end then")]
    if sum(one.limit for one in rows.moments) > 1:
        signs.append(KeyLine(svg.sample(area("reserve", 1, 1, 28, 14)), "reserve"))
    return tuple(signs)


CHART = ChartKind(
    name="finish",
    rows=_rows,
    head=_head,
    still=still.draw,
    live=live.figure,
    table=_table,
    key=_key,
)
