"""Places by their map coordinates, the routes between them with their lengths, anchors, home and hazards."""

from __future__ import annotations

from briefgen.charts.kind import ChartKind, Head
from briefgen.charts.kinds.site_map import live, still
from briefgen.charts.kinds.site_map.key import key
from briefgen.charts.kinds.site_map.layout import NARROW, WIDE, Sheet, lay_out
from briefgen.charts.kinds.site_map.rows import Path, Rows, Spot, map_rows
from briefgen.tables.table import Cell, Table, headed

__all__ = ["CHART", "NARROW", "WIDE", "Path", "Rows", "Sheet", "Spot", "lay_out", "map_rows"]


def _head(rows: Rows) -> Head:
    return Head("map", "Map of the worksites", summary(rows), bool(rows.spots))


def summary(rows: Rows) -> str:
    """How many places and routes, and how many anchors."""
    if not rows.spots:
        return "No place has map coordinates."
    anchors = sum(spot.anchor for spot in rows.spots)
    risky = sum(bool(path.hazards) for path in rows.paths)
    return (
        f"{len(rows.spots)} places joined by {len(rows.paths)} routes; {anchors} places take a safety tether; "
        f"{risky} routes pass a hazard."
    )


def _table(rows: Rows) -> Table:
    names = {spot.id: spot.name for spot in rows.spots}
    return Table(
        name="map",
        title="Places, what they offer, and the routes that leave them",
        columns=headed("Place", "Offers", "Hazards", "Routes"),
        rows=tuple(_row(spot, rows, names) for spot in rows.spots),
    )


def _row(spot: Spot, rows: Rows, names: dict[str, str]) -> tuple[Cell, ...]:
    routes = (f"{names[other]} {path.length}{_warned(path)}" for other, path in rows.paths_of(spot.id))
    return (
        Cell(spot.name, spot.href),
        Cell("; ".join(spot.facts)),
        Cell("; ".join(spot.hazards)),
        Cell("; ".join(routes)),
    )


def _warned(path: Path) -> str:
    said = [path.time] if path.time else []
    said += ["one way"] if path.one_way else []
    said += path.hazards
    return f" ({', '.join(said)})" if said else ""


CHART = ChartKind(
    name="map",
    rows=lambda subject: map_rows(subject.library, subject.href),
    head=_head,
    still=lambda rows, wide: still.draw(lay_out(rows, WIDE if wide > NARROW.wide else NARROW)),
    live=lambda rows: live.figure(lay_out(rows, WIDE), lay_out(rows, NARROW)),
    table=_table,
    key=key,
)
