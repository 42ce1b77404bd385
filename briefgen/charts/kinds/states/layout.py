"""Where the lanes of the states chart stand: each name above its band, so that one drawing fits any width."""

from __future__ import annotations

from dataclasses import dataclass

LANE, HEAD, FOOT = 51.0, 26.0, 8.0
NAME, BAND, NEED = 14.0, 25.0, 43.0
"""Down from a lane's top: the name's baseline, the band's top, the line of what relies on it."""
BAND_HIGH = 15.0


@dataclass(frozen=True)
class Frame:
    """A sheet of a width; time runs over it from `left` for `long` pixels."""

    wide: float
    until: float
    count: int
    left: float = 8.0

    @property
    def long(self) -> float:
        """The length of the time axis, in pixels."""
        return self.wide - 2 * self.left

    @property
    def high(self) -> float:
        """The height of the whole drawing, in pixels."""
        return HEAD + self.count * LANE + FOOT

    def x(self, seconds: float) -> float:
        """Where a moment stands, in pixels; seconds since the start go in."""
        return self.left + seconds / max(self.until, 1.0) * self.long

    def y(self, lane: int, offset: float = 0.0) -> float:
        """The top of a lane and `offset` below it, in pixels."""
        return HEAD + lane * LANE + offset
