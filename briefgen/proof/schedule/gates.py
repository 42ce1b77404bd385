"""Gates in time: a step that may not begin before a moment, or before the next sunrise or sunset.

Pure: a plan goes in. A gate moves times only. No order between steps follows from it, so nothing is proved by a clock.
All times are seconds since the sortie's start.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.model.work import Sortie
from briefgen.proof.plan import Plan
from briefgen.proof.resources.orbit import eclipse_duration, period
from briefgen.proof.schedule.network import ROUNDING
from briefgen.units import Duration, show_elapsed

SUNRISE, SUNSET = "sunrise", "sunset"
"""What a step may wait for, besides a moment."""

HORIZON = 24 * 3600.0
"""So far beyond the sortie's length sunrises and sunsets are computed."""


@dataclass(frozen=True)
class Gate:
    """A step may begin from `earliest` on; with an `event`, at the next of the `openings` then, or after that one.

    `end` is the sortie's length: where no opening is known any more, a step is taken to begin then, or later.
    """

    earliest: float = 0.0
    event: str = ""
    openings: tuple[float, ...] = ()
    end: float = 0.0

    @property
    def words(self) -> str:
        """What is waited for: `sunrise`, or an elapsed time."""
        moment = show_elapsed(self.earliest)
        return f"the first {self.event} after {moment}" if self.event and self.earliest else self.event or moment

    def opens(self, ready: float) -> float:
        """When a step begins for which all else is ready."""
        ready = max(ready, self.earliest)
        if not self.event:
            return ready
        number = bisect_left(self.openings, ready - ROUNDING)
        return max(ready, self.openings[number] if number < len(self.openings) else self.end)

    def never_opened(self, start: float) -> bool:
        """Whether a step that begins then does so because no opening is known any more."""
        return bool(self.event) and start > (self.openings[-1] if self.openings else -1.0) + ROUNDING

    def ready_by(self, start: float) -> float:
        """By when all else must be ready for a beginning by then; where it opens too late, as if it stood open."""
        number = bisect_right(self.openings, start + ROUNDING) if self.event else 0
        return self.openings[number - 1] if number and self.openings[number - 1] >= self.earliest else start


def clock_words(clock: Duration | str) -> str:
    """What a step or a task waits for, in words."""
    return show_elapsed(clock.likely) if isinstance(clock, Duration) else str(clock)


Gates = Mapping[int, Gate]
"""By the index of the step."""


def gates_of(plan: Plan) -> Gates:
    """The gates of a plan's steps. O(steps), and a search of the sky where somebody waits for the sun."""
    found: dict[int, Gate] = {}
    sky: dict[str, tuple[float, ...]] = {}
    for step in plan.steps:
        its, task = step.step.not_before, step.task.not_before
        if its is None and task is None:
            continue
        event = str(its) if its is not None and not isinstance(its, Duration) else ""
        if event and event not in sky:
            sky[event] = openings(plan.sortie, event)
        moments = (one.likely for one in (its, task) if isinstance(one, Duration))
        found[step.index] = Gate(max(moments, default=0.0), event, sky.get(event, ()), plan.sortie.limits.length.likely)
    return found


def openings(sortie: Sortie, event: str) -> tuple[float, ...]:
    """Every sunrise (or sunset) from the sortie's start on; none where day and night can't be told, or do not change.

    Where both sources are given, the listed times count.
    """
    until = sortie.limits.length.likely + HORIZON
    found = _listed(sortie, event) if sortie.light else _computed(sortie, event, until)
    return tuple(sorted(one for one in found if one >= 0))


def _listed(sortie: Sortie, event: str) -> Iterator[float]:
    yield from (pair[0 if event == SUNRISE else 1].likely for pair in sortie.light)


def _computed(sortie: Sortie, event: str, until: float) -> Iterator[float]:
    if not sortie.orbit:
        return
    altitude, beta = float(sortie.orbit.altitude), float(sortie.orbit.beta)
    try:
        turn, dark = period(altitude), eclipse_duration(altitude, beta)
    except ValueError:  # an orbit that makes no sense is told by a rule
        return
    moment = sortie.orbit.first_sunset.likely + (dark if event == SUNRISE else 0.0)
    moment -= turn * (moment // turn)  # the first one from the start on
    while dark and moment < until:
        yield moment
        moment += turn
