"""What the signs of the site map stand for: only those that it shows."""

from __future__ import annotations

from briefgen.charts.chart import KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.kinds.site_map.layout import NARROW, lay_out
from briefgen.charts.kinds.site_map.rows import Rows
from briefgen.charts.kinds.site_map.still import hazard, tag_arrow


def key(rows: Rows) -> tuple[KeyLine, ...]:
    """The key of the map."""
    spots, paths = rows.spots, rows.paths
    risky = any(path.hazards for path in paths) or any(spot.hazards for spot in spots)
    line = svg.line(1, 8, 29, 8, "c-route-rim")
    signs = (
        (any(spot.home for spot in spots), svg.rect(9, 2, 12, 12, "c-home", rx=1), "home"),
        (any(spot.anchor for spot in spots),
         svg.path([(15, 0), (23, 8), (15, 16), (7, 8)], "c-anchor", closed=True)
         + svg.tag("circle", cx=15, cy=8, r=3, class_="c-spot"), "takes a safety tether"),
        (bool(paths), line + svg.line(1, 8, 29, 8, "c-route"), "route, with its length"),
        (any(path.hazards for path in paths), line + svg.line(1, 8, 29, 8, "c-route c-risky"), "route with a hazard"),
        (any(path.one_way for path in paths), line + tag_arrow(15, 8, "0"), "one way only"),
        (bool(rows.rides), svg.line(1, 8, 29, 8, "c-ride"), "ride: a step brings people there"),
        (risky, hazard(15, 8), "hazard"),
    )  # fmt: skip
    numbered = [name for name in lay_out(rows, NARROW).names if name.number]
    return (
        *(KeyLine(svg.sample(drawing), words) for shown, drawing, words in signs if shown),
        *(KeyLine(svg.sample(_number(name.number)), name.spot.name, narrow=True) for name in numbered),
    )


def _number(number: str) -> str:
    return svg.label(15, 13, number, "c-place c-number c-middle")
