"""When steps may begin for the sake of ways back: no plan orders these.

Where one of two steps belongs to a way back and they concern the same, or one is written to come after the other, that
goes first which stands first in the order of the turns. Pure: ends go in, the earliest beginning comes out.
"""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.proof.stopping.lanes import Lanes


class _Ends:
    """The last end of the steps that touch something, that change it, and of each step by its key."""

    def __init__(self) -> None:
        self.touched: dict[str, float] = {}
        self.changed: dict[str, float] = {}
        self.keys: dict[str, float] = {}

    def put(self, touched: Iterable[str], changed: Iterable[str], key: str, end: float) -> None:
        for row, names in ((self.touched, touched), (self.changed, changed), (self.keys, (key,))):
            for name in names:
                if end > row.get(name, 0.0):
                    row[name] = end


class Queue:
    """Knows the steps that are over or under way, and when each is over."""

    def __init__(self, lanes: Lanes) -> None:
        self.lanes = lanes
        self._all, self._backs = _Ends(), _Ends()

    def put(self, turn: int, end: float) -> None:
        """A step is over then."""
        concerns, key = self.lanes.concerns[turn], self.lanes.names[turn][0]
        self._all.put(*concerns, key, end)
        if turn in self.lanes.book.backs:
            self._backs.put(*concerns, key, end)

    def free_for(self, turn: int) -> float:
        """From when on a step may begin: of what the plan orders it knows nothing."""
        ends = self._all if turn in self.lanes.book.backs else self._backs
        touched, changed = self.lanes.concerns[turn]
        found = [ends.changed[name] for name in touched if name in ends.changed]
        found += [ends.touched[name] for name in changed if name in ends.touched]
        found += [ends.keys[name] for name in self.lanes.names[turn][1] if name in ends.keys]
        return max(found, default=0.0)
