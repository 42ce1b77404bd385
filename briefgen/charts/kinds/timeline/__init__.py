"""Who does what, when: a lane a person, with ways, waits, joint steps, holds, the critical chain, slack and limits."""

from __future__ import annotations

from briefgen.charts.drawing.sheet import NARROW
from briefgen.charts.kind import ChartKind, Head
from briefgen.charts.kinds.timeline import live, still
from briefgen.charts.kinds.timeline.key import key
from briefgen.charts.kinds.timeline.rows import Bar, Lane, Rows, Stretch, timeline_rows
from briefgen.charts.kinds.timeline.table import table
from briefgen.units import show_duration, show_elapsed

__all__ = ["CHART", "Bar", "Lane", "Rows", "Stretch", "timeline_rows"]


def _id(rows: Rows) -> str:
    return f"timeline-{rows.sortie}"


def _head(rows: Rows) -> Head:
    return Head(_id(rows), f"Timeline: {rows.title}", summary(rows), bool(rows.bars))


def _still(rows: Rows, wide: float) -> str:
    return still.across(rows, _id(rows)) if wide > NARROW else still.downwards(rows, f"{_id(rows)}-down")


def summary(rows: Rows) -> str:
    """What there is to see, in the numbers of the plan."""
    if not rows.bars:
        return "This sortie has no steps."
    left = show_duration(abs(rows.margin))
    margin = f"{left} before the usable length" if rows.margin >= 0 else f"{left} beyond the usable length"
    return (
        f"The last step ends at {show_elapsed(rows.finish)}, {margin} of {show_elapsed(rows.usable)}. {_waiting(rows)}"
    )


def _waiting(rows: Rows) -> str:
    """Who waits outside, for how long."""
    said = []
    for lane in rows.lanes:
        waits = rows.of(lane.number, "wait")
        if waits:
            total = show_duration(sum(bar.seconds for bar in waits))
            times = "once" if len(waits) == 1 else f"{len(waits)} times"
            said.append(f"{lane.person.label_text} waits {times}, {total} in all")
    return "; ".join(said) + "." if said else "Nobody outside waits."


CHART = ChartKind(
    name="timeline",
    rows=lambda subject: timeline_rows(subject.sortie, subject.href),
    head=_head,
    still=_still,
    live=lambda rows: live.figure(rows, *still.sizes(rows)),
    table=table,
    key=key,
)
