"""The steps of one task: who does them, in what order, and what one person's step waits for of another's."""

from __future__ import annotations

from functools import lru_cache

from briefgen.charts.drawing.sheet import NARROW
from briefgen.charts.kind import ChartKind, ChartSubject, Head
from briefgen.charts.kinds.steps import live, still
from briefgen.charts.kinds.steps.key import key
from briefgen.charts.kinds.steps.layout import Diagram, arrange, narrow_style, wide_style
from briefgen.charts.kinds.steps.rows import Node, Rows, steps_rows
from briefgen.tables.table import Cell, Table, headed

__all__ = ["CHART", "Node", "Rows", "steps_rows"]


def _rows(subject: ChartSubject) -> Rows:
    """The rows of a task as it is done in a sortie; a task that is in nobody's flow has no times there.

    Raises KeyError for a task that is not in the library.
    """
    return steps_rows(subject.sortie, subject.library.tasks[subject.task], subject.href)


def _head(rows: Rows) -> Head:
    return Head(f"steps-{rows.sortie}-{rows.task}", f"Steps: {rows.title}", summary(rows), bool(rows.nodes))


@lru_cache(maxsize=2)
def _diagram(rows: Rows, narrow: bool) -> Diagram:
    """Arranged once for the still and the figure."""
    return arrange(rows, narrow_style(rows) if narrow else wide_style(rows))


def summary(rows: Rows) -> str:
    """How many steps, whose, and how often somebody waits for somebody else."""
    if not rows.nodes:
        return "Nobody does a step of this task."
    people = ", ".join(column.person.label_text for column in rows.columns)
    count = len(rows.nodes)
    joint = sum(len(node.columns) > 1 for node in rows.nodes)
    waits = len(rows.links) + sum(len(node.foreign) for node in rows.nodes)
    return (
        f"{count} {'step' if count == 1 else 'steps'} by {people}; {joint or 'none'} done together; "
        f"{waits or 'none'} of them {'begins' if waits == 1 else 'begin'} only after somebody else's step."
        if len(rows.columns) > 1 or waits
        else f"{count} {'step' if count == 1 else 'steps'} by {people}, one after the other."
    )


def _table(rows: Rows) -> Table:
    return Table(
        name="steps",
        title=f"Steps: {rows.title}",
        columns=headed("Step", "Who", "What", "Takes", "Planned", "After", "Remarks", figures={0, 3}),
        rows=tuple(_row(node, rows) for node in rows.nodes),
    )


def _row(node: Node, rows: Rows) -> tuple[Cell, ...]:
    numbers = {other.key: other.number for other in rows.nodes}
    own = {first for first, second in rows.links if second == node.key}
    after = [f"step {numbers[first]}" for first in node.after if first in own]
    after += [one.words.removeprefix("after ") for one in node.foreign]
    remarks = [*node.hazards, *(f"verifies {words}" for words in node.verifies)]
    remarks += ["critical"] if node.critical else []
    return (
        Cell(str(node.number), node.href),
        Cell(", ".join(rows.columns[number].person.label_text for number in node.columns)),
        Cell(node.do, node.href),
        Cell(node.takes),
        Cell(node.when),
        Cell("; ".join(after)),
        Cell("; ".join([*remarks, node.hold] if node.hold else remarks)),
    )


CHART = ChartKind(
    name="steps",
    rows=_rows,
    head=_head,
    still=lambda rows, wide: still.draw(_diagram(rows, wide <= NARROW)),
    live=lambda rows: live.figure(_diagram(rows, narrow=False), _diagram(rows, narrow=True)),
    table=_table,
    key=key,
)
