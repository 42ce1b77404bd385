"""What any chart of curves over elapsed time shows: panels, each with a curve a person and levels not to be crossed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from briefgen.charts.drawing.marks import tone
from briefgen.model.people import Person

Point = tuple[float, float]
DASHES = (("solid", ""), ("dash", "8 4"), ("dot", "2 3"), ("dashdot", "8 3 2 3"))
"""By the number of the person: Plotly's name, and the same in SVG. So curves differ without their colours."""


@dataclass(frozen=True)
class Curve:
    """A person's curve, or one by a `name` of its own: `points` are (seconds, value in the panel's unit), straight in
    between.
    """

    number: int
    person: Person | None
    points: tuple[Point, ...]
    words: str
    name: str = ""

    @property
    def tone(self) -> str:
        """The colour's name: the person's own, or one for each lane."""
        return tone(self.person) if self.person else f"lane-{self.number % 7}"

    @property
    def label(self) -> str:
        """The short name that stands at the curve."""
        return self.person.label_text if self.person else self.name

    @property
    def dash(self) -> tuple[str, str]:
        """How the line is broken, as SVG and as Plotly say it: nothing is told by colour alone."""
        return DASHES[self.number % len(DASHES)]


@dataclass(frozen=True)
class Level:
    """A value not to be crossed. `below`: what is beneath it may not be used; else what is above."""

    value: float
    words: str
    below: bool


@dataclass(frozen=True)
class Panel:
    """One set of axes. `most` is the top of its scale, which begins at 0; `signs` are points that stand out."""

    title: str
    unit: str
    curves: tuple[Curve, ...]
    levels: tuple[Level, ...]
    most: float
    signs: tuple[Point, ...] = ()

    def ticks(self, count: int = 4) -> tuple[float, ...]:
        """Round values from 0 to the top: steps of 1, 2 or 5 times a power of ten."""
        if self.most <= 0:
            return (0.0,)
        rough, power = self.most / count, 1e-6
        while power * 10 <= rough:
            power *= 10
        step = next(k * power for k in (1, 2, 5, 10) if k * power >= rough * 0.999)
        return tuple(step * k for k in range(int(self.most / step + 1e-9) + 1))


@dataclass(frozen=True)
class Rows:
    """All panels, over the same time; `signs` says what the points are that stand out."""

    id: str
    title: str
    panels: tuple[Panel, ...]
    until: float
    nights: tuple[tuple[float, float], ...] = ()
    signs: str = ""


def thinned(points: Sequence[Point]) -> tuple[Point, ...]:
    """The points without those that lie on the straight line between their neighbours."""
    kept: list[Point] = []
    for point in points:
        while len(kept) > 1 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _straight(a: Point, b: Point, c: Point) -> bool:
    return abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) < 1e-6 * (1 + abs(c[0] - a[0]))
