"""Which entries of two sequences belong together: one that was put in does not make all later ones look changed.

A longest common subsequence; for sequences without repetitions, a longest increasing one. Pure; knows no record.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Iterator, Sequence


def alignment(old: Sequence[Hashable], new: Sequence[Hashable]) -> list[tuple[int, int]]:
    """The index pairs of a longest common subsequence, rising. O(len(old) × len(new)) where they differ.

    >>> alignment("axbc", "abyc")
    [(0, 0), (2, 1), (3, 3)]
    """
    head = 0
    while head < min(len(old), len(new)) and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    middle = _walk(old[head : len(old) - tail], new[head : len(new) - tail])
    ends = ((len(old) - back, len(new) - back) for back in range(tail, 0, -1))
    return [*((i, i) for i in range(head)), *((head + i, head + j) for i, j in middle), *ends]


def _walk(old: Sequence[Hashable], new: Sequence[Hashable]) -> Iterator[tuple[int, int]]:
    """The pairs along the lengths that can still be reached (Wagner and Fischer 1974)."""
    rest = [[0] * (len(new) + 1) for _ in range(len(old) + 1)]
    for i in reversed(range(len(old))):
        for j in reversed(range(len(new))):
            same = old[i] == new[j]
            rest[i][j] = rest[i + 1][j + 1] + 1 if same else max(rest[i + 1][j], rest[i][j + 1])
    i = j = 0
    while i < len(old) and j < len(new):
        if old[i] == new[j]:
            yield i, j
            i, j = i + 1, j + 1
        elif rest[i + 1][j] >= rest[i][j + 1]:
            i += 1
        else:
            j += 1


def rising(numbers: Sequence[int]) -> set[int]:
    """The indices of a longest increasing subsequence: what stayed while the others moved. O(n log n).

    >>> sorted(rising([0, 3, 1, 2]))
    [0, 2, 3]
    """
    lowest: list[int] = []
    at: list[int] = []
    before: list[int | None] = []
    for index, number in enumerate(numbers):
        length = bisect_left(lowest, number)
        before.append(at[length - 1] if length else None)
        lowest[length:], at[length:] = [number, *lowest[length + 1 :]], [index, *at[length + 1 :]]
    kept: set[int] = set()
    step = at[-1] if at else None
    while step is not None:
        kept.add(step)
        step = before[step]
    return kept


def alike(one: str, other: str) -> float:
    """The share of words that two texts have in common, in order: from 0 to 1, the same both ways round.

    >>> alike("Close all four valves.", "Close the four valves.")
    0.75
    """
    first, second = one.lower().split(), other.lower().split()
    return 2 * len(alignment(first, second)) / (len(first) + len(second)) if first or second else 1.0
