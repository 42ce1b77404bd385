"""Where the letter of a callout stands: beside its ring, at the end of a short line, and on nothing that is shown."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from briefgen.pages.studying.grounds import Point

TURNS: Mapping[str, int] = {"ne": -45, "nw": -135, "se": 45, "sw": 135, "e": 0, "w": 180, "n": -90, "s": 90}
"""Where a letter may stand, by the points of the compass, with its line's angle (degrees, clockwise); best first."""


_ROUNDS = 4


@dataclass(frozen=True)
class Sheet:
    """How a picture is shown, in CSS pixels: its width and height, radii of a ring and a letter, and how far apart."""

    wide: float
    high: float
    ring: float
    letter: float
    far: float


PAGE = Sheet(350.0, 219.0, ring=5.0, letter=12.0, far=22.0)
"""A figure with all of its callouts, on a phone: on a wider screen they stand farther from each other."""


def sides(sheet: Sheet, points: Sequence[Point]) -> list[str]:
    """For each point (in pixels of the sheet), in order, the side on which its letter covers least.

    Chosen one after the other, and then again, as the letters that came later may have made another side better.
    """
    return list(_sides(sheet, tuple(points)))


@cache
def _sides(sheet: Sheet, points: tuple[Point, ...]) -> tuple[str, ...]:
    """A figure stands on many pages: its letters are placed once."""
    chosen: dict[int, str] = {}
    placed: dict[int, Point] = {}
    # Whatever is farther away lies under no letter and no line.
    rings = [_near(points, number, sheet.far + sheet.letter + sheet.ring) for number in range(len(points))]
    letters = [_near(points, number, 2 * (sheet.far + sheet.letter)) for number in range(len(points))]
    for _ in range(_ROUNDS):
        before = dict(chosen)
        for number, point in enumerate(points):
            under = [points[one] for one in rings[number]]
            above = [placed[one] for one in letters[number] if one in placed]
            costs = {side: _covered(sheet, side, point, under, above) for side in TURNS}
            chosen[number] = min(costs, key=costs.__getitem__)
            placed[number] = _letter(sheet, chosen[number], point)
        if chosen == before:
            break
    return tuple(chosen.values())


def _near(points: Sequence[Point], number: int, reach: float) -> list[int]:
    """The other points that are nearer than so many pixels."""
    return [one for one, other in enumerate(points) if one != number and math.dist(other, points[number]) < reach]


def _letter(sheet: Sheet, side: str, point: Point) -> Point:
    turn = math.radians(TURNS[side])
    return point[0] + sheet.far * math.cos(turn), point[1] + sheet.far * math.sin(turn)


def _covered(sheet: Sheet, side: str, point: Point, rings: Sequence[Point], letters: Sequence[Point]) -> float:
    """How much lies under a letter and its line: beyond the edge is worst, then other letters, rings, and crossings."""
    x, y = _letter(sheet, side, point)
    beyond = max(0.0, sheet.letter - x, x + sheet.letter - sheet.wide, sheet.letter - y, y + sheet.letter - sheet.high)
    middle = ((x + point[0]) / 2, (y + point[1]) / 2)
    return (
        100 * beyond
        + sum(10 * _over((x, y), one, 2 * sheet.letter) for one in letters)
        + sum(6 * _over((x, y), one, sheet.letter + sheet.ring) + _over(middle, one, sheet.ring) for one in rings)
    )


def _over(one: Point, other: Point, near: float) -> float:
    return max(0.0, near - math.dist(one, other))
