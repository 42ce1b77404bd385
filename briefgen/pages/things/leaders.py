"""Where the letter of a callout stands: beside its ring, at the end of a short line, and on nothing that is shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from briefgen.pages.studying.grounds import Point

TURNS: Mapping[str, int] = {"ne": -45, "nw": -135, "se": 45, "sw": 135, "e": 0, "w": 180, "n": -90, "s": 90}
"""Where a letter may stand, by the points of the compass, with its line's angle (degrees, clockwise); best first."""

Places = npt.NDArray[np.float64]

_DIRECTIONS = np.stack([np.cos(np.radians(list(TURNS.values()))), np.sin(np.radians(list(TURNS.values())))], axis=1)
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
    rings = np.array(points, dtype=float).reshape(-1, 2)
    ways = rings[:, None] + sheet.far * _DIRECTIONS
    fixed = [_on_rings(sheet, number, rings, ways[number]) for number in range(len(rings))]
    letters = np.full_like(rings, np.inf)  # far from everything, until it is placed
    chosen = np.full(len(rings), -1)
    for _ in range(_ROUNDS):
        before = chosen.copy()
        for number in range(len(rings)):
            letters[number] = np.inf
            near = _near(letters, rings[number], 2 * sheet.letter + sheet.far)
            covered = fixed[number] + 10 * _over(ways[number], near, 2 * sheet.letter)
            # Sides that are equally good are so whatever the order in which their parts were added.
            chosen[number] = np.argmin(covered.round(6))
            letters[number] = ways[number, chosen[number]]
        if (chosen == before).all():
            break
    return tuple(list(TURNS)[one] for one in chosen)


def _on_rings(sheet: Sheet, number: int, rings: Places, ways: Places) -> Places:
    """For each side of a callout: how far its letter is beyond the edge, which is worst, or on others' rings, (8,).

    `rings` (n, 2) are all callouts', `ways` (8, 2) where its letter may stand.
    """
    edges = np.concatenate([ways, np.array([sheet.wide, sheet.high]) - ways], axis=1)
    beyond = np.maximum(0.0, sheet.letter - edges.min(axis=1))
    others = _near(np.delete(rings, number, axis=0), rings[number], sheet.letter + sheet.ring + sheet.far)
    letter, line = ways, (ways + rings[number]) / 2
    covered: Places = 100 * beyond + 6 * _over(letter, others, sheet.letter + sheet.ring)
    return covered + _over(line, others, sheet.ring)


def _near(places: Places, middle: Places, reach: float) -> Places:
    """The places within so many pixels."""
    near: Places = places[np.hypot(places[:, 0] - middle[0], places[:, 1] - middle[1]) < reach]
    return near


def _over(places: Places, others: Places, near: float) -> Places:
    """For each place: by how many pixels others are nearer than `near`, in all."""
    apart = np.hypot(places[:, None, 0] - others[:, 0], places[:, None, 1] - others[:, 1])
    covered: Places = np.maximum(0.0, near - apart).sum(axis=1)
    return covered
