"""Places by their map coordinates, the routes between them with their lengths, anchors, home and hazards."""

from __future__ import annotations

from briefgen.charts.chart import Cell, Chart, Href, Table
from briefgen.charts.site_map import live, still
from briefgen.charts.site_map.key import key
from briefgen.charts.site_map.layout import NARROW, WIDE, Sheet, lay_out
from briefgen.charts.site_map.rows import Path, Rows, Spot, map_rows
from briefgen.model.library import Library

__all__ = ["NARROW", "WIDE", "Path", "Rows", "Sheet", "Spot", "lay_out", "map_rows", "site_map_chart"]


def site_map_chart(library: Library, href: Href) -> Chart:
    """The map of all places that have coordinates."""
    return draw_map(map_rows(library, href), "map", "Map of the worksites")


def draw_map(rows: Rows, name: str, title: str) -> Chart:
    """The chart of map rows; `name` becomes its id."""
    wide, narrow = lay_out(rows, WIDE), lay_out(rows, NARROW)
    drawn = bool(rows.spots)
    return Chart(
        id=name,
        kind="map",
        title=title,
        summary=summary(rows),
        still=still.draw(wide) if drawn else "",
        narrow=still.draw(narrow) if drawn else "",
        figure=live.figure(wide, narrow) if drawn else {},
        table=_table(rows),
        key=key(rows),
    )


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
        caption="Places, what they offer, and the routes that leave them",
        head=("Place", "Offers", "Hazards", "Routes"),
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
