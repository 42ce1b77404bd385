"""What many runs of a sortie tell: its finish, its tasks, its critical steps. Times in seconds since its start."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from briefgen.proof.chance.share import Share
from briefgen.proof.chance.spread import Spread
from briefgen.proof.schedule.network import ROUNDING


@dataclass(frozen=True)
class TaskChance:
    """A task in all runs: from its first step's start to its last step's end, and whether it was `reached`:
    begun no later than its latest moment (asked only of optional tasks).
    """

    lasts: Spread
    reached: Share | None


@dataclass(frozen=True)
class Finish:
    """When the runs were over, in rising order: ten thousand numbers a sortie, so they lie side by side."""

    seconds: Sequence[float]
    spread: Spread

    def within(self, limit: float) -> Share:
        """How many runs were over by then."""
        return Share(bisect_right(self.seconds, limit + ROUNDING), len(self.seconds))

    def by(self, share: float) -> float:
        """When that share of the runs (0 to 1) was over."""
        return self.seconds[max(0, math.ceil(share * len(self.seconds)) - 1)]


@dataclass(frozen=True)
class Chance:
    """A sortie in many runs. `critical` has a share a step, in the order of the plan.

    `bare` is the finish without any optional task, None where the sortie has none.
    """

    finish: Finish
    usable: float
    length: float
    tasks: Mapping[str, TaskChance]
    critical: tuple[Share, ...]
    bare: Finish | None

    @property
    def varies(self) -> bool:
        """Whether any duration of the sortie has three points that matter for its finish."""
        return self.finish.seconds[-1] - self.finish.seconds[0] > 0.5
