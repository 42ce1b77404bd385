"""The Beta-PERT distribution of a three-point duration: its shape, mean and standard deviation.

The shortest time a, the likely one m and the longest b give a beta distribution over [a, b] with the shape parameters
1 + 4 (m − a) / (b − a) and 1 + 4 (b − m) / (b − a), so that its mean is (a + 4 m + b) / 6. Source of the estimate:
D. G. Malcolm, J. H. Roseboom, C. E. Clark and W. Fazar, "Application of a technique for research and development
program evaluation", Operations Research 7(5) (1959). The moments are those of any beta distribution. Times in seconds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from briefgen.proof.schedule.network import pert_mean
from briefgen.units import Duration


@dataclass(frozen=True)
class Spread:
    """A mean and a standard deviation, in seconds."""

    mean: float
    deviation: float


def shape(duration: Duration) -> tuple[float, float]:
    """The two shape parameters of a duration with three points; they add up to 6.

    >>> shape(Duration(3, 4, 7))
    (2.0, 4.0)
    """
    wide = duration.high - duration.low
    return 1 + 4 * (duration.likely - duration.low) / wide, 1 + 4 * (duration.high - duration.likely) / wide


def spread(duration: Duration) -> Spread:
    """Mean and standard deviation; a fixed duration has none of the latter. Of several draws variances add up.

    >>> spread(Duration(3, 4, 11)).mean, round(spread(Duration(0, 3, 6)).deviation ** 2, 6)
    (5.0, 1.285714)
    >>> round(spread(Duration(0, 3, 6).times(4)).deviation ** 2, 6), 4 * 1.285714
    (5.142857, 5.142856)
    """
    mean = pert_mean(duration.low, duration.likely, duration.high)
    # With shapes that add up to 6, α β / (α + β)² / (α + β + 1) of the range's square comes down to this.
    variance = max(0.0, (mean - duration.low) * (duration.high - mean) / 7)
    return Spread(mean, math.sqrt(variance / duration.draws))


def sums(*spreads: Spread) -> Spread:
    """The spread of a sum of independent durations: means add up, and so do variances."""
    return Spread(sum(one.mean for one in spreads), math.sqrt(sum(one.deviation**2 for one in spreads)))
