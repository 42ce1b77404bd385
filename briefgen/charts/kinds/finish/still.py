"""The finish drawn at build time: a bar for each stretch of time, the limits as lines across."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.sheet import NARROW
from briefgen.charts.drawing.textures import area
from briefgen.charts.drawing.words import width
from briefgen.charts.kinds.finish.rows import Bar, Rows
from briefgen.charts.kinds.timeline.measures import ticks
from briefgen.units import show_elapsed, show_number

HIGH, HEAD, FOOT, LEFT, RIGHT = 250.0, 62.0, 34.0, 42.0, 14.0


@dataclass(frozen=True)
class Frame:
    """The sheet in pixels, and its scales: seconds across, shares (0 to 1) upwards."""

    sheet: float
    rows: Rows
    high: float = HIGH

    @property
    def bottom(self) -> float:
        """The foot of the bars, in pixels."""
        return self.high - FOOT

    def x(self, seconds: float) -> float:
        """Where a moment stands, in pixels; seconds since the start go in."""
        span = self.rows.until - self.rows.begin
        return LEFT + (seconds - self.rows.begin) / span * (self.sheet - LEFT - RIGHT)

    def y(self, share: float) -> float:
        """The top of a bar, in pixels; a share of the runs goes in."""
        return self.bottom - share / (self.rows.most * 1.06) * (self.bottom - HEAD)


def draw(rows: Rows, wide: float) -> str:
    """The chart as SVG at a width."""
    frame = Frame(wide, rows)
    return svg.drawing(
        wide, frame.high, *_axes(frame), _reserve(frame), *(_bar(bar, frame) for bar in rows.bars), *_moments(frame),
        words=f"When the runs end: {rows.title}", class_="c-curves",
    )  # fmt: skip


def share_ticks(most: float) -> tuple[float, ...]:
    """Round shares up to the highest bar: steps of 1, 2, 5, 10, 20 or 50 %."""
    step = next(step for step in (0.01, 0.02, 0.05, 0.1, 0.2, 0.5) if most / step <= 5)
    return tuple(step * count for count in range(int(most / step + 1e-9) + 1))


def time_ticks(rows: Rows, most: int) -> tuple[tuple[float, str], ...]:
    """Whole steps of elapsed time within the axis."""
    span = rows.until - rows.begin
    step = ticks(span, most)[1][0] if len(ticks(span, most)) > 1 else span
    first = int(rows.begin // step) + 1
    marks = (number * step for number in range(first, int(rows.until // step) + 1))
    return tuple((mark, show_elapsed(mark).rpartition(":")[0]) for mark in marks)


def _axes(frame: Frame) -> Iterator[str]:
    right = frame.sheet - RIGHT
    for share in share_ticks(frame.rows.most):
        yield svg.line(LEFT, frame.y(share), right, frame.y(share), "c-grid")
        yield svg.label(LEFT - 5, frame.y(share) + 4, f"{show_number(100 * share, 0)} %", "c-small c-end")
    for seconds, words in time_ticks(frame.rows, 6 if frame.sheet <= NARROW else 12):
        yield svg.line(frame.x(seconds), frame.bottom, frame.x(seconds), frame.bottom + 4, "c-edge")
        yield svg.label(frame.x(seconds), frame.bottom + 17, words, "c-small c-middle")
    yield svg.label(LEFT, frame.high - 2, "elapsed time, h:mm", "c-small c-soft")


def _reserve(frame: Frame) -> str:
    """The reserve as hatched ground."""
    limits = [one.seconds for one in frame.rows.moments if one.limit]
    x = frame.x(limits[0])
    return area("reserve", x, HEAD, frame.x(limits[-1]) - x, frame.bottom - HEAD) if len(limits) > 1 else ""


def _bar(bar: Bar, frame: Frame) -> str:
    x, y = frame.x(bar.start), frame.y(bar.share.value)
    hint = f"{show_elapsed(bar.start)} to {show_elapsed(bar.end)}: {bar.share.words}"
    shape = svg.rect(x + 0.5, y, frame.x(bar.end) - x - 1, frame.bottom - y, "c-state")
    return svg.link("", shape, title=hint if frame.sheet > NARROW else "") if bar.share.hits else ""


def _moments(frame: Frame) -> Iterator[str]:
    """The lines; each name stands on a row of its own, on the side where there is room."""
    for number, one in enumerate(frame.rows.moments):
        x, y = frame.x(one.seconds), 14.0 + 16 * number
        words = f"{one.words} {show_elapsed(one.seconds)}"
        left = x + 4 + width(words, 12) > frame.sheet
        yield svg.line(x, y - 8, x, frame.bottom, "c-limit" if one.limit else "c-finish")
        yield svg.label(x - 4 if left else x + 4, y + 2, words, f"c-small c-halo{' c-end' if left else ''}")
