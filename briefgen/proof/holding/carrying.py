"""How much somebody outside carries as a step takes, hands over or fills something: never less than in any execution.

Pure: a plan with its custody goes in. Whatever may be with a person, by order, counts, with all that may be in their
bags. What somebody has changes by their own steps alone, so that what custody proves certain is carried just so.
O(changing steps x things x chains x log moves).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.model.library import Library
from briefgen.proof.holding.custody import CustodyProof, Spot
from briefgen.proof.ordering.reliance import Reliance
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.source import Text

Places = Mapping[str, frozenset[Spot]]


@dataclass(frozen=True)
class Load:
    """What a person may carry during or after a step: `items` directly, `mass` (kg) with all that is in the bags.

    `gains` is what the step adds first, in the author's words; None where it adds nothing.
    """

    person: str
    step: PlannedStep
    items: tuple[str, ...]
    mass: float
    gains: Text | None

    def too_much(self, library: Library) -> bool:
        """Whether that is more than the person can carry."""
        limit = library.people[self.person].carries
        return bool(limit) and (self.too_many(library) or self.too_heavy(library))

    def too_many(self, library: Library) -> bool:
        """Whether these are more things than the person may carry."""
        limit = library.people[self.person].carries
        return limit is not None and limit.items is not None and len(self.items) > limit.items

    def too_heavy(self, library: Library) -> bool:
        """Whether these have more mass than the person may carry."""
        limit = library.people[self.person].carries
        return limit is not None and limit.mass is not None and self.mass > float(limit.mass) + 1e-9


def loads(plan: Plan, custody: CustodyProof) -> Iterator[Load]:
    """The loads of everybody with a limit, in the order of the plan: of each step the heavier of before and after."""
    people = {name for name in plan.outside if plan.library.people[name].carries}
    if not people:
        return
    changes: dict[str, dict[int, Spot]] = {}
    for move in custody.moves:
        changes.setdefault(move.thing, {})[move.step] = move.goal
    reliance = Reliance(plan.order, custody.starts, changes)
    still = {thing: frozenset({spot}) for thing, spot in custody.starts.items() if thing not in changes}
    for index in plan.order.sequence:
        step = plan.steps[index]
        for person in step.outside if (step.step.picks or step.step.hands or step.step.leaves) else ():
            if person in people:
                yield _load(plan, reliance, still, step, person)


def too_much(plan: Plan, custody: CustodyProof) -> Iterator[Load]:
    """The steps by which somebody comes to carry more than they can."""
    return (load for load in loads(plan, custody) if load.gains is not None and load.too_much(plan.library))


def _load(plan: Plan, reliance: Reliance[str, Spot], still: Places, step: PlannedStep, person: str) -> Load:
    """A person's load in a step; what is `still` is never moved."""
    library, record, things = plan.library, step.step, (*plan.library.tools, *plan.library.bags)
    before = {thing: still.get(thing) or _may_be(reliance, thing, step.index) for thing in things}
    taken = {str(thing): frozenset({Spot("people", step.outside[0])}) for thing in record.picks}
    after = {str(thing): frozenset({Spot("people", str(to))}) for thing, to in record.hands.items()}
    for thing, goal in record.leaves.items():
        after[str(thing)] = frozenset({Spot("bags" if goal in library.bags else "places", str(goal))})
    stages = [{**before, **taken}, {**before, **taken, **after}]
    weighed = [_held_with_mass(library, stage, person) for stage in stages]
    items = max((held for held, _ in weighed), key=len)
    return Load(person, step, items, max(mass for _, mass in weighed), _gains(step, person, stages[1], library))


def _may_be(reliance: Reliance[str, Spot], thing: str, step: int) -> frozenset[Spot]:
    """Wherever a step may find a thing."""
    answer, changes = reliance.at(thing, step), reliance.changes_of(thing)
    return frozenset({answer.value, *(changes[one] for one in (*answer.racing, *answer.rivals))})


def _held_with_mass(library: Library, spots: Places, person: str) -> tuple[tuple[str, ...], float]:
    """What a person holds, and the mass of it and of all that is in it; what has no mass written counts nothing."""
    held: list[str] = []
    within: dict[str, list[str]] = {}
    for thing, where in spots.items():
        for spot in where:
            if spot.kind == "bags":
                within.setdefault(spot.id, []).append(thing)
            elif spot.kind == "people" and spot.id == person:
                held.append(thing)
    inside = dict.fromkeys(held)
    ahead = list(held)
    for name in ahead:
        new = [thing for thing in within.get(name, ()) if thing not in inside]
        inside.update(dict.fromkeys(new))
        ahead += new
    things = (library.thing(name) for name in inside)
    return tuple(held), sum(float(thing.mass) for thing in things if thing is not None and thing.mass is not None)


def _gains(step: PlannedStep, person: str, after: Places, library: Library) -> Text | None:
    """The first thing that the step gives the person, or puts into a bag of theirs."""
    record = step.step
    taken = record.picks if step.outside[0] == person else ()
    given = (thing for thing, to in record.hands.items() if to == person)
    filled = (thing for thing, goal in record.leaves.items() if goal in library.bags)
    carried = (thing for thing in filled if Spot("people", person) in after.get(str(record.leaves[thing]), ()))
    return next(iter((*taken, *given, *carried)), None)
