"""Day and night along a circular orbit, and nights from listed sunrises and sunsets.

Pure: altitude and Sun angle go in, times come out. Lengths are metres, times seconds, angles degrees.

The closed form is that of any orbital-mechanics text for a circular orbit, a spherical planet and a
cylindrical shadow: there is no penumbra, the Sun is a point at infinite distance, the air bends no light, and
the beta angle (between the Sun's direction and the orbit's plane) stays as it is for the sortie.

    period           T  = 2 pi sqrt((R + h)^3 / mu)
    night per orbit     = T / pi * acos(sqrt(h^2 + 2 R h) / ((R + h) cos beta))
    no night from beta* = asin(R / (R + h)) on
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

Interval: TypeAlias = tuple[float, float]
"""(start, end) in seconds of elapsed time, start < end."""


@dataclass(frozen=True, kw_only=True)
class Planet:
    """A sphere: its `radius` in m and its gravitational parameter `mu` in m^3/s^2."""

    radius: float
    mu: float


EARTH = Planet(radius=6_378_137.0, mu=3.986004418e14)
"""Radius: semi-major axis of WGS 84 (NGA.STND.0036). mu: IERS Conventions (2010), Note 36, table 1.1."""


def period(altitude: float, planet: Planet = EARTH) -> float:
    """Seconds for one turn of a circular orbit `altitude` metres above the sphere.

    Raises ValueError for an altitude that is negative or not a number.

    >>> round(period(400_000) / 60, 2)
    92.56
    """
    return 2 * math.pi * math.sqrt(_orbit_radius(altitude, planet) ** 3 / planet.mu)


def eclipse_limit(altitude: float, planet: Planet = EARTH) -> float:
    """beta* in degrees: from this Sun angle on, either side, the orbit has no night.

    Raises ValueError for an altitude that is negative or not a number.

    >>> round(eclipse_limit(400_000), 2)
    70.22
    """
    return math.degrees(math.asin(planet.radius / _orbit_radius(altitude, planet)))


def eclipse_duration(altitude: float, beta: float, planet: Planet = EARTH) -> float:
    """Seconds of night in each turn, 0 in continuous sun; `altitude` in m, `beta` in degrees from -90 to 90.

    Raises ValueError for an altitude or angle out of range.

    >>> round(eclipse_duration(400_000, 60) / 60, 2), eclipse_duration(400_000, -75)
    (24.37, 0.0)
    """
    if not -90 <= beta <= 90:
        raise ValueError(f"the beta angle {beta!r} is not between -90 and 90 degrees")
    if abs(beta) >= eclipse_limit(altitude, planet):
        return 0.0
    height_of_shadow_edge = math.sqrt(altitude * (altitude + 2 * planet.radius))
    ratio = height_of_shadow_edge / (_orbit_radius(altitude, planet) * math.cos(math.radians(beta)))
    # Just inside the limit, rounding can lift the ratio over 1.
    return period(altitude, planet) / math.pi * math.acos(min(1.0, ratio))


def nights_from_orbit(
    altitude: float, beta: float, first_sunset: float, length: float, planet: Planet = EARTH
) -> tuple[Interval, ...]:
    """The nights within elapsed time 0 to `length`, both cut off there; none in continuous sun. O(nights).

    `altitude` in m, `beta` in degrees, `first_sunset` and `length` in s. Sunsets repeat every period in both
    directions, so a sortie can begin in the night before its first sunset. A `first_sunset` of a period or
    more is not the first; its nights come out right, and saying so is for the caller. Raises ValueError for a
    value out of range.

    >>> [tuple(round(t / 60) for t in night) for night in nights_from_orbit(400_000, 0, 80 * 60, 150 * 60)]
    [(0, 24), (80, 116)]
    """
    if not math.isfinite(first_sunset):
        raise ValueError(f"the first sunset {first_sunset!r} is not a time")
    dark = eclipse_duration(altitude, beta, planet)
    turn = period(altitude, planet)
    _check_length(length)
    if dark == 0:
        return ()
    turns = range(math.floor(-(first_sunset + dark) / turn), math.ceil((length - first_sunset) / turn))
    sunsets = (first_sunset + k * turn for k in turns)
    clipped = ((max(0.0, sunset), min(length, sunset + dark)) for sunset in sunsets)
    return tuple((start, end) for start, end in clipped if start < end)


def nights_from_light(light: Iterable[Sequence[float]], length: float) -> tuple[Interval, ...]:
    """The nights within 0 to `length` when the sun shines only between the listed times. O(pairs).

    `light` is [(sunrise, sunset), ...] in s of elapsed time, in order. Raises ValueError when they overlap,
    are out of order, or a sunset is not after its sunrise.

    >>> nights_from_light([(0, 3000), (5200, 8600)], 9000)
    ((3000.0, 5200.0), (8600.0, 9000.0))
    """
    return _gaps(light, length)


def days_between(nights: Iterable[Sequence[float]], length: float) -> tuple[Interval, ...]:
    """The sunlit intervals within 0 to `length` (s) that the nights leave; same errors as nights_from_light.

    >>> days_between([(3000, 5200)], 9000)
    ((0.0, 3000.0), (5200.0, 9000.0))
    """
    return _gaps(nights, length)


def _gaps(intervals: Iterable[Sequence[float]], length: float) -> tuple[Interval, ...]:
    _check_length(length)
    gaps = []
    reached = -math.inf
    for start, end in intervals:
        if not (reached <= start < end):
            raise ValueError(f"the interval {start!r} to {end!r} is empty, overlaps or is out of order")
        gaps.append((max(0.0, reached), min(length, float(start))))
        reached = float(end)
    gaps.append((max(0.0, reached), float(length)))
    return tuple((start, end) for start, end in gaps if start < end)


def _orbit_radius(altitude: float, planet: Planet) -> float:
    if not 0 <= altitude < math.inf:
        raise ValueError(f"the altitude {altitude!r} is not a height in metres above the ground")
    return planet.radius + altitude


def _check_length(length: float) -> None:
    if not 0 <= length < math.inf:
        raise ValueError(f"the length {length!r} is not a time in seconds, 0 or more")
