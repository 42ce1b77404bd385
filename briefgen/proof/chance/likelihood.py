"""How likely a sortie ends in time: its finish, its tasks and its critical steps in many runs with drawn durations.

What is assumed: durations are independent of each other, also those of a step for each of its items, unless the step
says that what makes one slow makes all slow; ways take as long as planned, and nobody waits but as the plan says;
everything in the flow is done in every run, optional tasks too, as soon as it can be. Times in seconds since the
sortie's start.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from briefgen.proof.chance.outcome import Chance, Finish, TaskChance
from briefgen.proof.chance.runs import Batch, blocks
from briefgen.proof.chance.share import RUNS, SEED, Share
from briefgen.proof.chance.spread import Spread
from briefgen.proof.chance.table import Seconds
from briefgen.proof.deciding.latest import Latest
from briefgen.proof.moving.routes import Routes
from briefgen.proof.plan import Plan
from briefgen.proof.schedule.gates import Gate, gates_of
from briefgen.proof.schedule.network import ROUNDING, Edge
from briefgen.proof.schedule.timeline import network_of
from briefgen.units import Duration


def make_chance(plan: Plan, bare: Plan | None, latest: Sequence[Latest], routes: Routes) -> Chance:
    """The chances of a plan without circles; `bare` is the same sortie without optional tasks."""
    runs = _runs(*_network(plan, routes), _rows(plan), backwards=True)
    limits = plan.sortie.limits
    return Chance(
        _finish(runs),
        limits.usable,
        limits.length.likely,
        {one.task: _task(runs, one) for one in latest},
        tuple(Share(count, RUNS) for count in runs.critical),
        _finish(_runs(*_network(bare, routes), (), backwards=False)) if bare else None,
    )


@dataclass(frozen=True)
class _Runs:
    """What is kept of the runs: an array a task, and how often each step was critical."""

    finish: Seconds
    begins: Mapping[str, Seconds]
    ends: Mapping[str, Seconds]
    critical: tuple[int, ...]


_Durations = tuple[tuple[str, Duration], ...]
_Gates = tuple[tuple[int, Gate], ...]
_Rows = tuple[tuple[str, tuple[int, ...]], ...]
"""For each task the numbers of its steps."""


def _network(plan: Plan, routes: Routes) -> tuple[_Durations, tuple[Edge[int], ...], _Gates]:
    durations = tuple((step.key, step.duration) for step in plan.steps)
    return durations, tuple(network_of(plan, routes)[1]), tuple(gates_of(plan).items())


def _rows(plan: Plan) -> _Rows:
    rows: dict[str, list[int]] = {}
    for step in plan.steps:
        rows.setdefault(str(step.task.id), []).append(step.index)
    return tuple((task, tuple(steps)) for task, steps in rows.items())


# While somebody writes, most changes leave the network of a sortie as it is.
@lru_cache(maxsize=8)
def _runs(durations: _Durations, edges: tuple[Edge[int], ...], gates: _Gates, rows: _Rows, *, backwards: bool) -> _Runs:
    found = list(_kept(blocks(dict(durations), edges, RUNS, SEED, backwards=backwards, gates=dict(gates)), rows))
    return _Runs(
        np.concatenate([one.finish for one in found]),
        {task: np.concatenate([one.begins[task] for one in found]) for task, _ in rows},
        {task: np.concatenate([one.ends[task] for one in found]) for task, _ in rows},
        tuple(map(sum, zip(*(one.critical for one in found), strict=True))),
    )


def _kept(found: Iterable[Batch], rows: _Rows) -> Iterator[_Runs]:
    """Block by block, so that no more than one is held as a whole."""
    for block in found:
        begins = {task: block.starts[list(steps)].min(axis=0) for task, steps in rows}
        ends = {task: block.ends[list(steps)].max(axis=0) for task, steps in rows}
        yield _Runs(block.finish, begins, ends, block.critical)


def _finish(runs: _Runs) -> Finish:
    seconds = np.sort(runs.finish)
    return Finish(array("d", seconds.tobytes()), _spread(seconds))


def _task(runs: _Runs, latest: Latest) -> TaskChance:
    begins, ends = runs.begins[latest.task], runs.ends[latest.task]
    in_time = int(np.count_nonzero(begins <= latest.latest + ROUNDING))
    return TaskChance(_spread(ends - begins), Share(in_time, RUNS) if latest.optional else None)


def _spread(seconds: Seconds) -> Spread:
    return Spread(float(seconds.mean()), float(seconds.std()))
