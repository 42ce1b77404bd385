"""Charts of curves over elapsed time, in panels: what `supplies`, `homeward` and `stopping` have in common."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.charts import svg
from briefgen.charts.chart import Chart, Sign, Table
from briefgen.charts.curves import live, still
from briefgen.charts.curves.rows import Curve, Level, Panel, Rows, thinned
from briefgen.charts.textures import area

__all__ = ["Curve", "Curves", "Level", "Panel", "Rows", "curves_chart", "thinned"]


@dataclass(frozen=True)
class Curves:
    """All that such a chart is drawn from; `beyond` says what the hatched ground means."""

    rows: Rows
    kind: str
    summary: str
    table: Table
    beyond: str


def curves_chart(curves: Curves) -> Chart:
    """The chart of these curves."""
    rows = curves.rows
    drawn = any(panel.curves for panel in rows.panels)
    return Chart(
        id=rows.id,
        kind=curves.kind,
        title=rows.title,
        summary=curves.summary,
        still=still.draw(rows, narrow=False) if drawn else "",
        narrow=still.draw(rows, narrow=True) if drawn else "",
        figure=live.figure(rows) if drawn else {},
        table=curves.table,
        key=tuple(_key(rows, curves.beyond)) if drawn else (),
    )


def _key(rows: Rows, beyond: str) -> list[Sign]:
    curves = {curve.number: curve for panel in rows.panels for curve in panel.curves}
    signs = [
        Sign(
            svg.sample(svg.path([(1, 8), (29, 8)], f"c-curve c-{one.tone}", stroke_dasharray=one.dash[1] or None)),
            one.label,
        )
        for _, one in sorted(curves.items())
    ]
    if any(panel.levels for panel in rows.panels):
        signs.append(Sign(svg.sample(area("reserve", 1, 1, 28, 14)), beyond))
    if rows.signs:
        signs.append(Sign(svg.sample(still.sign(15, 8)), rows.signs))
    if rows.nights:
        signs.append(Sign(svg.sample(area("night", 1, 1, 28, 14)), "night"))
    return signs
