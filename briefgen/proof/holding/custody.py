"""Where every tool and bag is, proved by order: each pick, use, hand-over and leave, and what comes home.

Pure: a plan and the whereabouts at its start go in; proof, moves and the end come out. Bags hold tools and bags, so
where a tool is follows from where its bag is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from briefgen.model.library import Library
from briefgen.proof.ordering.reliance import Found, Reliance
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.source import Text


@dataclass(frozen=True, order=True)
class Spot:
    """Where a thing is: in a place, in a bag, or with a person (`kind` is `places`, `bags` or `people`)."""

    kind: str
    id: str


class Act(StrEnum):
    """What a step does with a thing."""

    PICKS = "picks"
    USES = "uses"
    SPENDS = "spends"
    HANDS = "hands"
    LEAVES = "leaves"
    INTO = "into"  # the bag into which something is left


@dataclass(frozen=True)
class Handling:
    """A step handles a thing; `words` is its name as written there, with its place."""

    step: int
    act: Act
    thing: str
    words: Text


@dataclass(frozen=True)
class Handled:
    """A handling and what the step finds: the thing's chain of spots, from the nearest to a place or a person.

    `answers` belong to the thing and to each bag around it. `reachable` says whether the act can be done there.
    """

    handling: Handling
    chain: tuple[Spot, ...]
    answers: tuple[tuple[str, Found[Spot]], ...]
    reachable: bool

    @property
    def certain(self) -> bool:
        """Whether the order alone settles where it is."""
        return all(answer.certain for _, answer in self.answers)

    @property
    def fails(self) -> bool:
        """The step must not count on it."""
        return not self.certain or not self.reachable

    @property
    def outermost(self) -> Spot:
        """The spot that holds all others: a place or a person."""
        return self.chain[-1]


@dataclass(frozen=True)
class Move:
    """A thing changes hands or places at the end of a step (`picks`: at its beginning)."""

    step: int
    thing: str
    goal: Spot


@dataclass(frozen=True)
class CustodyProof:
    """Every handling with what it finds, every move, where all things begin and end, and what is left of each lot."""

    plan: Plan
    starts: Mapping[str, Spot]
    handled: tuple[Handled, ...]
    moves: tuple[Move, ...]
    endings: Mapping[str, Found[Spot]]
    ends: Mapping[str, Spot]
    stock: Mapping[str, int]
    left: Mapping[str, int]


def first_spots(library: Library) -> dict[str, Spot]:
    """Where everything is stowed before the first sortie."""
    spots = {}
    for things in (library.tools, library.bags):
        for name, thing in things.items():
            kind = "bags" if thing.stowed in library.bags else "places"
            spots[name] = Spot(kind, str(thing.stowed))
    return spots


def first_stock(library: Library) -> dict[str, int]:
    """How many of each consumable there are before the first sortie."""
    return {name: tool.count for name, tool in library.tools.items() if tool.consumable}


def prove_custody(plan: Plan, starts: Mapping[str, Spot], stock: Mapping[str, int]) -> CustodyProof:
    """The proof for a plan without circles. O(handlings × depth of bags × chains × log moves)."""
    moves = tuple(_moves(plan))
    changes: dict[str, dict[int, Spot]] = {}
    for move in moves:
        # Within a step picks come first, so a later move of the same step stands for what the step leaves behind.
        changes.setdefault(move.thing, {})[move.step] = move.goal
    reliance = Reliance(plan.order, starts, changes)
    endings = {thing: reliance.finally_(thing) for thing in changes}
    ends = {**starts, **{thing: answer.value for thing, answer in endings.items()}}
    handled = tuple(_handle(plan, reliance, handling) for handling in handlings(plan) if handling.thing in starts)
    return CustodyProof(plan, starts, handled, moves, endings, ends, stock, _left(plan, stock))


def with_stock(proof: CustodyProof, stock: Mapping[str, int]) -> CustodyProof:
    """The same proof for other lots: what they hold changes nothing but what is left of them."""
    if stock == proof.stock:
        return proof
    left = {name: number - proof.stock[name] + proof.left[name] for name, number in stock.items()}
    return replace(proof, stock=stock, left=left)


def loops_in(spots: Mapping[str, Spot]) -> Iterator[tuple[str, ...]]:
    """Bags that lie in themselves, directly or through others; each loop once, its lowest name first."""
    seen: set[str] = set()
    for start in sorted(spots):
        trail: list[str] = []
        name = start
        while name and name not in seen:
            seen.add(name)
            trail.append(name)
            spot = spots.get(name)
            name = spot.id if spot and spot.kind == "bags" else ""
        if name in trail:
            loop = trail[trail.index(name) :]
            lowest = loop.index(min(loop))
            yield (*loop[lowest:], *loop[:lowest])


def handlings(plan: Plan) -> Iterator[Handling]:
    """Everything that steps do with things, within a step in the order in which it happens."""
    for step in plan.steps:
        yield from handlings_of(plan.library, step)


def handlings_of(library: Library, step: PlannedStep) -> Iterator[Handling]:
    """The same of one step."""
    record = step.step
    for words in record.picks:
        yield Handling(step.index, Act.PICKS, str(words), words)
    for use in record.uses:
        yield Handling(step.index, Act.USES, str(use.tool), use.tool)
    for words in record.spends:
        yield Handling(step.index, Act.SPENDS, str(words), words)
    for words in record.hands:
        yield Handling(step.index, Act.HANDS, str(words), words)
    for words, goal in record.leaves.items():
        yield Handling(step.index, Act.LEAVES, str(words), words)
        if goal in library.bags:
            yield Handling(step.index, Act.INTO, str(goal), goal)


def _moves(plan: Plan) -> Iterator[Move]:
    for step in plan.steps:
        yield from moves_of(plan.library, step)


def moves_of(library: Library, step: PlannedStep) -> Iterator[Move]:
    """What a step moves where, in the order in which it happens."""
    if step.outside:
        yield from (Move(step.index, str(thing), Spot("people", step.outside[0])) for thing in step.step.picks)
    for thing, receiver in step.step.hands.items():
        yield Move(step.index, str(thing), Spot("people", str(receiver)))
    for thing, goal in step.step.leaves.items():
        yield Move(step.index, str(thing), Spot("bags" if goal in library.bags else "places", str(goal)))


def _handle(plan: Plan, reliance: Reliance[str, Spot], handling: Handling) -> Handled:
    step = plan.steps[handling.step]
    answers: list[tuple[str, Found[Spot]]] = []
    chain: list[Spot] = []
    name = handling.thing
    while name not in (one for one, _ in answers):
        answer = reliance.at(name, step.index)
        if chain or handling.act is not Act.PICKS:
            answer = _after_picks(step, name, answer)
        answers.append((name, answer))
        chain.append(answer.value)
        if answer.value.kind != "bags":
            break
        name = answer.value.id
    return Handled(handling, tuple(chain), tuple(answers), reachable(plan, step, handling, tuple(chain)))


def _after_picks(step: PlannedStep, name: str, answer: Found[Spot]) -> Found[Spot]:
    """What a step finds of a thing that it has just picked: it is in the picker's hands, by the step itself."""
    if name in step.step.picks and step.outside:
        return Found(Spot("people", step.outside[0]), step.index)
    return answer


def reachable(plan: Plan, step: PlannedStep, handling: Handling, chain: tuple[Spot, ...]) -> bool:
    """Whether what is handled is where it can be reached: where the step is done, or with who does it."""
    near, far = chain[0], chain[-1]
    at_hand = far == Spot("places", step.place or "") or (far.kind == "people" and far.id in step.people)
    match handling.act:
        case Act.PICKS:
            return at_hand and near.kind != "people"
        case Act.HANDS:
            # What the receiver has already is handed over by nobody.
            return near.kind == "people" and near.id in step.people and near.id != handed_to(step, handling.thing)
        case Act.LEAVES:
            return near.kind == "people" and near.id in step.people
        case Act.USES | Act.SPENDS:
            # A tool that lies loose at the place must be picked first; in a bag that is there, it is at hand.
            held = near.kind == "people" and near.id in step.people
            return held or (near.kind == "bags" and at_hand)
        case Act.INTO:
            return (at_hand or handling.thing in step.step.leaves) and not put_into_itself(step, handling.thing, chain)


def handed_to(step: PlannedStep, thing: str) -> str | None:
    """To whom a step hands a thing."""
    return next((str(person) for name, person in step.step.hands.items() if name == thing), None)


def put_into_itself(step: PlannedStep, bag: str, chain: tuple[Spot, ...]) -> tuple[str, ...]:
    """The bags that a step leaves in a bag that lies in them."""
    around = {spot.id for spot in chain if spot.kind == "bags"} - {bag}
    return tuple(str(thing) for thing, goal in step.step.leaves.items() if goal == bag and thing in around)


def _left(plan: Plan, stock: Mapping[str, int]) -> dict[str, int]:
    left = dict(stock)
    for step in plan.steps:
        for thing, number in step.step.spends.items():
            if thing in left:
                left[str(thing)] -= number * step.times
    return left
