"""What a sortie may leave behind: the states in which equipment may end, and where tools and bags may lie.

Pure: a plan's records go in. What is left over on purpose stands in the sortie's `carries_over`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from briefgen.proof.holding.custody import Spot
from briefgen.proof.ordering.states import Item, StateProof
from briefgen.proof.plan import Plan


def may_end(plan: Plan, equipment: str) -> frozenset[str]:
    """The states in which an equipment may end: its `ends`, or as it first was; or as the sortie leaves it over.

    Where the sortie's own `ends` name it, only those.
    """
    own = next((states for name, states in plan.sortie.ends.items() if name == equipment), None)
    if own is not None:
        return frozenset(map(str, own))
    return frozenset((*plan.library.equipment[equipment].allowed_ends, *_carried(plan, equipment)))


def owes(plan: Plan, states: StateProof, item: Item, last: bool) -> bool:
    """Whether it is asked how an item ends: of what the sortie changed or its `ends` name, and in the end of all."""
    return last or item in states.endings or item[0] in map(str, plan.sortie.ends)


def may_lie(plan: Plan, thing: str) -> frozenset[str]:
    """The places and bags in which a tool or bag of the library may be in the end, or in what lies there."""
    record = plan.library.thing(thing)
    assert record is not None  # only what is in the library has been anywhere
    return frozenset((*map(str, record.ends), str(record.stowed), *_carried(plan, thing), plan.home or ""))


def _carried(plan: Plan, name: str) -> Iterator[str]:
    return (str(goal) for one, goal in plan.sortie.carries_over.items() if one == name)


def lies_well(chain: Iterable[Spot], allowed: frozenset[str]) -> bool:
    """Whether a thing, or a bag around it, is where the thing may be; nobody's hands are such a place."""
    return any(one.kind != "people" and one.id in allowed for one in chain)


def around(spots: Mapping[str, Spot], thing: str, spot: Spot) -> Iterator[Spot]:
    """From a thing's own spot through the bags around it, the nearest first; stops where bags lie in themselves."""
    seen = {thing}
    yield spot
    while spot.kind == "bags" and spot.id not in seen:
        seen.add(spot.id)
        spot = spots[spot.id]
        yield spot
