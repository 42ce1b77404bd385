"""The site map drawn at build time."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.charts.drawing import svg
from briefgen.charts.kinds.site_map.layout import DOT, Name, Sheet
from briefgen.charts.kinds.site_map.rows import Path, Spot


def draw(sheet: Sheet) -> str:
    """The map as SVG."""
    return svg.drawing(
        sheet.wide, sheet.high,
        *(svg.line(*sheet.points[one], *sheet.points[other], "c-ride") for one, other in sheet.rows.rides),
        *(_path(path, sheet) for path in sheet.rows.paths),
        *(svg.label(x, y + 4, path.length, "c-length c-middle c-halo") for path, (x, y) in sheet.lengths),
        *(_spot(spot, sheet) for spot in sheet.rows.spots),
        *(_name(name, sheet) for name in sheet.names),
        words="Map of the worksites and the routes between them", class_="c-map",
    )  # fmt: skip


def _path(path: Path, sheet: Sheet) -> str:
    (x0, y0), (x1, y1) = sheet.ends(path)
    name = "c-route c-risky" if path.hazards else "c-route"
    shapes = svg.line(x0, y0, x1, y1, "c-route-rim") + svg.line(x0, y0, x1, y1, name) + "".join(_signs(path, sheet))
    told = f"{path.name}, {path.length}" + (f", {path.time}" if path.time else "")
    return svg.link(path.href, shapes, title=". ".join([told, *path.hazards]), tabindex=-1)


def _signs(path: Path, sheet: Sheet) -> Iterator[str]:
    if path.one_way:
        yield tag_arrow(*sheet.middle(path, 0.72), svg.number(sheet.degrees(path)))
    if path.hazards:
        yield hazard(*sheet.middle(path, sheet.where_hazard(path)))


def tag_arrow(x: float, y: float, turn: str) -> str:
    """The head of an arrow along a one-way route."""
    place = f"translate({svg.number(x)} {svg.number(y)}) rotate({turn})"
    return svg.path([(6, 0), (-5, -5), (-5, 5)], "c-oneway", closed=True, transform=place)


def hazard(x: float, y: float) -> str:
    """The triangle that marks a hazard."""
    return svg.path([(x, y - 6), (x + 6.5, y + 5), (x - 6.5, y + 5)], "c-hazard c-rimmed", closed=True)


def _spot(spot: Spot, sheet: Sheet) -> str:
    x, y = sheet.points[spot.id]
    shapes = ""
    if spot.anchor:
        shapes += svg.path(
            [(x, y - DOT - 5), (x + DOT + 5, y), (x, y + DOT + 5), (x - DOT - 5, y)], "c-anchor", closed=True
        )
    if spot.home:
        shapes += svg.rect(x - DOT, y - DOT, 2 * DOT, 2 * DOT, "c-home", rx=1)
    else:
        shapes += svg.tag("circle", cx=x, cy=y, r=DOT - 2, class_="c-spot")
    if spot.hazards:
        shapes += hazard(x + 8, y - 8)
    told = ". ".join([spot.name, *spot.facts, *spot.hazards])
    return svg.link(spot.href, shapes, svg.rect(x - 12, y - 12, 24, 24, "c-target"), title=told)


def _name(name: Name, sheet: Sheet) -> str:
    left, top, right, _ = name.area
    size = sheet.style.text
    side = name.side.split()[-1]
    x, anchor = {"right": (left, ""), "left": (right, " c-end"), "center": ((left + right) / 2, " c-middle")}[side]
    return svg.lines(
        x, top + size * 0.95, name.lines, size * 1.2, f"c-place c-halo{anchor}" + (" c-number" if name.number else "")
    )
