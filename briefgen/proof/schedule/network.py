"""Earliest and latest times in an activity-on-node network, by the critical path method.

Pure: durations and orders go in, times come out; knows no step, task or person. All times are seconds.

Sources: J. E. Kelley and M. R. Walker, "Critical-path planning and scheduling" (1959), for the two passes and
the slacks; A. B. Kahn, "Topological sorting of large networks", CACM 5 (1962), for the order; D. G. Malcolm
et al., "Application of a technique for research and development program evaluation", Operations Research 7
(1959), for the three-point estimate.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeAlias, TypeVar

if TYPE_CHECKING:
    from briefgen.proof.schedule.gates import Gate

N = TypeVar("N", bound=Hashable)
Edge: TypeAlias = tuple[N, N, float]
"""(a, b, lag): b starts no earlier than the end of a plus the lag in seconds."""

ROUNDING = 1e-6
"""Seconds. A slack smaller than this is the rounding of sums, and counts as none."""


class CircleFound(ValueError):
    """The orders run in a circle, so that nothing on it could ever start.

    `circle` lists its nodes in order, none twice: each is ahead of the next, and the last ahead of the first.
    """

    def __init__(self, circle: tuple[Hashable, ...]) -> None:
        super().__init__("circle: " + " -> ".join(str(node) for node in (*circle, circle[0])))
        self.circle = circle


@dataclass(frozen=True, kw_only=True, slots=True)
class NodeTimes(Generic[N]):
    """When one node can and must run, in seconds from the network's start.

    `total_slack` is how far it may slip before the deadline (without one: the network's finish) is missed; it
    is negative when the deadline is already missed. `free_slack` is how far it may slip before anything else
    starts later or the network ends later. `binding` is the edge that determined the earliest start: of
    several that would, the one listed first; None when nothing comes before, or a gate determined it (`gated`).
    """

    duration: float
    earliest_start: float
    latest_start: float
    free_slack: float
    binding: Edge[N] | None
    gated: bool = False

    @property
    def earliest_finish(self) -> float:
        """The earliest start and the duration. In seconds."""
        return self.earliest_start + self.duration

    @property
    def latest_finish(self) -> float:
        """The latest start and the duration. In seconds."""
        return self.latest_start + self.duration

    @property
    def total_slack(self) -> float:
        """By how much it may begin later without a later end of the whole. In seconds."""
        return _rounded(self.latest_start - self.earliest_start)


@dataclass(frozen=True, kw_only=True, slots=True)
class NetworkSchedule(Generic[N]):
    """The times of every node, in the order the nodes were given.

    `finish` is the earliest finish of the whole, in seconds. `critical` are all nodes that cannot slip at all
    without moving it (whatever the deadline). `chain` is one unbroken chain of them, from a node that waits
    for nothing to a node that nothing waits for: of several, the one through the binding edges.
    """

    times: Mapping[N, NodeTimes[N]]
    finish: float
    critical: frozenset[N]
    chain: tuple[N, ...]


def schedule_network(
    durations: Mapping[N, float],
    edges: Iterable[Edge[N]],
    deadline: float | None = None,
    gates: Mapping[N, Gate] | None = None,
) -> NetworkSchedule[N]:
    """The critical path method, in O(nodes + edges).

    `durations` gives seconds (at least 0) per node; `edges` are (a, b, lag) with start(b) >= end(a) + lag,
    the lag in seconds and at least 0; several edges may join the same two nodes. A node with a gate starts
    no earlier than it opens once all else is ready. With a `deadline` in seconds
    the latest times are counted from it, else from the network's own finish. Everything starts at 0.

    Raises CircleFound, and ValueError for a time that is negative or not a number, or an edge to a node
    without a duration.

    >>> edges = [("dig", "plant", 5), ("fetch", "plant", 0)]
    >>> plan = schedule_network({"dig": 60, "fetch": 20, "plant": 30}, edges)
    >>> plan.finish, plan.chain, plan.times["fetch"].total_slack
    (95.0, ('dig', 'plant'), 45.0)
    >>> plan.times["plant"].binding
    ('dig', 'plant', 5)
    """
    graph = _Graph(durations, edges, gates or {})
    order = graph.order()
    if deadline is not None and not math.isfinite(deadline):
        raise ValueError(f"the deadline {deadline!r} is not a time")
    starts, ends, binding, gated = _earliest(graph, order)
    finish = max(ends, default=0.0)
    horizon = finish if deadline is None else float(deadline)
    latest_starts, free_slacks = _latest(graph, order, starts, finish, horizon)
    times = {
        node: NodeTimes(
            duration=graph.durations[i],
            earliest_start=starts[i],
            latest_start=latest_starts[i],
            free_slack=_rounded(free_slacks[i]),
            binding=graph.edges[binding[i]] if binding[i] >= 0 else None,
            gated=i in gated,
        )
        for i, node in enumerate(graph.nodes)
    }
    unmoved = horizon - finish + ROUNDING
    if graph.gates:  # how far something may slip up to a gate's opening is the same whatever the deadline
        latest_starts, unmoved = _latest(graph, order, starts, finish, finish)[0], ROUNDING
    slipping = zip(graph.nodes, starts, latest_starts, strict=True)
    critical = frozenset(node for node, early, late in slipping if late - early < unmoved)
    return NetworkSchedule(times=times, finish=finish, critical=critical, chain=_chain(graph, times, finish))


def topological_order(nodes: Iterable[N], edges: Iterable[tuple[N, N]]) -> tuple[N, ...]:
    """The nodes so that each comes after all that it waits for (Kahn), in O(nodes + edges).

    The same input gives the same order: whoever is free first comes first, and ties keep the given order.
    Raises CircleFound, and ValueError for an edge to an unknown node.

    >>> topological_order(["c", "a", "b"], [("a", "b"), ("b", "c")])
    ('a', 'b', 'c')
    """
    graph = _Graph(dict.fromkeys(nodes, 0.0), ((a, b, 0.0) for a, b in edges))
    return tuple(graph.nodes[i] for i in graph.order())


def pert_mean(shortest: float, likely: float, longest: float) -> float:
    """The mean (a + 4 m + b) / 6 of a three-point estimate, in the unit of its points.

    Raises ValueError unless shortest <= likely <= longest.

    >>> pert_mean(3, 4, 11)
    5.0
    """
    if not shortest <= likely <= longest:
        raise ValueError(f"the points {shortest!r}, {likely!r}, {longest!r} do not rise")
    return (shortest + 4 * likely + longest) / 6


class _Graph(Generic[N]):
    """The network with nodes and edges counted from 0 and kept in flat lists, which is what makes it fast."""

    def __init__(
        self, durations: Mapping[N, float], edges: Iterable[Edge[N]], gates: Mapping[N, Gate] | None = None
    ) -> None:
        self.nodes = list(durations)
        self.durations = [float(seconds) for seconds in durations.values()]
        self.edges = list(edges)
        self.lags = [lag for _, _, lag in self.edges]
        _check_times(self.durations, self.nodes)
        _check_times(self.lags, self.edges)
        index = {node: i for i, node in enumerate(self.nodes)}
        try:
            self.sources = [index[a] for a, _, _ in self.edges]
            self.targets = [index[b] for _, b, _ in self.edges]
        except KeyError as error:
            raise ValueError(f"an edge names {error.args[0]!r}, which has no duration") from None
        self.gates = {index[node]: gate for node, gate in (gates or {}).items()}
        self.after: list[list[int]] = [[] for _ in self.nodes]
        for k, i in enumerate(self.sources):
            self.after[i].append(k)

    def order(self) -> list[int]:
        """The nodes so that each comes after all that it waits for; raises CircleFound."""
        waiting = [0] * len(self.nodes)
        for j in self.targets:
            waiting[j] += 1
        free = deque(i for i, count in enumerate(waiting) if count == 0)
        order = []
        while free:
            i = free.popleft()
            order.append(i)
            for k in self.after[i]:
                j = self.targets[k]
                waiting[j] -= 1
                if waiting[j] == 0:
                    free.append(j)
        if len(order) < len(self.nodes):
            raise CircleFound(tuple(self.nodes[i] for i in self._circle(waiting)))
        return order

    def _circle(self, waiting: Sequence[int]) -> list[int]:
        """A shortest circle through a node that is on one; it begins with its first given node."""
        # Whoever still waits has a predecessor that still waits: walking back must come round.
        back: dict[int, int] = {}
        for i, j in zip(self.sources, self.targets, strict=True):
            if waiting[i] and waiting[j]:
                back.setdefault(j, i)
        node, seen = min(back), set()
        while node not in seen:
            seen.add(node)
            node = back[node]
        circle = self._way_round(node)
        first = circle.index(min(circle))
        return circle[first:] + circle[:first]

    def _way_round(self, origin: int) -> list[int]:
        came_from: dict[int, int] = {}
        queue = deque([origin])
        while origin not in came_from:
            i = queue.popleft()
            for j in (self.targets[k] for k in self.after[i]):
                if j not in came_from:
                    came_from[j] = i
                    queue.append(j)
        circle = [origin]
        while (previous := came_from[circle[-1]]) != origin:
            circle.append(previous)
        return circle[::-1]


def _earliest(graph: _Graph[N], order: Iterable[int]) -> tuple[list[float], list[float], list[int], set[int]]:
    """Earliest starts and ends, the number of each node's binding edge (-1: none), and the nodes that gates bind."""
    starts = [0.0] * len(graph.nodes)
    ends = [0.0] * len(graph.nodes)
    binding = [-1] * len(graph.nodes)
    gated: set[int] = set()
    for i in order:
        if i in graph.gates and (opens := graph.gates[i].opens(starts[i])) > starts[i]:
            if opens > starts[i] + ROUNDING:
                binding[i] = -1
                gated.add(i)
            starts[i] = opens
        end = ends[i] = starts[i] + graph.durations[i]
        for k in graph.after[i]:
            j, ready = graph.targets[k], end + graph.lags[k]
            if ready > starts[j] or binding[j] < 0 or (ready == starts[j] and k < binding[j]):
                starts[j], binding[j] = ready, k
    return starts, ends, binding, gated


def _latest(
    graph: _Graph[N], order: Sequence[int], starts: Sequence[float], finish: float, horizon: float
) -> tuple[list[float], list[float]]:
    """Latest starts that keep the horizon, and free slacks."""
    latest_starts = [0.0] * len(graph.nodes)
    free_slacks = [0.0] * len(graph.nodes)
    for i in reversed(order):
        latest_end, undisturbing_end = horizon, finish
        for k in graph.after[i]:
            j, lag = graph.targets[k], graph.lags[k]
            # Comparing by hand instead of by min() halves the time of this pass.
            latest = graph.gates[j].ready_by(latest_starts[j]) if j in graph.gates else latest_starts[j]
            if (end := latest - lag) < latest_end:
                latest_end = end
            if (end := starts[j] - lag) < undisturbing_end:
                undisturbing_end = end
        latest_starts[i] = latest_end - graph.durations[i]
        free_slacks[i] = undisturbing_end - starts[i] - graph.durations[i]
    return latest_starts, free_slacks


def _chain(graph: _Graph[N], times: Mapping[N, NodeTimes[N]], finish: float) -> tuple[N, ...]:
    last = (n for n, after in zip(graph.nodes, graph.after, strict=True) if not after)
    node = next((n for n in last if times[n].earliest_finish == finish), None)
    chain = []
    while node is not None:
        chain.append(node)
        binding = times[node].binding
        node = None if binding is None else binding[0]
    return tuple(reversed(chain))


def _check_times(values: Sequence[float], owners: Iterable[object]) -> None:
    # Most networks are well: a look at the least and the sum, which nan and infinity spoil, is enough.
    if not values or (min(values) >= 0 and sum(values) < math.inf):
        return
    for value, owner in zip(values, owners, strict=True):
        if not 0 <= value < math.inf:
            raise ValueError(f"{owner!r} has the time {value!r}: it must be a number of seconds, 0 or more")


def _rounded(slack: float) -> float:
    return slack if abs(slack) >= ROUNDING else 0.0
