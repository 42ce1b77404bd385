"""What the chart of a sortie's finish shows: how many runs end in each stretch of time, and the limits beside them."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.proof.chance.outcome import Chance
from briefgen.proof.chance.share import Share
from briefgen.units import MINUTE

_MOST_BARS = 30


@dataclass(frozen=True)
class Bar:
    """The runs that end after `start` and by `end`, in seconds; `by` are all that have ended by `end`."""

    start: float
    end: float
    share: Share
    by: Share


@dataclass(frozen=True)
class Moment:
    """A moment to compare with, in seconds, and what it is."""

    seconds: float
    words: str
    limit: bool


@dataclass(frozen=True)
class Rows:
    """The bars, all of one width, and the moments.

    `usual` says when a twentieth, half and 19 of 20 runs have ended, in seconds.
    """

    sortie: str
    title: str
    bars: tuple[Bar, ...]
    moments: tuple[Moment, ...]
    runs: int
    usual: tuple[float, float, float]
    varies: bool

    @property
    def begin(self) -> float:
        """Where the axis of time begins."""
        return min(self.bars[0].start, *(one.seconds for one in self.moments)) - self.wide

    @property
    def until(self) -> float:
        """Where it ends."""
        return max(self.bars[-1].end, *(one.seconds for one in self.moments)) + self.wide

    @property
    def wide(self) -> float:
        """How long a bar's stretch is."""
        return self.bars[0].end - self.bars[0].start

    @property
    def most(self) -> float:
        """The share (0 to 1) of the highest bar."""
        return max(bar.share.value for bar in self.bars)


def finish_rows(sortie: str, title: str, chance: Chance, planned: float) -> Rows:
    """The rows of one sortie; `planned` is its finish with the likely durations."""
    first, last = chance.finish.seconds[0], chance.finish.seconds[-1]
    wide = next(span for span in _spans() if (last - first) / span < _MOST_BARS)
    bars = []
    for number in range(int(first // wide), int(last // wide) + 1):
        start, end = number * wide, (number + 1) * wide
        by, before = chance.finish.within(end), chance.finish.within(start)
        bars.append(Bar(start, end, Share(by.hits - before.hits, by.runs), by))
    moments = [Moment(planned, "planned", limit=False), Moment(chance.length, "limit", limit=True)]
    if chance.usable < chance.length:
        moments.insert(1, Moment(chance.usable, "reserve begins", limit=True))
    early, middle, late = (chance.finish.by(share) for share in (0.05, 0.5, 0.95))
    usual = (early, middle, late)
    return Rows(sortie, title, tuple(bars), tuple(moments), len(chance.finish.seconds), usual, chance.varies)


def _spans() -> tuple[float, ...]:
    """The stretches that a bar may stand for: whole minutes that divide an hour, or hours."""
    return tuple(MINUTE * count for count in (1, 2, 5, 10, 15, 30, 60, 120, 360, 60_000))
