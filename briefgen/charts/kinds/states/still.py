"""The states chart drawn at build time."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.sheet import NARROW, SMALL
from briefgen.charts.drawing.words import clip, width
from briefgen.charts.kinds.states.layout import BAND, BAND_HIGH, HEAD, NAME, NEED, Frame
from briefgen.charts.kinds.states.rows import Band, Lane, Rows, Use
from briefgen.charts.kinds.timeline.measures import ticks


def draw(rows: Rows, wide: float) -> str:
    """The chart as SVG at a width."""
    frame = Frame(wide, rows.until, len(rows.lanes))
    return svg.drawing(
        wide, frame.high, *_axis(frame),
        *(_lane(lane, number, frame) for number, lane in enumerate(rows.lanes)),
        words=f"States of equipment over time: {rows.title}", class_="c-states",
    )  # fmt: skip


def _axis(frame: Frame) -> Iterator[str]:
    for seconds, words in ticks(frame.until, 14 if frame.wide > 600 else 8):
        yield svg.line(frame.x(seconds), HEAD - 6, frame.x(seconds), frame.high, "c-grid")
        place = "c-small c-middle" if seconds else "c-small"
        yield svg.label(frame.x(seconds), HEAD - 12, words, place)


def _lane(lane: Lane, number: int, frame: Frame) -> str:
    top = frame.y(number)
    name = svg.label(frame.left, top + NAME, lane.name, "c-name")
    if lane.control:
        name += svg.label(frame.left + width(lane.name, 14.2) + 8, top + NAME, "control", "c-small c-soft")
    bands = (_band(band, frame, frame.y(number, BAND)) for band in lane.bands)
    uses = (_use(use, frame, number) for use in sorted(lane.uses, key=lambda use: use.looks))
    # The table names them all.
    return svg.link(lane.href, name) + svg.group(*bands, *uses, aria_hidden="true")


def _band(band: Band, frame: Frame, y: float) -> str:
    x, wide = frame.x(band.start), frame.x(band.end) - frame.x(band.start)
    shape = svg.rect(x, y, wide, BAND_HIGH, "c-state c-state-begun" if band.begun else "c-state", rx=2)
    words = svg.label(
        x + 4, y + 11.5, clip(band.state, wide - 6, SMALL), "c-small" if band.begun else "c-small c-on-state"
    )
    return svg.link(band.href, shape, words, title=_hint(f"{band.state}: {band.cause}", frame), tabindex=-1)


def _use(use: Use, frame: Frame, number: int) -> str:
    if use.looks:
        x, y = frame.x(use.end), frame.y(number, BAND) - 3
        shape = svg.path([(x, y - 5), (x + 5, y), (x, y + 5), (x - 5, y)], "c-verifies c-rimmed", closed=True)
    else:
        x, wide = frame.x(use.start), max(1.5, frame.x(use.end) - frame.x(use.start))
        shape = svg.rect(x, frame.y(number, NEED) - 1.5, wide, 3, "c-need")
    return svg.link(use.href, shape, title=_hint(use.words, frame), tabindex=-1)


def _hint(words: str, frame: Frame) -> str:
    """Words to hover over; a finger hovers over nothing, so the narrow still does without them."""
    return words if frame.wide > NARROW else ""
