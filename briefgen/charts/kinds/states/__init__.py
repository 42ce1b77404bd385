"""Controls and all equipment that changes, over time: its states, who confirms them, and which steps rely on them."""

from __future__ import annotations

from briefgen.charts.chart import KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.kind import ChartKind, Head
from briefgen.charts.kinds.states import still
from briefgen.charts.kinds.states.rows import Band, Lane, Rows, Use, states_rows
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_elapsed

__all__ = ["CHART", "Band", "Lane", "Rows", "Use", "states_rows"]


def _head(rows: Rows) -> Head:
    return Head(f"states-{rows.sortie}", f"States of equipment: {rows.title}", summary(rows), bool(rows.lanes))


def summary(rows: Rows) -> str:
    """How many controls and other equipment change, and how often a state is confirmed."""
    if not rows.lanes:
        return "This sortie changes no equipment."
    controls = sum(lane.control for lane in rows.lanes)
    looks = sum(use.looks for lane in rows.lanes for use in lane.uses)
    return (
        f"{controls} controls, which keep a hazard controlled, and {len(rows.lanes) - controls} other equipment items; "
        f"{looks} times somebody confirms a state by looking."
    )


def _table(rows: Rows) -> Table:
    return Table(
        name="states",
        title=f"States of equipment: {rows.title}, in elapsed time (hours:minutes:seconds)",
        columns=headed(
            "Equipment", "State", "From", "Until", "Brought about by", "Confirmed or relied on by", figures={2, 3}
        ),
        rows=tuple(_row(lane, band) for lane in rows.lanes for band in lane.bands),
    )


def _row(lane: Lane, band: Band) -> tuple[Cell, ...]:
    uses = [use.words for use in lane.uses if band.start <= (use.end if use.looks else use.start) < band.end]
    name = f"{lane.name} (control)" if lane.control else lane.name
    return (
        Cell(name, lane.href),
        Cell(band.state),
        Cell(show_elapsed(band.start)),
        Cell("" if band is lane.bands[-1] else show_elapsed(band.end)),
        Cell(band.cause, band.href),
        Cell("; ".join(uses)),
    )


def _key(rows: Rows) -> tuple[KeyLine, ...]:
    uses = [use for lane in rows.lanes for use in lane.uses]
    diamond = svg.path([(15, 2), (21, 8), (15, 14), (9, 8)], "c-verifies", closed=True)
    signs = (
        (bool(rows.lanes), svg.rect(1, 1, 28, 14, "c-state c-state-begun", rx=2), "as the sortie began"),
        (any(not band.begun for lane in rows.lanes for band in lane.bands),
         svg.rect(1, 1, 28, 14, "c-state", rx=2), "changed by a step"),
        (any(use.looks for use in uses), diamond, "somebody confirms it"),
        (any(not use.looks for use in uses), svg.rect(1, 6, 28, 3, "c-need"), "a step relies on it"),
    )  # fmt: skip
    return tuple(KeyLine(svg.sample(drawing), words) for shown, drawing, words in signs if shown)


# Every band has its words and its link in the still, so there is nothing that a live drawing would add.
CHART = ChartKind(
    name="states",
    rows=lambda subject: states_rows(subject.sortie, subject.href),
    head=_head,
    still=still.draw,
    table=_table,
    key=_key,
)
