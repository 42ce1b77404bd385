"""The order of steps that the plan guarantees, whatever the durations turn out to be.

Chains (one a person) and links make a directed graph. `before` answers in constant time from vector clocks
(Fidge 1988, Mattern 1989): a step's clock holds, for each chain, how far it must have got before the step begins.
Building takes O((steps + links) × chains).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from briefgen.proof.schedule.network import topological_order


@dataclass(frozen=True)
class Order:
    """Steps (numbered from 0) ordered by chains and links.

    `seat[step][chain]` is the step's index on a chain, `reached[step][chain]` the number of that chain's steps that
    are over before the step begins, `released[step][chain]` the index of the first that begins after it is over.
    """

    chains: Mapping[str, tuple[int, ...]]
    sequence: tuple[int, ...]
    seat: tuple[Mapping[str, int], ...]
    reached: tuple[tuple[int, ...], ...]
    released: tuple[tuple[int, ...], ...]
    _column: Mapping[str, int]

    def before(self, first: int, second: int) -> bool:
        """Whether `first` is over before `second` begins in every execution."""
        if first == second:
            return False
        chain, index = next(iter(self.seat[first].items()))
        return index < self.reached[second][self._column[chain]]

    def ordered(self, one: int, other: int) -> bool:
        """Whether the two can never run at the same time."""
        return self.before(one, other) or self.before(other, one)

    def beside(self, step: int, chain: str) -> tuple[int, int]:
        """The half-open range of a chain's indices that could run at the same time as `step`."""
        column = self._column[chain]
        return self.reached[step][column], self.released[step][column]


def order(count: int, chains: Mapping[str, Sequence[int]], links: Iterable[tuple[int, int]]) -> Order:
    """The order of `count` steps. Raises CircleFound.

    Steps on no chain are in no order but by the links; they are put on chains of their own, called `1`, `2`, …, of
    steps that are in order anyway.

    >>> plan = order(3, {"ev1": [0, 1], "ev2": [2]}, [(2, 1)])
    >>> plan.before(2, 1), plan.before(0, 1), plan.ordered(0, 2)
    (True, True, False)
    """
    before: list[set[int]] = [set() for _ in range(count)]
    for chain in chains.values():
        for first, second in pairwise(chain):
            before[second].add(first)
    for first, second in links:
        before[second].add(first)
    sequence = topological_order(
        range(count), ((one, step) for step, ones in enumerate(before) for one in sorted(ones))
    )
    seat: list[dict[str, int]] = [{} for _ in range(count)]
    for name, chain in chains.items():
        for index, step in enumerate(chain):
            seat[step][name] = index
    if not all(seat):
        chains = {**chains, **_more_chains(sequence, before, seat)}
    column = {name: number for number, name in enumerate(chains)}
    reached = _clocks(sequence, before, seat, column)
    after: list[set[int]] = [set() for _ in range(count)]
    for step, earlier in enumerate(before):
        for one in earlier:
            after[one].add(step)
    ends = [len(chain) for chain in chains.values()]
    released = _reverse_clocks(sequence, after, seat, column, ends)
    return Order(
        {name: tuple(chain) for name, chain in chains.items()}, sequence, tuple(seat), reached, released, column
    )


def _more_chains(
    sequence: Iterable[int], before: Sequence[set[int]], seat: Sequence[dict[str, int]]
) -> dict[str, tuple[int, ...]]:
    """Chains for the steps that stand on none, which are noted in `seat`. O((steps + links) × new chains)."""
    chains: list[list[int]] = []
    reached: list[list[int]] = [[]] * len(before)
    for step in sequence:
        clock: list[int] = [0] * len(chains)
        for earlier in before[step]:
            theirs = reached[earlier]
            clock[: len(theirs)] = map(max, clock, theirs)
        if not seat[step]:
            number = next((n for n, chain in enumerate(chains) if clock[n] == len(chain)), len(chains))
            if number == len(chains):
                chains.append([])
                clock.append(0)
            seat[step][str(number + 1)] = len(chains[number])
            chains[number].append(step)
            clock[number] = len(chains[number])
        reached[step] = clock
    return {str(number + 1): tuple(chain) for number, chain in enumerate(chains)}


def _clocks(
    sequence: Iterable[int], before: Sequence[set[int]], seat: Sequence[Mapping[str, int]], column: Mapping[str, int]
) -> tuple[tuple[int, ...], ...]:
    clocks: list[tuple[int, ...]] = [()] * len(before)
    for step in sequence:
        clock = [0] * len(column)
        for earlier in before[step]:
            clock = list(map(max, clock, clocks[earlier]))
            for chain, index in seat[earlier].items():
                clock[column[chain]] = max(clock[column[chain]], index + 1)
        clocks[step] = tuple(clock)
    return tuple(clocks)


def _reverse_clocks(
    sequence: Sequence[int],
    after: Sequence[set[int]],
    seat: Sequence[Mapping[str, int]],
    column: Mapping[str, int],
    ends: Sequence[int],
) -> tuple[tuple[int, ...], ...]:
    clocks: list[tuple[int, ...]] = [()] * len(after)
    for step in reversed(sequence):
        clock = list(ends)
        for later in after[step]:
            clock = list(map(min, clock, clocks[later]))
            for chain, index in seat[later].items():
                clock[column[chain]] = min(clock[column[chain]], index)
        clocks[step] = tuple(clock)
    return tuple(clocks)
