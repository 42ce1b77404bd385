"""The timeline drawn at build time: across for a desk or paper, downwards for a phone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.marks import pattern_word, token, tone
from briefgen.charts.drawing.sheet import NARROW, SMALL, WIDE
from briefgen.charts.drawing.textures import area, texture
from briefgen.charts.drawing.words import clip, fit, width
from briefgen.charts.kinds.timeline.measures import (
    BARS,
    BARS_DOWN,
    RAIL,
    RAIL_DOWN,
    SLIM,
    SLIM_DOWN,
    TITLE,
    TITLE_DOWN,
    Strip,
    chain_pieces,
    limits,
    ticks,
)
from briefgen.charts.kinds.timeline.rows import Bar, Lane, Rows, Stretch
from briefgen.units import show_elapsed

_TEXT, LEADING, LANE = 12.5, 12.8, 92.0


@dataclass(frozen=True)
class Frame:
    """How seconds and lanes become a drawing. `down`: time runs down instead of to the right."""

    id: str
    rows: Rows
    down: bool
    length: float
    lane: float
    head: float
    side: float

    def along(self, seconds: float) -> float:
        """How far along the time axis a moment stands, in pixels; seconds since the start go in."""
        return self.head + seconds / self.rows.until * self.length

    def across(self, lane: float, strip: float = 0.0) -> float:
        """How far across the lanes a strip of one begins, in pixels."""
        return self.side + (lane + strip) * self.lane

    def box(
        self, lane: int, strip: Strip, start: float, end: float, least: float = 0.0
    ) -> tuple[float, float, float, float]:
        """x, y, width, height of a stretch of time in a strip of a lane."""
        a, b = self.along(start), self.along(end)
        long = max(b - a, least)
        c, wide = self.across(lane, strip.begins), strip.wide * self.lane
        return (c, a, wide, long) if self.down else (a, c, long, wide)

    def at(self, across: float, along: float) -> tuple[float, float]:
        """A point of the sheet: the time axis runs down or to the right."""
        return (across, along) if self.down else (along, across)

    @property
    def ends(self) -> float:
        """Where the last lane ends, in pixels."""
        return self.across(len(self.rows.lanes))


def sizes(rows: Rows) -> tuple[tuple[float, float], tuple[float, float]]:
    """Width and height of the wide and of the narrow still."""
    lanes = max(1, len(rows.lanes))
    return (WIDE, 40.0 + LANE * lanes + 54.0), (NARROW, 62.0 + _down_length(rows) + 6.0)


def _down_length(rows: Rows) -> float:
    return max(420.0, rows.until / 60 * 3.2)


def across(rows: Rows, prefix: str) -> str:
    """The wide still: time runs to the right, a lane a person."""
    frame = Frame(prefix, rows, False, WIDE - 84.0, LANE, 78.0, 40.0)
    foot = frame.ends + 8
    return svg.drawing(
        *sizes(rows)[0], *_shared(frame, foot), *(_lane_label(lane, frame) for lane in rows.lanes),
        words=f"Timeline of {rows.title}, time runs to the right", class_="c-timeline",
    )  # fmt: skip


def downwards(rows: Rows, prefix: str) -> str:
    """The narrow still: time runs down, a column a person."""
    frame = Frame(prefix, rows, True, _down_length(rows), (NARROW - 46.0) / max(1, len(rows.lanes)), 62.0, 36.0)
    return svg.drawing(
        *sizes(rows)[1], *_shared(frame, 0.0), *(_lane_head(lane, frame) for lane in rows.lanes),
        words=f"Timeline of {rows.title}, time runs down", class_="c-timeline",
    )  # fmt: skip


def _shared(frame: Frame, foot: float) -> Iterator[str]:
    rows = frame.rows
    yield svg.group(*_grounds(frame))
    yield svg.group(*_axis(frame))
    yield svg.group(*(_joint(bar, frame) for bar in rows.bars if bar.together and bar.lane == bar.together[0]))
    for lane in rows.lanes:
        yield svg.group(*_lane(lane, frame), class_=f"c-{tone(lane.person)}")
    yield svg.group(*(_hold(bar, frame) for bar in rows.bars if bar.cause))
    yield _chain(frame)
    yield svg.group(*(_stretch_title(stretch, frame) for stretch in rows.stretches), class_="c-titles")
    yield svg.group(*_limits(frame, foot))


def _grounds(frame: Frame) -> Iterator[str]:
    """Nights, the reserve, and the line under each lane."""
    rows = frame.rows
    lanes = Strip(0, len(rows.lanes))
    for start, end in rows.nights:
        yield area("night", *frame.box(0, lanes, start, end))
        yield _word_of_ground(frame, start, end, "night")
    yield area("reserve", *frame.box(0, lanes, rows.usable, rows.length))
    yield _word_of_ground(frame, rows.usable, rows.length, "reserve")
    for lane in range(len(rows.lanes) + 1):
        spot = frame.across(lane)
        yield svg.line(*frame.at(spot, frame.along(0)), *frame.at(spot, frame.along(rows.until)), "c-edge")


def _word_of_ground(frame: Frame, start: float, end: float, words: str) -> str:
    """The word for a shaded time: in the last lane's foot, or down the last column's edge."""
    middle = frame.along((start + end) / 2)
    if width(words, SMALL) > frame.along(end) - frame.along(start):
        return ""
    if frame.down:
        return svg.label(frame.ends + 7, middle, words, "c-small c-middle c-soft c-downwards")
    spot = frame.ends - 3 if words == "night" else frame.side + 13
    return svg.label(middle, spot, words, "c-small c-middle c-halo")


def _axis(frame: Frame) -> Iterator[str]:
    for seconds, words in ticks(frame.rows.until):
        spot = frame.along(seconds)
        yield svg.line(*frame.at(frame.side, spot), *frame.at(frame.ends, spot), "c-grid")
        if frame.down:
            yield svg.label(frame.side - 5, spot + 4, words, "c-small c-end")
        else:
            yield svg.label(spot, frame.side - 7, words, "c-small c-middle")


def _lane_label(lane: Lane, frame: Frame) -> str:
    person, top = lane.person, frame.across(lane.number)
    mark = svg.group(token(person, 18), transform=f"translate(13 {svg.number(top + 29)})")
    names = svg.label(28, top + 27, person.label_text, "c-name") + svg.label(
        28, top + 41, clip(str(person.callsign or person.post), 48, SMALL), "c-small"
    )
    word = svg.label(4, top + 58, clip(pattern_word(person), 72, SMALL), "c-small")
    return svg.link(lane.href, mark, names, word, title=person.name or person.label_text)


def _lane_head(lane: Lane, frame: Frame) -> str:
    person, left = lane.person, frame.across(lane.number)
    room = frame.lane - 6
    mark = svg.group(token(person, 16), transform=f"translate({svg.number(left + 12)} 16)")
    names = svg.label(left + 24, 20, clip(person.label_text, room - 20, _TEXT), "c-name") + svg.label(
        left + 4, 37, clip(str(person.callsign or ""), room, SMALL), "c-small"
    )
    word = svg.label(left + 4, 51, clip(pattern_word(person), room, SMALL), "c-small")
    return svg.link(lane.href, mark, names, word, title=person.name or person.label_text)


def _lane(lane: Lane, frame: Frame) -> Iterator[str]:
    rows = frame.rows
    for stretch in rows.stretches:
        if stretch.lane == lane.number:
            yield _stretch(stretch, frame)
    bars = (_bar(bar, frame) for bar in rows.of(lane.number, "way", "wait", "standby", "step"))
    # Hundreds of links without words: the table names them all.
    yield svg.group(*bars, aria_hidden="true")


def _stretch(stretch: Stretch, frame: Frame) -> str:
    hint = f"{stretch.words}, {show_elapsed(stretch.start)} to {show_elapsed(stretch.end)}"
    x, y, wide, high = frame.box(stretch.lane, TITLE_DOWN if frame.down else TITLE, stretch.start, stretch.end)
    return svg.link(stretch.href, svg.rect(x, y, wide, high, "c-stretch", rx=2), title=hint)


def _stretch_title(stretch: Stretch, frame: Frame) -> str:
    """Its name, drawn after all lines that cross it; its letter where the name would have to be cut.

    What follows in the lane bounds it, not the stretch's own end: somebody who stands by for hours leaves it room.
    """
    strip = TITLE_DOWN if frame.down else TITLE
    x, y, wide, high = frame.box(stretch.lane, strip, stretch.start, stretch.free)
    size = SMALL if frame.down else _TEXT
    words = fit(stretch.words, wide - 5, size, int((high + 2) / LEADING)) or fit(stretch.letter, wide - 2, size, 1)
    name = "c-title c-halo" if frame.down else "c-title c-title-wide c-halo"
    return svg.lines(x + 3, y + 11.5, words if high >= LEADING - 2 else (), LEADING, name)


def _bar(bar: Bar, frame: Frame) -> str:
    slim = bar.kind in ("way", "standby")
    strip = (SLIM_DOWN if slim else BARS_DOWN) if frame.down else (SLIM if slim else BARS)
    x, y, wide, high = frame.box(bar.lane, strip, bar.start, bar.end, 0.8)
    hint = f"{bar.title} {bar.when} ({bar.takes})" + (f", {bar.place}" if bar.place else "")
    if bar.kind == "step":
        shapes = svg.rect(x, y, wide, high, "c-step" + (" c-optional" if bar.optional else ""))
        if bar.optional:
            shapes += texture("optional", x, y, wide, high)
    else:
        name = "way-down" if bar.kind == "way" and frame.down else bar.kind
        shapes = area(name, x, y, wide, high, f"c-{bar.kind}")
        if bar.kind == "wait" and not frame.down:
            words = fit(bar.cause, wide - 6, SMALL, 1)
            shapes += svg.label(x + wide / 2, y + high / 2 + 4, "".join(words), "c-small c-middle c-halo")
    named = not frame.down and bar.id and (not bar.together or bar.lane == bar.together[0])
    # A finger hovers over nothing, so the narrow still does without the hint.
    hint = "" if frame.down else hint
    return svg.link(bar.href, shapes, title=hint, tabindex=-1, id=f"{frame.id}.{bar.id}" if named else None)


def _joint(bar: Bar, frame: Frame) -> str:
    """A joint step: a band from the first of its lanes to the last, behind the bars."""
    first, last = bar.together[0], bar.together[-1]
    strip = (
        Strip(BARS.begins, last - first + BARS.wide)
        if not frame.down
        else Strip(BARS_DOWN.begins, last - first + BARS_DOWN.wide)
    )
    return area("together", *frame.box(first, strip, bar.start, bar.end, 0.8), "c-joint")


def _hold(bar: Bar, frame: Frame) -> str:
    """An arrow from the lane that is waited for to the lane that waits, at the moment the wait ends."""
    if bar.kind != "wait" or bar.cause_lane is None or bar.cause_lane == bar.lane:
        return ""
    strip = BARS_DOWN if frame.down else BARS
    top, bottom = strip.begins, strip.ends
    falls = bar.cause_lane < bar.lane
    start = frame.across(bar.cause_lane, bottom if falls else top)
    tip = frame.across(bar.lane, top if falls else bottom)
    along, back = frame.along(bar.end), -5.0 if falls else 5.0
    head = svg.path(
        [frame.at(tip, along), frame.at(tip + back, along - 3), frame.at(tip + back, along + 3)], "c-arrow",
        closed=True,
    )  # fmt: skip
    stem = svg.line(*frame.at(start, along), *frame.at(tip + back, along), "c-stem")
    return svg.group(stem, head)


def _chain(frame: Frame) -> str:
    """The critical chain: a double rail along the lanes. Where it changes lanes, a hold or a call says why."""
    middle = (RAIL_DOWN if frame.down else RAIL).middle
    along = [[_chain_spot(spot, middle, frame) for spot in rail] for rail in chain_pieces(frame.rows.chain)]
    return svg.paths(along, "c-chain") + svg.paths(along, "c-chain-core")


def _chain_spot(spot: tuple[int, float], middle: float, frame: Frame) -> tuple[float, float]:
    lane, seconds = spot
    return frame.at(frame.across(lane, middle), frame.along(seconds))


def _limits(frame: Frame, foot: float) -> Iterator[str]:
    for row, (seconds, words) in enumerate(limits(frame.rows)):
        along, name = frame.along(seconds), "c-limit" if row else "c-finish"
        if frame.down:
            yield svg.line(frame.side, along, frame.ends, along, name)
            yield svg.label(frame.ends - 2, along + (13 if row else -4), words, "c-small c-end c-halo")
        else:
            end = foot + 6 + row * 14
            yield svg.line(along, frame.side, along, end, name)
            yield svg.label(along - 5, end + 1, words, "c-small c-end")
