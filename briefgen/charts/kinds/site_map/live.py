"""The site map as a scatter figure that Plotly draws, in the pixels of the still; nothing is fetched for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from briefgen.charts.drawing.marks import colour
from briefgen.charts.drawing.words import for_plotly
from briefgen.charts.interactive.figures import CONFIG
from briefgen.charts.kinds.site_map.layout import DOT, LENGTHS, TURNOVER, Name, Point, Sheet
from briefgen.charts.kinds.site_map.rows import Path, Spot

Trace = dict[str, Any]


def figure(wide: Sheet, narrow: Sheet) -> dict[str, Any]:
    """The figure for both widths; the narrow one stands whole under `tools`."""
    return {
        "data": list(_data(wide)), "layout": _layout(wide), "config": dict(CONFIG),
        "tools": {
            "fit": (wide.wide, wide.high), "drag": "pan", "zoom": True, "turnover": TURNOVER,
            "narrow": {"figure": {"data": list(_data(narrow)), "layout": _layout(narrow)},
                       "fit": (narrow.wide, narrow.high)},
        },
    }  # fmt: skip


def _data(sheet: Sheet) -> Iterator[Trace]:
    points = sheet.points
    yield _lines([(points[one], points[other]) for one, other in sheet.rows.rides], "rides", "soft", 1.5, "dot")
    yield _lines([sheet.ends(path) for path in sheet.rows.paths], "rims", "edge", 5)
    safe = [sheet.ends(path) for path in sheet.rows.paths if not path.hazards]
    yield _lines(safe, "routes", "sunk", 2.4)
    yield _lines([sheet.ends(path) for path in sheet.rows.paths if path.hazards], "risky", "sunk", 2.4, "dash")
    yield _routes(sheet)
    yield _arrows(sheet)
    yield _texts([(x, y, path.length, "center") for path, (x, y) in sheet.lengths], "lengths", LENGTHS, "soft")
    yield _anchors(sheet)
    yield _spots(sheet)
    yield _hazards(sheet)
    yield _texts([_lettering(name) for name in sheet.names], "names", sheet.style.text, "ink")


def _lines(pairs: Iterable[tuple[Point, Point]], name: str, ink: str, wide: float, dash: str = "solid") -> Trace:
    points = [point for one, other in pairs for point in (one, other, (None, None))]
    return {
        "type": "scatter", "mode": "lines", "name": name, "showlegend": False, "hoverinfo": "skip", "meta": {},
        "x": [x for x, _ in points], "y": [y for _, y in points],
        "line": {"color": colour(ink), "width": wide, "dash": dash},
    }  # fmt: skip


def _routes(sheet: Sheet) -> Trace:
    """The middles of the routes: what to hover over. Nothing is seen of them but the triangle of a hazard."""
    paths = sheet.rows.paths
    points = [sheet.middle(path, sheet.where_hazard(path)) for path in paths]
    return {
        "type": "scatter", "mode": "markers", "name": "routes", "showlegend": False, "meta": {},
        "x": [x for x, _ in points], "y": [y for _, y in points],
        "marker": {"size": 11, "opacity": [1 if path.hazards else 0 for path in paths], "color": colour("danger"),
                   "symbol": "triangle-up", "line": {"color": colour("paper"), "width": 1}},
        "customdata": [[path.href, for_plotly(path.name), _measured(path), _listed(path.hazards)] for path in paths],
        "hovertemplate": "<b>%{customdata[1]}</b><br>%{customdata[2]}%{customdata[3]}<extra></extra>",
    }  # fmt: skip


def _measured(path: Path) -> str:
    return for_plotly(" · ".join(filter(None, (path.length, path.time))))


def _arrows(sheet: Sheet) -> Trace:
    paths = [path for path in sheet.rows.paths if path.one_way]
    marker = {"symbol": "triangle-up", "size": 10, "color": colour("ink"), "opacity": 1,
              "angle": [round(sheet.degrees(path) + 90, 1) for path in paths],
              "line": {"color": colour("paper"), "width": 1}}  # fmt: skip
    return _marks([sheet.middle(path, 0.72) for path in paths], "one way", marker)


def _lettering(name: Name) -> tuple[float, float, str, str]:
    """Where a name stands, its markup, and which edge of it is at the point."""
    left, top, right, bottom = name.area
    side = name.side.split()[-1]
    x = {"right": left - 3, "left": right + 3, "center": (left + right) / 2}[side]
    words = "<br>".join(map(for_plotly, name.lines))
    return x, (top + bottom) / 2, f"<b>{words}</b>" if name.number else words, side


def _texts(points: Sequence[tuple[float, float, str, str]], name: str, size: float, ink: str) -> Trace:
    return {
        "type": "scatter", "mode": "text", "name": name, "showlegend": False, "hoverinfo": "skip", "meta": {},
        "x": [x for x, _, _, _ in points], "y": [y for _, y, _, _ in points],
        "text": [words for _, _, words, _ in points],
        "textposition": [f"middle {side}" for _, _, _, side in points], "cliponaxis": False,
        "textfont": {"size": size, "color": colour(ink)},
    }  # fmt: skip


def _listed(words: Sequence[str]) -> str:
    return "".join(f"<br>{for_plotly(one)}" for one in words)


def _spots(sheet: Sheet) -> Trace:
    spots = sheet.rows.spots
    return {
        "type": "scatter", "mode": "markers", "name": "places", "showlegend": False, "meta": {"steps": True},
        "x": [sheet.points[spot.id][0] for spot in spots], "y": [sheet.points[spot.id][1] for spot in spots],
        "marker": {"size": [2 * DOT if spot.home else 2 * DOT - 4 for spot in spots], "opacity": 1,
                   "symbol": ["square" if spot.home else "circle" for spot in spots],
                   "color": [colour("ink" if spot.home else "paper") for spot in spots],
                   "line": {"color": colour("ink"), "width": 2}},
        "ids": [spot.id for spot in spots], "customdata": [_about(spot) for spot in spots],
        "hovertemplate": "<b>%{customdata[1]}</b>%{customdata[2]}<extra></extra>",
    }  # fmt: skip


def _about(spot: Spot) -> list[str]:
    return [spot.href, for_plotly(spot.name), _listed([*spot.facts, *spot.hazards])]


def _anchors(sheet: Sheet) -> Trace:
    points = [sheet.points[spot.id] for spot in sheet.rows.spots if spot.anchor]
    marker = {
        "symbol": "diamond-open",
        "size": 2 * DOT + 4,
        "color": colour("link"),
        "opacity": 1,
        "line": {"width": 2},
    }
    return _marks(points, "anchors", marker)


def _hazards(sheet: Sheet) -> Trace:
    points = [sheet.points[spot.id] for spot in sheet.rows.spots if spot.hazards]
    marker = {"symbol": "triangle-up", "size": 11, "color": colour("danger"), "opacity": 1,
              "line": {"color": colour("paper"), "width": 1}}  # fmt: skip
    return _marks([(x + 8, y - 8) for x, y in points], "hazards", marker)


def _marks(points: Sequence[Point], name: str, marker: dict[str, Any]) -> Trace:
    return {
        "type": "scatter", "mode": "markers", "name": name, "showlegend": False, "hoverinfo": "skip", "meta": {},
        "x": [x for x, _ in points], "y": [y for _, y in points], "marker": marker,
    }  # fmt: skip


def _layout(sheet: Sheet) -> dict[str, Any]:
    return {
        "showlegend": False, "hovermode": "closest", "hoverdistance": 24,
        "font": {"family": colour("sans"), "color": colour("ink"), "size": sheet.style.text},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": colour("sans"), "color": colour("ink"), "size": 13}},
        "xaxis": {"range": [0, sheet.wide], "visible": False}, "yaxis": {"range": [sheet.high, 0], "visible": False},
    }  # fmt: skip
