"""Things that are taken while they may still be fitted somewhere, whatever the durations turn out to be.

Pure: a plan with its states goes in. A thing is fitted while the equipment of its `fitted_as` is in the state that
stands there; fitting it leaves it there, which custody proves. O(picks × what they may be fitted as).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.ordering.reliance import Found
from briefgen.proof.ordering.states import Item, StateProof
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.source import Text


@dataclass(frozen=True)
class Stuck:
    """A step takes a thing (`words`) while `item` may be in the state in which the thing is fitted."""

    step: PlannedStep
    words: Text
    item: Item
    state: str
    answer: Found[str]


def still_fitted(plan: Plan, states: StateProof) -> Iterator[Stuck]:
    """Every pick that is not sure to find the thing loose; a step may bring another state about itself."""
    tools = plan.library.tools
    for step in plan.steps:
        for words in step.step.picks:
            for name, state in tools[words].fitted_as.items() if words in tools else ():
                item: Item = (str(name), ())
                frees = any(one == name and its != state for one, its in step.step.sets.items())
                if frees or item not in states.starts:
                    continue
                answer = states.reliance.at(item, step.index)
                if not answer.certain or answer.value == state:
                    yield Stuck(step, words, item, str(state), answer)
