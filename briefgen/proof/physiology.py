"""What work costs: metabolic work, the oxygen, carbon dioxide and water with it, and how supplies run down.

Pure: efforts go in, amounts and times come out. Times are seconds, powers watts, masses kilograms; a supply
keeps whatever unit it is given in.
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

RESPIRATORY_QUOTIENT = 0.869
"""CO2 made per O2 used, by volume: Advanced Life Support Baseline Values and Assumptions Document (2004),
nominal crew-day of 0.835 kg O2, 0.998 kg CO2 and 11.82 MJ; read in a reference page that quotes its table."""

_JOULES_PER_KILOCALORIE = 4184.0  # thermochemical calorie, ISO 80000-5
_LITRES_PER_MOLE = 22.41397  # ideal gas at 0 degC and 101.325 kPa (STPD), CODATA
_OXYGEN_MOLE = 0.031998  # kg/mol, IUPAC standard atomic weights
_CARBON_DIOXIDE_MOLE = 0.0440095  # kg/mol, same


def metabolic_work(efforts: Iterable[tuple[float, float]]) -> float:
    """Joules of metabolic work over (seconds, watts) pairs. O(pairs).

    Raises ValueError for a value that is negative or not a number.

    >>> metabolic_work([(600, 300), (60, 500)])
    210000.0
    """
    return math.fsum(_amount(seconds) * _amount(watts) for seconds, watts in efforts)


def energy_per_litre_of_oxygen(respiratory_quotient: float = RESPIRATORY_QUOTIENT) -> float:
    """Joules set free per litre of oxygen used (dry, 0 degC, 101.325 kPa).

    Source: J. B. de V. Weir, Journal of Physiology 109 (1949): 3.941 kcal/L of O2 and 1.106 kcal/L of CO2,
    without his term for nitrogen. Raises ValueError for a quotient outside 0.7 (fat) to 1.0 (carbohydrate).

    >>> round(energy_per_litre_of_oxygen(1.0) / 4184, 3)
    5.047
    """
    if not 0.7 <= respiratory_quotient <= 1.0:
        raise ValueError(f"the respiratory quotient {respiratory_quotient!r} is not between 0.7 and 1.0")
    return (3.941 + 1.106 * respiratory_quotient) * _JOULES_PER_KILOCALORIE


def oxygen_per_megajoule(respiratory_quotient: float = RESPIRATORY_QUOTIENT) -> float:
    """Kilograms of oxygen used per megajoule; source and errors as energy_per_litre_of_oxygen.

    >>> round(oxygen_per_megajoule(), 4)
    0.0696
    """
    return 1e6 / energy_per_litre_of_oxygen(respiratory_quotient) / _LITRES_PER_MOLE * _OXYGEN_MOLE


def carbon_dioxide_per_megajoule(respiratory_quotient: float = RESPIRATORY_QUOTIENT) -> float:
    """Kilograms of CO2 breathed out per megajoule; source and errors as energy_per_litre_of_oxygen.

    >>> round(carbon_dioxide_per_megajoule() / oxygen_per_megajoule(), 4)
    1.1952
    """
    moles_ratio = _CARBON_DIOXIDE_MOLE / _OXYGEN_MOLE
    return oxygen_per_megajoule(respiratory_quotient) * respiratory_quotient * moles_ratio


def latent_heat_of_water(celsius: float) -> float:
    """Joules to evaporate one kilogram of liquid water at a temperature from 0 to 30 degC.

    Source: the cubic of R. R. Rogers and M. K. Yau, A Short Course in Cloud Physics, written from memory and
    held within 0.01 % to IAPWS-IF97 by the tests. Water that freezes before it sublimes gives back the heat
    of fusion first, so the sum is the same. Raises ValueError out of that range.

    >>> round(latent_heat_of_water(5) / 1000)
    2489
    """
    if not 0 <= celsius <= 30:
        raise ValueError(f"the temperature {celsius!r} is not between 0 and 30 degrees Celsius")
    return 1000 * (2500.8 - 2.36 * celsius + 0.0016 * celsius**2 - 0.00006 * celsius**3)


def water_per_megajoule(celsius: float = 5.0) -> float:
    """Kilograms of water to evaporate per megajoule of heat, at 0 to 30 degC; errors as latent_heat_of_water.

    Metabolic heat only: what equipment gives off, and leaks, come on top.

    >>> round(water_per_megajoule(), 4)
    0.4018
    """
    return 1e6 / latent_heat_of_water(celsius)


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


def mean_power_over(efforts: Iterable[Effort], window: float) -> float:
    """The greatest mean power in watts over any `window` seconds of the efforts. O(n log n).

    The window stays within the efforts; one longer than all of them gives their mean. A gap counts as 0 W.
    Raises ValueError as deplete does, and when there is no effort or no window.

    >>> round(mean_power_over([(0, 600, 200), (600, 900, 500), (900, 1800, 200)], 600))
    350
    """
    return max(_window_means(efforts, window))


def least_mean_power_over(efforts: Iterable[Effort], window: float) -> float:
    """The least mean power in watts over any `window` seconds of the efforts; otherwise as mean_power_over.

    >>> round(least_mean_power_over([(0, 600, 200), (600, 900, 500), (900, 1800, 200)], 1500))
    260
    """
    return min(_window_means(efforts, window))


def longest_at_mean(efforts: Iterable[Effort], watts: float) -> float:
    """Seconds of the longest stretch whose mean power is at least `watts`; 0 if none. O(n log n).

    Raises ValueError as deplete does.

    >>> longest_at_mean([(0, 600, 200), (600, 900, 500), (900, 1800, 200)], 350)
    600.0
    """
    level = _amount(watts)
    surplus = _cumulative(_profile(efforts), lambda power: power - level, 0.0)
    # A stretch qualifies when the surplus is no lower at its end than at its start. The longest one starts
    # where the surplus first comes down to some breakpoint's value, and ends where it was last as high.
    mirrored = [(-seconds, -value) for seconds, value in reversed(surplus)]
    lows, mirrored_lows = _lows(surplus), _lows(mirrored)
    longest = 0.0
    for _, value in surplus:
        start = _first_at_or_below(surplus, lows, value)
        end = _first_at_or_below(mirrored, mirrored_lows, -value)
        if start is not None and end is not None:
            longest = max(longest, -end - start)
    return longest


def within_peak(efforts: Iterable[Effort], *, watts: float, seconds: float) -> bool:
    """Whether the mean power nowhere exceeds `watts` over `seconds`, nor reaches it for longer than that.

    So exactly `seconds` at exactly `watts` is within it. Errors as mean_power_over. O(n log n).

    >>> [within_peak([(0, seconds, 586)], watts=586, seconds=900) for seconds in (900, 960)]
    [True, False]
    """
    efforts = list(efforts)
    # The same power reached by another sum may differ in its last digits; this must not hide a long stretch.
    nearly = watts * (1 - 1e-9)
    too_high = mean_power_over(efforts, seconds) > watts * (1 + 1e-9)
    return not too_high and longest_at_mean(efforts, nearly) <= seconds * (1 + 1e-6)


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


def _window_means(efforts: Iterable[Effort], window: float) -> list[float]:
    work = _cumulative(_profile(efforts), float, 0.0)
    first, last = work[0][0], work[-1][0]
    span = min(window, last - first)
    if not span > 0:
        raise ValueError(f"no mean power over a window of {window!r} s within {last - first!r} s of effort")
    # The mean over a sliding window turns only where one of its edges passes a breakpoint.
    latest = max(first, last - span)
    starts = (t for seconds, _ in work for t in (seconds, seconds - span) if first <= t <= latest)
    return [(_interpolate(work, t + span) - _interpolate(work, t)) / span for t in starts]


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
