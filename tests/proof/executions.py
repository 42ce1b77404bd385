"""Every state that some execution of a small plan can be in, walked through by brute force."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from briefgen.proof.plan import Plan

State = tuple[frozenset[int], frozenset[int]]
"""The steps that are over, and those that are running."""


def states_of(plan: Plan) -> Iterator[State]:
    """Each state once, whatever the durations; exponential in the steps of people who don't wait for each other."""
    earlier: dict[int, set[int]] = {step.index: set() for step in plan.steps}
    for flow in plan.flows.values():
        for first, second in itertools.pairwise(flow):
            earlier[second].add(first)
    for link in plan.links:
        earlier[link.second].add(link.first)
    seen: set[State] = {(frozenset(), frozenset())}
    agenda = list(seen)
    while agenda:
        done, running = agenda.pop()
        yield done, running
        starts = [index for index in earlier if index not in done | running and earlier[index] <= done]
        states = [(done, running | {index}) for index in starts] + [(done | {one}, running - {one}) for one in running]
        for state in states:
            if state not in seen:
                seen.add(state)
                agenda.append(state)
