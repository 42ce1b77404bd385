"""How likely a sortie ends in time: its finish, its tasks and its critical steps in many runs with drawn durations.

What is assumed: durations are independent of each other; a step that is done for many items draws once for all of them;
ways take as long as planned, and nobody waits but for whom the plan says; everything in the flow is done in every run,
optional tasks too, as soon as it can be. Times in seconds since the sortie's start.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from briefgen.proof.chance_runs import blocks
from briefgen.proof.chance_share import Share
from briefgen.proof.chance_spread import Seconds, Spread
from briefgen.proof.deciding_latest import Latest
from briefgen.proof.network import ROUNDING
from briefgen.proof.plan import Plan
from briefgen.proof.routes import Routes
from briefgen.proof.timeline import network_of

RUNS, SEED = 5_000, 1959
"""How many runs, and what their random numbers are seeded with (the year of the three-point estimate)."""


@dataclass(frozen=True)
class TaskChance:
    """A task in all runs: from its first step's start to its last step's end, and whether it was `reached`:
    begun no later than its latest moment (asked only of optional tasks)."""

    lasts: Spread
    reached: Share | None


@dataclass(frozen=True)
class Finish:
    """When the runs were over, in rising order."""

    seconds: tuple[float, ...]
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


def make_chance(plan: Plan, bare: Plan | None, latest: Sequence[Latest], routes: Routes) -> Chance:
    """The chances of a plan without circles; `bare` is the same sortie without optional tasks."""
    rows = {one.task: [step.index for step in plan.steps if str(step.task.id) == one.task] for one in latest}
    runs = list(_runs(plan, routes, rows))
    limits = plan.sortie.limits
    counts = [sum(one.critical[step.index] for one in runs) for step in plan.steps]
    return Chance(
        _finish(runs),
        limits.usable,
        limits.length.likely,
        {one.task: _task(runs, one) for one in latest},
        tuple(Share(count, RUNS) for count in counts),
        _finish(_runs(bare, routes, {}, backwards=False)) if bare else None,
    )


@dataclass(frozen=True)
class _Kept:
    """What is kept of some of the runs: an array a task, and how often each step was critical."""

    finish: Seconds
    begins: Mapping[str, Seconds]
    ends: Mapping[str, Seconds]
    critical: tuple[int, ...]


def _runs(plan: Plan, routes: Routes, rows: Mapping[str, Sequence[int]], *, backwards: bool = True) -> Iterator[_Kept]:
    durations = {step.key: step.duration for step in plan.steps}
    for block in blocks(durations, network_of(plan, routes)[1], RUNS, SEED, backwards=backwards):
        yield _Kept(
            block.finish,
            {task: block.starts[steps].min(axis=0) for task, steps in rows.items()},
            {task: block.ends[steps].max(axis=0) for task, steps in rows.items()},
            block.critical,
        )


def _finish(runs: Iterable[_Kept]) -> Finish:
    seconds = np.sort(np.concatenate([one.finish for one in runs]))
    return Finish(tuple(seconds.tolist()), _spread(seconds))


def _task(runs: Sequence[_Kept], latest: Latest) -> TaskChance:
    lasts = np.concatenate([one.ends[latest.task] - one.begins[latest.task] for one in runs])
    reached = None
    if latest.optional:
        in_time = sum(int(np.count_nonzero(one.begins[latest.task] <= latest.latest + ROUNDING)) for one in runs)
        reached = Share(in_time, RUNS)
    return TaskChance(_spread(lasts), reached)


def _spread(seconds: Seconds) -> Spread:
    return Spread(float(seconds.mean()), float(seconds.std()))
