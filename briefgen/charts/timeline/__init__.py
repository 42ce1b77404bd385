"""Who does what, when: a lane a person, with ways, waits, joint steps, holds, the critical chain, slack and limits."""

from __future__ import annotations

from briefgen.charts.chart import Chart, Href
from briefgen.charts.timeline import live, still
from briefgen.charts.timeline.key import key
from briefgen.charts.timeline.rows import Bar, Lane, Rows, Stretch, timeline_rows
from briefgen.charts.timeline.table import table
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration, show_elapsed

__all__ = ["Bar", "Lane", "Rows", "Stretch", "timeline_chart", "timeline_rows"]


def timeline_chart(evidence: SortieEvidence, href: Href) -> Chart:
    """The timeline of one sortie. Raises CircleFound when its order runs in a circle."""
    rows = timeline_rows(evidence, href)
    name = f"timeline-{rows.sortie}"
    drawn = bool(rows.bars)
    return Chart(
        id=name,
        kind="timeline",
        title=f"Timeline: {rows.title}",
        summary=summary(rows),
        still=still.across(rows, name) if drawn else "",
        narrow=still.downwards(rows, f"{name}-down") if drawn else "",
        figure=live.figure(rows, *still.sizes(rows)) if drawn else {},
        table=table(rows),
        key=key(rows),
    )


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
