"""Where a task's steps stand in its diagram: a column a person, and below each other what follows each other.

Pure geometry in pixels of the drawing; still and live figure draw from it. A step stands one row below the lowest
step that must be over before it (longest path), so that steps side by side may run side by side.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from briefgen.charts.drawing.sheet import NARROW, SMALL, WIDE
from briefgen.charts.drawing.words import wrap
from briefgen.charts.kinds.steps.rows import Node, Rows

Point = tuple[float, float]


@dataclass(frozen=True)
class Style:
    """Sizes in pixels. `most` is how many lines of a step's words are shown; `hints` for a pointer to hover over."""

    wide: float
    gutter: float
    text: float
    head: float = 44.0
    pad: float = 8.0
    gap: float = 26.0
    most: int = 99
    hints: bool = True

    @property
    def leading(self) -> float:
        """From one line of text to the next, in pixels."""
        return self.text * 1.3


@dataclass(frozen=True)
class Box:
    """A step as it is drawn. `parts` are its boxes (x, width): several where its people are not neighbours."""

    node: Node
    y: float
    high: float
    parts: tuple[tuple[float, float], ...]
    lines: tuple[str, ...]
    tabs: tuple[tuple[str, str], ...]
    signs: tuple[tuple[str, str], ...]
    tab_high: float

    @property
    def top(self) -> float:
        """Where the box itself begins, below the tabs of what it waits for."""
        return self.y + self.tab_high


@dataclass(frozen=True)
class Diagram:
    """Everything with its place. `sequences` and `links` are lines, each ending in an arrow downwards."""

    rows: Rows
    style: Style
    wide: float
    high: float
    column: float
    boxes: tuple[Box, ...]
    sequences: tuple[tuple[Point, ...], ...] = field(default=())
    links: tuple[tuple[Point, ...], ...] = field(default=())

    def left(self, column: int) -> float:
        """The left edge of a column, in pixels; columns are counted from 0."""
        return left(column, self.column, self.style)


def left(column: int, wide: float, style: Style) -> float:
    """The left edge of a column, in pixels; columns are counted from 0."""
    return style.gutter + column * (wide + style.gutter)


def wide_style(rows: Rows) -> Style:
    """Sizes for a wide page."""
    count = max(1, len(rows.columns))
    return Style(wide=min(WIDE, 24.0 + count * 290.0), gutter=24.0 if count > 1 else 12.0, text=12.5)


def narrow_style(rows: Rows) -> Style:
    """Sizes for a phone."""
    many = len(rows.columns) > 2
    return Style(
        wide=NARROW,
        gutter=14.0 if not many else 11.0,
        text=SMALL,
        pad=6.0,
        gap=24.0,
        most=6 if many else 99,
        hints=False,
    )


def arrange(rows: Rows, style: Style) -> Diagram:
    """The diagram at a width. O(steps × links)."""
    count = max(1, len(rows.columns))
    column = (style.wide - (count + 1) * style.gutter) / count
    ranks = _ranks(rows)
    boxes: list[Box] = []
    y = style.head
    for rank in range(max(ranks.values(), default=-1) + 1):
        row = [_box(node, y, column, style) for node in rows.nodes if ranks[node.key] == rank]
        boxes += row
        y += max(box.high for box in row) + style.gap
    placed = {box.node.key: box for box in boxes}
    diagram = Diagram(rows, style, style.wide, y, column, tuple(boxes))
    return Diagram(
        rows, style, style.wide, y, column, tuple(boxes),
        tuple(_sequences(diagram, placed)), tuple(_links(diagram, placed)),
    )  # fmt: skip


def _ranks(rows: Rows) -> Mapping[str, int]:
    """Each step's row: longest path; as many rounds as steps are enough, and a circle just stops there."""
    ranks = {node.key: 0 for node in rows.nodes}
    pairs = [pair for pair in (*rows.sequences, *rows.links) if pair[0] in ranks and pair[1] in ranks]
    for _ in rows.nodes:
        moved = False
        for first, second in pairs:
            if ranks[second] <= ranks[first] < len(ranks) - 1:
                ranks[second] = ranks[first] + 1
                moved = True
        if not moved:
            break
    # Rows that a circle left empty would be holes.
    used = {rank: k for k, rank in enumerate(sorted(set(ranks.values())))}
    return {key: used[rank] for key, rank in ranks.items()}


def _runs(columns: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Neighbouring columns as (first, last)."""
    first = columns[0]
    for one, following in zip(columns, [*columns[1:], -2], strict=True):
        if following != one + 1:
            yield first, one
            first = following


def _box(node: Node, y: float, column: float, style: Style) -> Box:
    parts = tuple(
        (left(first, column, style), (last - first + 1) * (column + style.gutter) - style.gutter)
        for first, last in _runs(node.columns)
    )
    room = parts[0][1] - 2 * style.pad - 6
    lines = wrap(node.do, room, style.text, style.most)
    signs = tuple(_signs(node, room, style))
    tabs = tuple((line, one.href) for one in node.foreign for line in wrap(one.words, room - 16, SMALL, 4))
    if node.hold:
        tabs += tuple((line, "") for line in wrap(node.hold, room - 16, SMALL, 3))
    tab_high = len(tabs) * style.leading + (8 if tabs else 0)
    high = tab_high + style.leading * (1 + len(lines) + len(signs)) + 2 * style.pad
    return Box(node, y, high, parts, lines, tabs, signs, tab_high)


def _signs(node: Node, room: float, style: Style) -> Iterator[tuple[str, str]]:
    """What the step is marked with, a line each: a shape's name (nothing on further lines) and words."""
    told = [("hazard", words) for words in node.hazards]
    told += [("verifies", f"verifies {words}") for words in node.verifies]
    told += [("critical", "critical")] if node.critical else []
    for shape, words in told:
        for k, line in enumerate(wrap(words, room - 16, SMALL, 3)):
            yield ("" if k else shape), line


def _sequences(diagram: Diagram, placed: Mapping[str, Box]) -> Iterator[tuple[Point, ...]]:
    """Straight down within a column, from each step to the person's next one."""
    for column in diagram.rows.columns:
        own = [placed[node.key] for node in diagram.rows.nodes if column.number in node.columns]
        own.sort(key=lambda box: box.y)
        x = diagram.left(column.number) + diagram.column / 2
        for one, following in pairwise(own):
            yield (x, one.y + one.high), (x, following.y)


def _links(diagram: Diagram, placed: Mapping[str, Box]) -> Iterator[tuple[Point, ...]]:
    """From a step's side into the gutter, down, across in the gap above the other step, and down to it."""
    style = diagram.style
    for number, (first, second) in enumerate(diagram.rows.links):
        if first not in placed or second not in placed:
            continue
        one, other = placed[first], placed[second]
        from_column, to_column = _nearest(one.node, other.node)
        rightwards = to_column > from_column
        shift = style.gutter * (0.3 + 0.4 * (number % 3) / 2)
        edge = diagram.left(from_column) + (diagram.column if rightwards else 0.0)
        lane = edge + (shift if rightwards else -shift)
        start = one.top + (one.high - one.tab_high) / 2
        across = other.y - style.gap * (0.45 + 0.15 * (number % 3))
        end = diagram.left(to_column) + diagram.column * (0.3 if rightwards else 0.7)
        yield (edge, start), (lane, start), (lane, across), (end, across), (end, other.y)


def _nearest(one: Node, other: Node) -> tuple[int, int]:
    """The two columns, one of each step, that are closest."""
    pairs = [(abs(a - b), a, b) for a in one.columns for b in other.columns]
    _, first, second = min(pairs)
    return first, second
