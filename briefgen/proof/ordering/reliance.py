"""What a step may rely on, whatever the durations turn out to be.

A *matter* is anything that steps change and rely on: an item's state, a tool's whereabouts. A step may rely on a
matter when the order graph alone says which step changed it last: every other change is over before, or begins after,
and of those before, one is the last. Then every execution finds the same value, from the same source.

Cost of one answer: O(chains × log changes), by bisection along each person's chain (see `order`).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from briefgen.proof.ordering.happens_before import Order

Matter = TypeVar("Matter", bound=Hashable)
Value = TypeVar("Value")


@dataclass(frozen=True)
class Found(Generic[Value]):
    """What a step finds. `source` is the step that brought the value about, None for the start of the sortie.

    `racing` are changes that could run at the same time; `rivals` are changes before it of which none is the last.
    Where either is not empty, the value holds only by luck.
    """

    value: Value
    source: int | None
    racing: tuple[int, ...] = ()
    rivals: tuple[int, ...] = ()

    @property
    def certain(self) -> bool:
        """Whether the order alone settles it."""
        return not self.racing and not self.rivals


class Reliance(Generic[Matter, Value]):
    """All changes of all matters in one order; `starts` holds the values at the beginning."""

    def __init__(
        self, order: Order, starts: Mapping[Matter, Value], changes: Mapping[Matter, Mapping[int, Value]]
    ) -> None:
        self._order = order
        self._starts = starts
        self._changes = changes
        self._seats = {matter: self._by_chain(steps) for matter, steps in changes.items()}

    def _by_chain(self, steps: Mapping[int, Value]) -> dict[str, list[tuple[int, int]]]:
        seats: dict[str, list[tuple[int, int]]] = {}
        for step in steps:
            for chain, seat in self._order.seat[step].items():
                seats.setdefault(chain, []).append((seat, step))
        for row in seats.values():
            row.sort()
        return seats

    def changes_of(self, matter: Matter) -> Mapping[int, Value]:
        """The steps that change a matter, with the value each leaves behind."""
        return self._changes.get(matter, {})

    def at(self, matter: Matter, step: int) -> Found[Value]:
        """What `step` finds from its beginning to its end; its own change comes at its end."""
        last: list[int] = []
        beside: set[int] = set()
        for chain, row in self._seats.get(matter, {}).items():
            low, high = self._order.beside(step, chain)
            first = bisect_left(row, (low, -1))
            if first:
                last.append(row[first - 1][1])
            if first < len(row) and row[first][0] < high:
                beside |= _until(row, first, high)
        return self._answer(matter, last, tuple(sorted(beside - {step})))

    def racing(self, matter: Matter, step: int) -> tuple[int, ...]:
        """The steps other than `step` that change a matter and could run at the same time."""
        beside: set[int] = set()
        for chain, row in self._seats.get(matter, {}).items():
            low, high = self._order.beside(step, chain)
            beside |= _until(row, bisect_left(row, (low, -1)), high)
        return tuple(sorted(beside - {step}))

    def finally_(self, matter: Matter) -> Found[Value]:
        """What is found when all steps are over."""
        last = [row[-1][1] for row in self._seats.get(matter, {}).values()]
        return self._answer(matter, last, ())

    def _answer(self, matter: Matter, last: list[int], racing: tuple[int, ...]) -> Found[Value]:
        if not last:
            return Found(self._starts[matter], None, racing)
        latest = last
        if len(last) > 1:
            latest = sorted({one for one in last if not any(self._order.before(one, other) for other in last)})
        value = self._changes[matter][latest[0]]
        rivals = tuple(latest) if len(latest) > 1 else ()
        return Found(value, latest[0], racing, rivals)


def _until(row: Sequence[tuple[int, int]], first: int, high: int) -> set[int]:
    """The steps of a chain's row from `first` on whose seats lie below `high`."""
    return {step for _, step in row[first : bisect_left(row, (high, -1))]}
