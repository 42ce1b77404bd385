"""People's ways over the ground of the site: each a line, with the point where the person's mark stands on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from briefgen.charts.drawing.svg import number
from briefgen.pages.context import PageContext
from briefgen.pages.rows import MarkChip
from briefgen.pages.studying.grounds import Ground, Point
from briefgen.proof.evidence import SortieEvidence
from briefgen.telling.stretches import Interval

# How finely a way is searched for the point of its mark, in hundredths of the picture.
_FINE = 1.0
# Farther from other things than this, no point is better than another: the mark then stands early on the way.
_CLEAR = 9.0
# A worksite's letters stand above its point, so far on a small screen (in hundredths of the picture's height).
_ABOVE = 6.0


@dataclass(frozen=True)
class DrawnWay:
    """A person's way: the points of its line in the picture's own pixels, and the mark's point in hundredths."""

    mark: MarkChip
    line: str
    x: str
    y: str


def ways_of(
    context: PageContext,
    proved: SortieEvidence,
    ground: Ground,
    stretch: Interval,
    apart: float,
    taken: Iterable[Point],
) -> Iterator[DrawnWay]:
    """Everybody's way in a stretch, in the order of the people outside.

    The ways of different people are drawn `apart` (in the picture's own pixels), or on one another. A mark stands
    where its person's way is far from what is `taken` (points in hundredths), from other marks and other ways.
    """
    wide, high = ground.width / 100, ground.height / 100
    lines = {person: _way(proved, person, ground, stretch) for person in proved.plan.outside}
    busy = [point for x, y in taken for point in ((x, y), (x, y - _ABOVE))]
    for place, (person, line) in enumerate(lines.items()):
        if len(line) < 2:
            continue
        aside = apart * (place - (len(lines) - 1) / 2)
        others = {point for other, way in lines.items() if other != person for point in _along(way)}
        own = dict.fromkeys(_along(line))
        x, y = max(own, key=lambda point: min(_CLEAR, _clear(point, busy), 2 * _clear(point, others)))
        busy.append((x, y))
        points = " ".join(f"{number(a * wide + aside)},{number(b * high + aside)}" for a, b in line)
        yield DrawnWay(context.mark(person), points, number(x + aside / wide), number(y + aside / high))


def _way(proved: SortieEvidence, person: str, ground: Ground, stretch: Interval) -> list[Point]:
    points: list[Point] = []
    for leg in proved.timeline.legs:
        if leg.person == person and leg.way and leg.end > leg.start and stretch.overlaps(leg.start, leg.end):
            points += [ground.points[place] for place in leg.way.places if place in ground.points]
    return [point for place, point in enumerate(points) if place == 0 or point != points[place - 1]]


def _along(line: list[Point]) -> Iterator[Point]:
    """Points along a line, near each other."""
    for (x, y), (to_x, to_y) in pairwise(line):
        pieces = max(1, int(max(abs(to_x - x), abs(to_y - y)) / _FINE))
        for piece in range(pieces + 1):
            yield x + (to_x - x) * piece / pieces, y + (to_y - y) * piece / pieces


def _clear(point: Point, things: Iterable[Point]) -> float:
    """How far the nearest of some things is."""
    return min((max(abs(point[0] - x), abs(point[1] - y)) for x, y in things), default=_CLEAR)
