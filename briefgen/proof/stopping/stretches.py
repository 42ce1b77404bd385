"""Where a sortie can be stopped cleanly, the stretches between, and what there is to spare for a stop.

Pure: stops go in. Times are seconds since the sortie's start.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.stopping.stops import Stop


@dataclass(frozen=True)
class StopStretch:
    """Moments in a row that are all clean, or all not. One without a clean stop lasts from the last one to the next."""

    clean: bool
    start: float
    end: float
    stops: tuple[Stop, ...]

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.end - self.start

    @property
    def worst(self) -> Stop:
        """The first of its moments from which closing up takes longest."""
        return max(self.stops, key=lambda stop: stop.seconds)


def stretches(stops: Sequence[Stop]) -> Iterator[StopStretch]:
    """The moments of a sortie in stretches; before anything is begun a stop is clean."""
    runs = [(clean, tuple(row)) for clean, row in groupby(stops, key=lambda stop: stop.clean)]
    for number, (clean, row) in enumerate(runs):
        start = row[0].at if clean else runs[number - 1][1][-1].at if number else 0.0
        end = row[-1].at if clean or number + 1 == len(runs) else runs[number + 1][1][0].at
        yield StopStretch(clean, start, end, row)


def longest_without(stops: Sequence[Stop]) -> StopStretch | None:
    """The longest stretch without a clean stop, if there is any."""
    return max((one for one in stretches(stops) if not one.clean), key=lambda one: one.seconds, default=None)


def worst(stops: Sequence[Stop]) -> Stop | None:
    """The first moment from which closing up takes longest; None for a sortie without steps."""
    return max(stops, key=lambda stop: stop.seconds, default=None)


def nearest(stops: Sequence[Stop], at: float) -> tuple[float | None, float | None]:
    """The last clean stop before a moment and the next one after it."""
    before = max((stop.at for stop in stops if stop.clean and stop.at < at), default=None)
    return before, min((stop.at for stop in stops if stop.clean and stop.at > at), default=None)


@dataclass(frozen=True)
class TimeLeft:
    """How many seconds are left at a moment, and what ends first: a supply by name and person, or the sortie."""

    seconds: float
    supply: str = ""
    person: str = ""


def left(proved: SortieEvidence, at: float) -> TimeLeft:
    """What is left of the sortie's length, or of the first supply to reach its reserve, as planned."""
    runs = [run for row in proved.supplies.runs.values() for run in row if run.reserve_reached is not None]
    until = [TimeLeft((run.reserve_reached or 0.0) - at, run.name, run.person) for run in runs]
    return min((TimeLeft(proved.sortie.limits.length.likely - at), *until), key=lambda one: one.seconds)
