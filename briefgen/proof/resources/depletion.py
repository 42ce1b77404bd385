"""How a supply runs down with time and with metabolic work.

Pure: efforts go in, amounts and times come out. Times are seconds, powers watts, work joules; a supply keeps
whatever unit it is given in.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from operator import itemgetter, neg
from typing import TypeAlias

Effort: TypeAlias = tuple[float, float, float]
"""(start, end, watts): a constant metabolic rate from start to end in seconds."""
Point: TypeAlias = tuple[float, float]


def metabolic_work(efforts: Iterable[tuple[float, float]]) -> float:
    """Joules of metabolic work over (seconds, watts) pairs. O(pairs).

    Raises ValueError for a value that is negative or not a number.

    >>> metabolic_work([(600, 300), (60, 500)])
    210000.0
    """
    return math.fsum(_amount(seconds) * _amount(watts) for seconds, watts in efforts)


@dataclass(frozen=True, kw_only=True)
class Depletion:
    """One supply over time, in its own unit.

    `left` are the breakpoints (seconds, amount) of a piecewise-linear line; an amount below 0 is what is
    missing. `reserve_reached` is the moment in seconds at which the reserve is touched, which may lie beyond
    the last breakpoint; None when that never happens.
    """

    left: tuple[Point, ...]
    reserve_reached: float | None

    def at(self, seconds: float) -> float:
        """The amount left at a moment between the first and the last breakpoint (held beyond them). O(log n).

        >>> deplete([(0, 7200, 300)], holds=5, keeps=1, per_hour=1).at(1800)
        4.5
        """
        return _interpolate(self.left, seconds)


def deplete(
    efforts: Iterable[Effort],
    *,
    holds: float,
    keeps: float,
    per_hour: float = 0.0,
    per_megajoule: float = 0.0,
    then_watts: float | None = None,
) -> Depletion:
    """How a supply runs down, and when it reaches its reserve. O(efforts).

    `efforts` are (start, end, watts) in order, the supply full at the first start; a gap between them counts
    as 0 W, and time as always. `holds` and `keeps` are in the supply's unit, the rates in that unit per hour
    and per megajoule of metabolic work; they add up. After the last effort the work goes on at `then_watts`,
    or without it at the last effort's watts.

    Raises ValueError for efforts that overlap or are out of order, and for values negative or not numbers.

    >>> run = deplete([(0, 3600, 200), (3600, 7200, 500)], holds=8, keeps=2, per_hour=1, per_megajoule=0.5)
    >>> [(seconds, round(amount, 2)) for seconds, amount in run.left]
    [(0.0, 8.0), (3600.0, 6.64), (7200.0, 4.74)]
    >>> round(run.reserve_reached)
    12392
    """
    holds, keeps, per_hour, per_megajoule = (_amount(v) for v in (holds, keeps, per_hour, per_megajoule))
    profile = _profile(efforts)
    beyond = then_watts if then_watts is not None else profile[-1][2] if profile else 0.0

    def per_second(watts: float) -> float:
        return per_hour / 3600 + per_megajoule * watts / 1e6

    left = _cumulative(profile, lambda watts: -per_second(watts), holds)
    reached = _first_at_or_below(left, _lows(left), keeps)
    rate_beyond = per_second(_amount(beyond))
    if reached is None and rate_beyond > 0:
        reached = left[-1][0] + (left[-1][1] - keeps) / rate_beyond
    return Depletion(left=tuple(left), reserve_reached=reached)


def _profile(efforts: Iterable[Effort]) -> list[Effort]:
    """The efforts without empty ones, and with every gap filled at 0 W."""
    profile: list[Effort] = []
    for start, end, watts in efforts:
        reached = profile[-1][1] if profile else start
        if not (0 <= reached <= start <= end < math.inf):
            raise ValueError(f"the effort from {start!r} to {end!r} is no span, overlaps or is out of order")
        if reached < start:
            profile.append((reached, float(start), 0.0))
        if start < end:
            profile.append((float(start), float(end), _amount(watts)))
    return profile


def _cumulative(profile: Sequence[Effort], rate: Callable[[float], float], begin: float) -> list[Point]:
    """Breakpoints of `begin` plus the integral of the rate over the profile."""
    times = [profile[0][0], *(end for _, end, _ in profile)] if profile else [0.0]
    changes = ((end - start) * rate(watts) for start, end, watts in profile)
    return list(zip(times, accumulate(changes, initial=begin), strict=True))


def _first_at_or_below(line: Sequence[Point], lows: Sequence[float], value: float) -> float | None:
    """The first moment a line is at a value or below, or None; `lows` is the line's running minimum."""
    k = bisect_left(lows, -value, key=neg)
    if k == len(line):
        return None
    if k == 0:
        return line[0][0]
    (t0, v0), (t1, v1) = line[k - 1], line[k]
    return t0 + (t1 - t0) * (v0 - value) / (v0 - v1)


def _lows(line: Iterable[Point]) -> list[float]:
    return list(accumulate((value for _, value in line), min))


def _interpolate(line: Sequence[Point], seconds: float) -> float:
    k = bisect_right(line, seconds, key=itemgetter(0))
    if k == 0 or k == len(line):
        return line[max(0, k - 1)][1]
    (t0, v0), (t1, v1) = line[k - 1], line[k]
    return v0 + (v1 - v0) * (seconds - t0) / (t1 - t0)


def _amount(value: float) -> float:
    if not 0 <= value < math.inf:
        raise ValueError(f"{value!r} is not an amount: it must be a number, 0 or more")
    return float(value)
