"""When a sortie ends: the finish in many runs with drawn durations, against its limit and its reserve."""

from __future__ import annotations

from briefgen.charts import svg
from briefgen.charts.chart import Cell, Chart, Href, Sign, Table
from briefgen.charts.finish import live, still
from briefgen.charts.finish.rows import Bar, Moment, Rows, finish_rows
from briefgen.charts.sheet import NARROW, WIDE
from briefgen.charts.textures import area
from briefgen.charts.words import plain
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed

__all__ = ["Bar", "Moment", "Rows", "finish_chart", "finish_rows"]


def finish_chart(evidence: SortieEvidence, _: Href) -> Chart:
    """The finish of one sortie. Raises CircleFound when its order runs in a circle."""
    chance, title = evidence.chance, plain(evidence.sortie.title)
    rows = finish_rows(str(evidence.sortie.id), title, chance, evidence.timeline.finish)
    drawn = chance.varies
    return Chart(
        id=f"finish-{rows.sortie}",
        kind="finish",
        title=f"When the sortie ends: {title}",
        summary=summary(evidence, rows),
        still=still.draw(rows, WIDE) if drawn else "",
        narrow=still.draw(rows, NARROW) if drawn else "",
        figure=live.figure(rows) if drawn else {},
        table=_table(rows),
        key=tuple(_key(rows)) if drawn else (),
    )


def summary(evidence: SortieEvidence, rows: Rows) -> str:
    """How many runs, and between which moments nine of ten end."""
    chance = evidence.chance
    if not chance.varies:
        return f"No duration has three points: every run ends at {show_elapsed(chance.finish.seconds[0])}."
    early, middle, late = (show_elapsed(chance.finish.by(share)) for share in (0.05, 0.5, 0.95))
    return (
        f"{rows.runs} runs with durations drawn at random. Half of them end by {middle}, and nine of ten between "
        f"{early} and {late}."
    )


def _table(rows: Rows) -> Table:
    return Table(
        caption=f"When the runs end: {rows.title}, in elapsed time (hours:minutes:seconds)",
        head=("From", "Until", "Runs that end then", "Runs that have ended by then"),
        rows=tuple(_row(bar) for bar in rows.bars),
        numbers=frozenset({1, 2, 3}),
    )


def _row(bar: Bar) -> tuple[Cell, ...]:
    return (
        Cell(show_elapsed(bar.start)),
        Cell(show_elapsed(bar.end)),
        Cell(bar.share.words),
        Cell(bar.by.words),
    )


def _key(rows: Rows) -> list[Sign]:
    signs = [Sign(svg.sample(svg.rect(1, 1, 28, 14, "c-state")), f"share of {rows.runs} runs that end then")]
    if sum(one.limit for one in rows.moments) > 1:
        signs.append(Sign(svg.sample(area("reserve", 1, 1, 28, 14)), "reserve"))
    return signs
