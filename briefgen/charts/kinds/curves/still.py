"""Curves over time drawn at build time: panels side by side on a desk, one below the other on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.sheet import NARROW, WIDE
from briefgen.charts.drawing.textures import area
from briefgen.charts.kinds.curves.rows import Curve, Level, Panel, Rows
from briefgen.charts.kinds.timeline.measures import ticks
from briefgen.units import show_number

HIGH, GAP = 210.0, 18.0


@dataclass(frozen=True)
class Frame:
    """A panel's place on the sheet, in pixels, and its scales."""

    left: float
    top: float
    wide: float
    until: float
    panel: Panel
    high: float = HIGH - 62.0

    def x(self, seconds: float) -> float:
        """Where a moment stands, in pixels; seconds since the start go in."""
        return self.left + seconds / self.until * self.wide

    def y(self, value: float) -> float:
        """Where a value stands, in pixels; in the panel's unit."""
        return self.top + self.high - value / self.panel.most * self.high


def sizes(rows: Rows) -> tuple[tuple[float, float], tuple[float, float]]:
    """Width and height of the wide and of the narrow still."""
    count = len(rows.panels)
    return (WIDE, HIGH * ((count + 1) // 2 if count > 1 else 1.35)), (NARROW, HIGH * count)


def draw(rows: Rows, narrow: bool) -> str:
    """The still in one of its two widths."""
    wide, high = sizes(rows)[narrow]
    return svg.drawing(
        wide, high, *(_panel(frame, rows) for frame in frames(rows, narrow)),
        words=rows.title, class_="c-curves",
    )  # fmt: skip


def frames(rows: Rows, narrow: bool) -> Iterator[Frame]:
    """Where each panel stands."""
    (sheet, high), count = sizes(rows)[narrow], len(rows.panels)
    columns = 1 if narrow or count < 2 else 2
    wide = sheet / columns - 76.0 - (GAP if columns > 1 else 0.0)
    for number, panel in enumerate(rows.panels):
        column, row = number % columns, number // columns
        tall = high - 62.0 if count == 1 else HIGH - 62.0
        yield Frame(44.0 + column * sheet / columns, 30.0 + row * HIGH, wide, rows.until, panel, tall)


def _panel(frame: Frame, rows: Rows) -> str:
    panel = frame.panel
    title = svg.label(frame.left, frame.top - 14, f"{panel.title}, {panel.unit}", "c-name")
    return svg.group(
        *_grounds(frame, rows), *_axes(frame), *(_level(level, frame) for level in panel.levels),
        *(_curve(curve, frame) for curve in panel.curves),
        *(sign(frame.x(seconds), frame.y(value)) for seconds, value in panel.signs), *_ends(frame), title,
    )  # fmt: skip


def _grounds(frame: Frame, rows: Rows) -> Iterator[str]:
    for start, end in rows.nights:
        x, end_x = frame.x(start), frame.x(min(end, rows.until))
        yield area("night", x, frame.top, end_x - x, frame.high)


def _axes(frame: Frame) -> Iterator[str]:
    right = frame.left + frame.wide
    for value in frame.panel.ticks():
        yield svg.line(frame.left, frame.y(value), right, frame.y(value), "c-grid")
        yield svg.label(frame.left - 5, frame.y(value) + 4, show_number(value, 2), "c-small c-end")
    for seconds, words in ticks(frame.until, 8):
        yield svg.line(frame.x(seconds), frame.top, frame.x(seconds), frame.top + frame.high, "c-grid")
        yield svg.label(frame.x(seconds), frame.top + frame.high + 14, words, "c-small c-middle")


def _level(level: Level, frame: Frame) -> str:
    y = frame.y(level.value)
    top, high = (y, frame.top + frame.high - y) if level.below else (frame.top, y - frame.top)
    return (
        area("reserve", frame.left, top, frame.wide, high)
        + svg.line(frame.left, y, frame.left + frame.wide, y, "c-limit")
        + svg.label(frame.left + 4, y - 5, level.words, "c-small c-halo")
    )


def _curve(curve: Curve, frame: Frame) -> str:
    points = [(frame.x(seconds), frame.y(value)) for seconds, value in curve.points]
    return svg.path(points, "c-curve", stroke_dasharray=curve.dash[1] or None).replace(
        "c-curve", f"c-curve c-{curve.tone}"
    )


def sign(x: float, y: float) -> str:
    """A point that stands out, by its shape."""
    return svg.path([(x, y - 5), (x + 5, y), (x, y + 5), (x - 5, y)], "c-sign", closed=True)


def _ends(frame: Frame) -> Iterator[str]:
    for curve, x, y in ends(frame):
        yield svg.label(x, y, curve.label, f"c-small c-halo c-{curve.tone} c-curve-name")


def ends(frame: Frame) -> Iterator[tuple[Curve, float, float]]:
    """Where the people's labels stand: at the ends of their curves, moved apart where these meet, above the axis."""
    curves = sorted((one for one in frame.panel.curves if one.person), key=lambda curve: -curve.points[-1][1])
    rows: list[float] = []
    for curve in curves:
        rows.append(max(frame.y(curve.points[-1][1]) + 4, rows[-1] + 13 if rows else frame.top + 7))
    for place in reversed(range(len(rows))):
        rows[place] = min(rows[place], rows[place + 1] - 13 if place + 1 < len(rows) else frame.top + frame.high + 4)
    for curve, row in zip(curves, rows, strict=True):
        yield curve, frame.x(curve.points[-1][0]) + 4, row
