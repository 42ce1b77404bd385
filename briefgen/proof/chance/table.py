"""Quantiles of the Beta-PERT distribution of a three-point duration, as a table to draw from. Times in seconds."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from briefgen.proof.chance.spread import shape
from briefgen.units import Duration

Seconds = NDArray[np.float64]

TABLE_BITS = 10
"""A table of quantiles has 2 to the power of this many entries, each as likely as any other."""
_GRID = 1 << 11


def quantiles(duration: Duration) -> Seconds:
    """Seconds in rising order, equally likely: the middles of as many equal shares of the distribution."""
    if not duration.three_points:
        return np.full(1 << TABLE_BITS, duration.likely)
    return duration.low + (duration.high - duration.low) * _standard(shape(duration)[0])


@lru_cache(maxsize=256)
def _standard(alpha: float) -> Seconds:
    """The quantiles over [0, 1], from the density summed up by the trapezoidal rule.

    The grid is dense at both ends, where the density may rise like a root.
    """
    along = np.linspace(0.0, 1.0, _GRID + 1)
    grid = along * along * (3 - 2 * along)
    density = grid ** (alpha - 1) * (1 - grid) ** (5 - alpha) * along * (1 - along)
    heaped = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2)])
    size = 1 << TABLE_BITS
    return np.interp((np.arange(size) + 0.5) / size, heaped / heaped[-1], grid)
