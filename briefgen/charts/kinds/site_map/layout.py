"""Where places, names and lengths stand on the drawn map.

Names are placed one after the other, each at the free one of eight spots around its place that covers least of what
is already drawn (greedy; a classic of map lettering, and good enough for some dozens of places). O(places²).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import atan2, degrees, hypot

from briefgen.charts.drawing import sheet as sheets
from briefgen.charts.drawing.words import width, wrap
from briefgen.charts.kinds.site_map.rows import Path, Rows, Spot

Point = tuple[float, float]
Area = tuple[float, float, float, float]
"""Left, top, right, bottom."""

_AROUND = {
    "top center": (0.0, -1.0), "bottom center": (0.0, 1.0), "middle right": (1.0, 0.0), "middle left": (-1.0, 0.0),
    "top right": (1.0, -1.0), "top left": (-1.0, -1.0), "bottom right": (1.0, 1.0), "bottom left": (-1.0, 1.0),
}  # fmt: skip
DOT = 6.5


@dataclass(frozen=True)
class Style:
    """Sizes in pixels. `numbers`: a name that would cover something is a number instead, and no lengths are shown."""

    wide: float
    aside: float
    edge: float
    text: float
    room: float
    most_high: float
    numbers: bool


# Letters of 13.5 pixels on 720 are still 11 pixels high where the map is 600 wide: beside people's panels on a tablet.
TURNOVER = 600.0
LENGTHS = 13.2
WIDE = Style(wide=sheets.WIDE, aside=58.0, edge=32.0, text=13.5, room=112.0, most_high=580.0, numbers=False)
NARROW = Style(wide=sheets.NARROW, aside=24.0, edge=22.0, text=sheets.SMALL, room=84.0, most_high=520.0, numbers=True)


@dataclass(frozen=True)
class Name:
    """A place's name: the lines, and on which side of the place they stand; or its number, which the key explains."""

    spot: Spot
    lines: tuple[str, ...]
    side: str
    area: Area
    number: str = ""


@dataclass(frozen=True)
class Sheet:
    """The map on paper: every place's point, its name, and the middle of every route. Pixels, y downwards."""

    rows: Rows
    style: Style
    wide: float
    high: float
    points: Mapping[str, Point]
    names: tuple[Name, ...]
    lengths: tuple[tuple[Path, Point], ...] = ()

    def ends(self, path: Path) -> tuple[Point, Point]:
        """The two points that a route joins, in pixels."""
        return self.points[path.first], self.points[path.second]

    def degrees(self, path: Path) -> float:
        """Which way a route leads on the sheet: 0 is to the right, 90 is down."""
        (x0, y0), (x1, y1) = self.ends(path)
        return degrees(atan2(y1 - y0, x1 - x0))

    @staticmethod
    def where_hazard(path: Path) -> float:
        """Where along a route its hazard is marked: beside the arrow of a one-way route."""
        return 0.36 if path.one_way else 0.5

    def middle(self, path: Path, share: float = 0.5) -> Point:
        """The point that lies this share of the way along a route, in pixels."""
        (x0, y0), (x1, y1) = self.ends(path)
        return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


@lru_cache(maxsize=32)
def lay_out(rows: Rows, style: Style) -> Sheet:
    """The sheet at a width; its height follows from the map's own proportions."""
    xs, ys = [spot.x for spot in rows.spots] or [0.0], [spot.y for spot in rows.spots] or [0.0]
    left, bottom = min(xs), min(ys)
    across, up = max(max(xs) - left, 1e-6), max(max(ys) - bottom, 1e-6)
    scale = min((style.wide - 2 * style.aside) / across, (style.most_high - 2 * style.edge) / up)
    high = up * scale + 2 * style.edge
    side = (style.wide - across * scale) / 2
    points = {
        spot.id: (side + (spot.x - left) * scale, high - style.edge - (spot.y - bottom) * scale) for spot in rows.spots
    }
    sheet = Sheet(rows, style, style.wide, high, points, ())
    taken = [area for spot in rows.spots for area in _marks(spot, sheet)]
    names = tuple(_names(sheet, taken))
    lengths = () if style.numbers else tuple(_lengths(sheet, [*taken, *(name.area for name in names)]))
    return replace(sheet, names=names, lengths=lengths)


def _marks(spot: Spot, sheet: Sheet) -> Iterator[Area]:
    x, y = sheet.points[spot.id]
    half = DOT + 4 if spot.anchor else DOT
    yield x - half, y - half, x + half, y + half
    if spot.hazards:
        yield x + 2, y - 15, x + 15, y - 3


def _lengths(sheet: Sheet, taken: list[Area]) -> Iterator[tuple[Path, Point]]:
    """Where the length of each route stands: beside the line, where it covers least."""
    lines = [sheet.ends(path) for path in sheet.rows.paths]
    for path in sheet.rows.paths:
        (x0, y0), (x1, y1) = sheet.ends(path)
        long = max(1e-6, hypot(x1 - x0, y1 - y0))
        half = width(path.length, LENGTHS) / 2
        spots = []
        for order, share in enumerate((0.5, 0.35, 0.65, 0.25, 0.75)):
            x, y = sheet.middle(path, share)
            for side in (1, -1):
                across = (8 + half * abs(y1 - y0) / long) * side / long
                cx, cy = x + (y1 - y0) * across, y - (x1 - x0) * across
                area = (cx - half, cy - 7, cx + half, cy + 7)
                spots.append((_cost(area, taken, lines, sheet) + order * 0.1, (cx, cy), area))
        cost, point, area = min(spots)
        if cost < 20:
            taken.append(area)
            yield path, point


def _names(sheet: Sheet, taken: list[Area]) -> Iterator[Name]:
    style = sheet.style
    taken = [*taken]
    lines = [sheet.ends(path) for path in sheet.rows.paths]
    unnamed: list[Spot] = []
    for spot in sorted(sheet.rows.spots, key=lambda spot: (not spot.home, not spot.anchor)):
        cost, name = _best(spot, wrap(spot.name, style.room, style.text, 2), taken, lines, sheet)
        if style.numbers and cost >= 20:
            unnamed.append(spot)
            continue
        taken.append(name.area)
        yield name
    # From left to right, as one looks for them.
    for number, spot in enumerate(sorted(unnamed, key=lambda spot: sheet.points[spot.id]), start=1):
        _, name = _best(spot, (str(number),), taken, lines, sheet)
        taken.append(name.area)
        yield replace(name, number=str(number))


def _best(
    spot: Spot, words: tuple[str, ...], taken: list[Area], lines: list[tuple[Point, Point]], sheet: Sheet
) -> tuple[float, Name]:
    """The words at the spot around a place where they cover least, and what that costs."""
    cost, side, area = min(
        (_cost(area, taken, lines, sheet) + order * 0.01, side, area)
        for order, (side, area) in enumerate(_places(spot, words, sheet))
    )
    return cost, Name(spot, words, side, area)


def _places(spot: Spot, lines: tuple[str, ...], sheet: Sheet) -> Iterator[tuple[str, Area]]:
    x, y = sheet.points[spot.id]
    style, half = sheet.style, DOT + 4 if spot.anchor else DOT
    wide, high = max(width(line, style.text) for line in lines), len(lines) * style.text * 1.2
    for side, (right, down) in _AROUND.items():
        gap = half + 3 if right * down == 0 else half
        left = x + right * gap - (wide if right < 0 else wide / 2 if right == 0 else 0)
        top = y + down * gap - (high if down < 0 else high / 2 if down == 0 else 0)
        yield side, (left, top, left + wide, top + high)


def _cost(area: Area, taken: Iterable[Area], lines: Iterable[tuple[Point, Point]], sheet: Sheet) -> float:
    """What a name at this spot would cover: names and places above all, lines a little; the sheet's edge never."""
    left, top, right, bottom = area
    cost = 500.0 if left < 2 or top < 2 or right > sheet.wide - 2 or bottom > sheet.high - 2 else 0.0
    # Most of what is drawn lies elsewhere: that is asked first, in place, as this is where a map's time goes.
    for x0, y0, x1, y1 in taken:
        if left < x1 and x0 < right and top < y1 and y0 < bottom:
            cost += 20.0 + (min(right, x1) - max(left, x0)) * (min(bottom, y1) - max(top, y0)) / 50
    for start, end in lines:
        (x0, y0), (x1, y1) = start, end
        beside = (x0 < left and x1 < left) or (x0 > right and x1 > right)
        if not beside and not (y0 < top and y1 < top) and not (y0 > bottom and y1 > bottom):
            cost += 4.0 if _crosses(area, start, end) else 0.0
    return cost


def _crosses(area: Area, start: Point, end: Point) -> bool:
    """Whether a line runs through an area (Liang and Barsky, 1984)."""
    (x0, y0), (x1, y1) = start, end
    dx, dy = x1 - x0, y1 - y0
    first, last = 0.0, 1.0
    for step, room in ((-dx, x0 - area[0]), (dx, area[2] - x0), (-dy, y0 - area[1]), (dy, area[3] - y0)):
        if step == 0:
            if room < 0:
                return False
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    return first <= last
