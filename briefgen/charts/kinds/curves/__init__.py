"""Charts of curves over elapsed time, in panels: what `supplies`, `homeward` and `stopping` have in common."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from briefgen.charts.chart import Href, KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.drawing.sheet import NARROW
from briefgen.charts.drawing.textures import area
from briefgen.charts.kind import ChartKind, Head
from briefgen.charts.kinds.curves import live, still
from briefgen.charts.kinds.curves.rows import Curve, Level, Panel, Rows, thinned
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.table import Table

__all__ = ["Curve", "Curves", "Level", "Panel", "Rows", "curves_kind", "thinned"]


@dataclass(frozen=True)
class Curves:
    """All that such a chart is drawn from; `beyond` says what the hatched ground means."""

    rows: Rows
    summary: str
    table: Table
    beyond: str


def curves_kind(name: str, make: Callable[[SortieEvidence, Href], Curves]) -> ChartKind[Curves]:
    """A kind of chart whose curves `make` computes from a sortie's evidence."""
    return ChartKind(
        name=name,
        rows=lambda subject: make(subject.sortie, subject.href),
        head=_head,
        still=lambda curves, wide: still.draw(curves.rows, narrow=wide <= NARROW),
        live=lambda curves: live.figure(curves.rows),
        table=lambda curves: curves.table,
        key=_key,
    )


def _head(curves: Curves) -> Head:
    rows = curves.rows
    return Head(rows.id, rows.title, curves.summary, any(panel.curves for panel in rows.panels))


def _key(curves: Curves) -> tuple[KeyLine, ...]:
    rows = curves.rows
    by_number = {curve.number: curve for panel in rows.panels for curve in panel.curves}
    signs = [KeyLine(_sample(curve), curve.label) for _, curve in sorted(by_number.items())]
    if any(panel.levels for panel in rows.panels):
        signs.append(KeyLine(svg.sample(area("reserve", 1, 1, 28, 14)), curves.beyond))
    if rows.signs:
        signs.append(KeyLine(svg.sample(still.sign(15, 8)), rows.signs))
    if rows.nights:
        signs.append(KeyLine(svg.sample(area("night", 1, 1, 28, 14)), "night"))
    return tuple(signs)


def _sample(curve: Curve) -> str:
    return svg.sample(svg.path([(1, 8), (29, 8)], f"c-curve c-{curve.tone}", stroke_dasharray=curve.dash[1] or None))
