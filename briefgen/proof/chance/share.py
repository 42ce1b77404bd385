"""How often something happened in a number of runs, and how far that may lie from the chance itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

RUNS, SEED = 5_000, 1959
"""How many runs, and what their random numbers are seeded with (the year of the three-point estimate)."""

_Z = 1.959963984540054
"""The standard normal deviate that leaves out 5 % on both sides together."""


@dataclass(frozen=True)
class Share:
    """`hits` of `runs` independent runs."""

    hits: int
    runs: int

    @property
    def value(self) -> float:
        """The share, from 0 to 1: the estimate of the chance."""
        return self.hits / self.runs

    @property
    def bounds(self) -> tuple[float, float]:
        """Where the chance lies with 95 % confidence: the score interval, which is sound at 0 and 1 as well.

        Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference", Journal of the
        American Statistical Association 22(158) (1927).

        >>> tuple(round(bound, 4) for bound in Share(15, 20).bounds)
        (0.5313, 0.8881)
        """
        n, p = self.runs, self.value
        middle = (p + _Z**2 / (2 * n)) / (1 + _Z**2 / n)
        half = _Z / (1 + _Z**2 / n) * math.sqrt(p * (1 - p) / n + (_Z / (2 * n)) ** 2)
        return max(0.0, middle - half), min(1.0, middle + half)

    @property
    def words(self) -> str:
        """The chance as it can honestly be said: no digit that the runs do not settle.

        >>> Share(9712, 10000).words, Share(5034, 10000).words, Share(10000, 10000).words, Share(1, 10000).words
        ('97.1 % (±0.3 %)', '50 % (±1 %)', 'over 99.9 %', 'under 0.1 %')
        """
        low, high = (100 * bound for bound in self.bounds)
        if low > 99.9 or high < 0.1:
            return "over 99.9 %" if low > 99.9 else "under 0.1 %"
        half = (high - low) / 2
        if half >= 0.95:
            return f"{100 * self.value:.0f} % (±{math.ceil(half - 0.05)} %)"
        return f"{100 * self.value:.1f} % (±{max(0.1, half):.1f} %)"
