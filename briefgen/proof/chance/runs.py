"""Runs of a plan with durations drawn at random: one pass forwards and one backwards for all runs at once.

Pure: a network and durations go in; knows no task or person. Every step draws from a stream of its own, seeded by its
name, so a change of the plan leaves the luck of all other steps as it was. Only the bits of PCG64 are used (M. E.
O'Neill, "PCG: a family of simple fast space-efficient statistically good algorithms for random number generation",
2014): NumPy promises that they stay the same from version to version, which it does not of its distributions.
Times in seconds. O((steps + orders) × runs); memory for a block of runs only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b

import numpy as np
from numpy.random import PCG64

from briefgen.proof.chance.table import TABLE_BITS, Seconds, quantiles
from briefgen.proof.schedule.gates import Gate, Gates
from briefgen.proof.schedule.network import ROUNDING, Edge, topological_order
from briefgen.units import Duration

_BLOCK, _CELLS = 2000, 4_000_000


@dataclass(frozen=True)
class Batch:
    """Some of the runs: when each step starts and ends, when all is over, and which steps were critical then.

    A row a step, a column a run; `finish` has one number a run. `critical` is counted, one number a step.
    """

    starts: Seconds
    ends: Seconds
    finish: Seconds
    critical: tuple[int, ...]


class Dice:
    """Durations of steps, block after block; a fixed duration is always the same."""

    def __init__(self, durations: Mapping[str, Duration], seed: int) -> None:
        self._streams = [_streams(seed, name, one) for name, one in durations.items()]
        self._tables = [quantiles(one) / one.draws if one.three_points else None for one in durations.values()]
        self._likely = [one.likely for one in durations.values()]

    def throw(self, runs: int) -> Seconds:
        """A row a step, a column a run; `runs` is a multiple of four."""
        drawn = np.empty((len(self._likely), runs))
        for row, (streams, table) in enumerate(zip(self._streams, self._tables, strict=True)):
            if table is None:
                drawn[row] = self._likely[row]
                continue
            _draw(streams[0], table, drawn[row])
            for stream in streams[1:]:
                drawn[row] += _draw(stream, table, np.empty(runs))
        return drawn


def _streams(seed: int, name: str, duration: Duration) -> list[PCG64]:
    """One for each draw, so that it matters to none of them how many runs are made at once."""
    names = [name, *(f"{name} #{number}" for number in range(2, duration.draws + 1))]
    return [PCG64(_seed(seed, one)) for one in names] if duration.three_points else []


def _draw(stream: PCG64, table: Seconds, drawn: Seconds) -> Seconds:
    """Fills in a draw a run: four of 16 bits in each word; the highest bits of one are an entry of the table."""
    words = stream.random_raw(len(drawn) // 4).astype("<u8", copy=False).view("<u2")
    return table.take(words >> (16 - TABLE_BITS), out=drawn, mode="clip")


def _seed(seed: int, name: str) -> list[int]:
    return [seed, int.from_bytes(blake2b(name.encode(), digest_size=8).digest(), "big")]


def blocks(
    durations: Mapping[str, Duration], edges: Iterable[Edge[int]], runs: int, seed: int, *, backwards: bool = True,
    gates: Gates | None = None,
) -> Iterator[Batch]:  # fmt: skip
    """The runs of a network in blocks. Nodes are numbered in the order of `durations`; others in `edges` stand for
    people at the start and take no time. Without `backwards` nothing is said of critical steps. Raises CircleFound.
    """
    net, dice = _Net(len(durations), list(edges), gates or {}), Dice(durations, seed)
    size = max(4, min(_BLOCK, _CELLS // max(1, len(durations))) // 4 * 4)
    for begin in range(0, runs, size):
        drawn = dice.throw(min(size, runs - begin))
        starts, ends = net.forwards(drawn)
        finish = ends.max(axis=0) if len(ends) else np.zeros(drawn.shape[1])
        critical = net.critical(drawn, starts, finish) if backwards else ()
        yield Batch(starts, ends, finish, critical)


def _open(gate: Gate, starts: Seconds) -> None:
    """Moves each beginning to when the gate opens, as `Gate.opens` does one by one."""
    np.maximum(starts, gate.earliest, out=starts)
    if gate.event:
        moments = np.array([*gate.openings, gate.end])
        numbers = np.searchsorted(moments[:-1], starts - ROUNDING, side="left")
        np.maximum(starts, moments[numbers], out=starts)


class _Net:
    """The orders between numbered steps, and the earliest that each may start because of the way to it."""

    def __init__(self, count: int, edges: Sequence[Edge[int]], gates: Gates) -> None:
        self.gates = gates
        inner = [edge for edge in edges if edge[0] < count]
        self.sequence = topological_order(range(count), ((first, second) for first, second, _ in inner))
        self.least = [0.0] * count
        self.before: list[list[tuple[int, float]]] = [[] for _ in range(count)]
        self.after: list[list[tuple[int, float]]] = [[] for _ in range(count)]
        for first, second, lag in inner:
            self.before[second].append((first, lag))
            self.after[first].append((second, lag))
        for first, second, lag in edges:
            if first >= count:
                self.least[second] = max(self.least[second], lag)

    def forwards(self, drawn: Seconds) -> tuple[Seconds, Seconds]:
        """The earliest start and end of each step in each run."""
        starts, ends, ready = np.empty_like(drawn), np.empty_like(drawn), np.empty(drawn.shape[1])
        for step in self.sequence:
            start = starts[step]
            start.fill(self.least[step])
            for earlier, lag in self.before[step]:
                np.maximum(start, np.add(ends[earlier], lag, out=ready) if lag else ends[earlier], out=start)
            if step in self.gates:
                _open(self.gates[step], start)
            np.add(start, drawn[step], out=ends[step])
        return starts, ends

    def critical(self, drawn: Seconds, starts: Seconds, finish: Seconds) -> tuple[int, ...]:
        """In how many runs each step could not slip at all without ending the whole later."""
        tails, beyond = np.empty_like(drawn), np.empty(drawn.shape[1])
        counts = [0] * len(drawn)
        bound = finish - ROUNDING
        for step in reversed(self.sequence):
            tail = tails[step]
            tail.fill(0.0)
            for later, lag in self.after[step]:
                np.maximum(tail, np.add(tails[later], lag, out=beyond) if lag else tails[later], out=tail)
            tail += drawn[step]
            np.add(starts[step], tail, out=beyond)
            counts[step] = int(np.count_nonzero(beyond > bound))
        return tuple(counts)
