"""What people and ways are drawn over: the author's drawing of the site, or else the plain map of places and routes.

Points are in hundredths of the ground's width and height, so that marks keep their size whatever the screen's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from briefgen.charts.kinds.site_map import WIDE, lay_out, map_rows
from briefgen.charts.kinds.site_map.still import draw
from briefgen.pages.context import PageContext

Point = tuple[float, float]


@dataclass(frozen=True)
class Ground:
    """A picture (`source`) or a drawing (`svg`) with the point of every place that is on it."""

    source: str
    svg: str
    alt: str
    width: int
    height: int
    points: Mapping[str, Point]


def ground_of(context: PageContext) -> Ground | None:
    """The ground of the site's map: the programme's first drawing with places on it; None where there is neither."""
    return context.once("ground", lambda: _drawing(context) or _plain_map(context))


def _drawing(context: PageContext) -> Ground | None:
    programme = context.library.programme
    for entry in programme.map if programme else ():
        if str(entry.figure) in context.library.figures:
            ground = figure_ground(context, str(entry.figure))
            if ground.points:
                return ground
    return None


def figure_ground(context: PageContext, figure: str, *, fitted: bool = True) -> Ground:
    """A figure as a ground: its callouts that show places say where these are.

    `fitted`: it is drawn like a map, so that other places have their points on it, too.
    """
    record = context.library.figures[figure]
    size = context.pictures.size(record.still)
    points: dict[str, Point] = {}
    for callout in record.callouts.values():
        kind, _, identifier = str(callout.shows).partition(":")
        if kind == "place" and identifier in context.library.places:
            points.setdefault(identifier, (100 * float(callout.at[0]), 100 * float(callout.at[1])))
    others = _fitted(context, points) if fitted else {}
    source = context.links.picture(record.still)
    return Ground(source, "", context.texts.plain(record.alt), size.width, size.height, points | others)


def _fitted(context: PageContext, points: Mapping[str, Point]) -> dict[str, Point]:
    """Points for the places that have no callout, from their coordinates on the map.

    The affine map that fits the places with both best (least squares), which needs three of them; nothing is drawn
    where it lies off the picture.
    """
    placed = {name: place.map for name, place in context.library.places.items() if place.map}
    known = [name for name in points if name in placed]
    if len(known) < 3:
        return {}
    import numpy as np  # takes long to import, and only few sites ask

    coordinates = np.array([[*placed[name], 1.0] for name in known])
    fit, _, rank, _ = np.linalg.lstsq(coordinates, np.array([points[name] for name in known]), rcond=None)
    if rank < 3:
        return {}
    found = {name: np.array([*xy, 1.0]) @ fit for name, xy in placed.items() if name not in points}
    return {name: (float(x), float(y)) for name, (x, y) in found.items() if 0 <= x <= 100 and 0 <= y <= 100}


def _plain_map(context: PageContext) -> Ground | None:
    rows = map_rows(context.library, lambda *_: "")
    if not rows.spots:
        return None
    sheet = lay_out(rows, WIDE)
    points = {name: (100 * x / sheet.wide, 100 * y / sheet.high) for name, (x, y) in sheet.points.items()}
    return Ground(
        "",
        draw(sheet),
        "Map of the worksites and the routes between them",
        round(sheet.wide),
        round(sheet.high),
        points,
    )
