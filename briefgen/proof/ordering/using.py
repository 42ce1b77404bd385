"""Two steps that use one thing at the same time: proved by order, like everything else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.ordering.reliance import Reliance
from briefgen.proof.plan import Plan
from briefgen.source import Text


@dataclass(frozen=True)
class Clash:
    """`step` uses a thing while `other`, a step of somebody else, may be using it."""

    step: int
    other: int
    thing: str
    words: Text


def clashes(plan: Plan) -> Iterator[Clash]:
    """Each pair of steps that use a single tool and are not ordered, once. Lots (count above 1) can be shared."""
    lots = {name for name, tool in plan.library.tools.items() if tool.consumable}
    users: dict[str, dict[int, Text]] = {}
    for planned in plan.steps:
        for use in planned.step.uses:
            if use.tool not in lots:
                users.setdefault(str(use.tool), {})[planned.index] = use.tool
    reliance: Reliance[str, Text] = Reliance(plan.order, {}, users)
    for thing, steps in users.items():
        for step, words in steps.items():
            for other in reliance.racing(thing, step):
                if step < other:
                    yield Clash(step, other, thing, words)
