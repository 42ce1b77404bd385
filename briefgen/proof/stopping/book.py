"""What each step of a plan changes, and what it relies on, as a stop needs to know it.

Pure: the proofs of states and custody go in. Steps are numbered by their *turn*: the planned order in which they end,
which is one of the orders that the plan guarantees. Steps of ways back have turns, too, in the order in which a stop
goes them: the way back of what was done last comes first. So they stand before all that is still to come, at negative
turns (in tuples by turn, at the end). What was done before somebody went out is taken back once they are in: such ways
back stand behind all other turns. A *matter* is an item of equipment, or a tool or bag.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from briefgen.proof.holding.custody import CustodyProof, Handled, Handling, Spot, first_spots, handlings_of, moves_of
from briefgen.proof.ordering.states import Item, Need, StateProof, needs_of, seen_by, set_by
from briefgen.proof.plan import Plan, PlannedBack, PlannedStep
from briefgen.proof.schedule.timeline import Timeline

Matter = Item | str
Value = str | Spot
One = TypeVar("One")


@dataclass(frozen=True, eq=False)
class Rests:
    """A step rests on an item's state; `source` and `look` are the turns that set and confirmed it in the plan.

    `control`: somebody else than who set it must have confirmed it.
    """

    need: Need
    control: bool
    source: int | None = None
    look: int | None = None


@dataclass(frozen=True, eq=False)
class Grasp:
    """A step handles a thing; `sources` are the turns that brought it, and the bags around it, where it finds them."""

    handling: Handling
    sources: tuple[int, ...] = ()


@dataclass(frozen=True)
class Back:
    """A way back: the turn `of` that it takes back, its own turns in order, and who must be in before it is gone."""

    of: int
    turns: tuple[int, ...]
    waits: tuple[str, ...]


@dataclass(frozen=True)
class Book:
    """All steps by turn; `planned` counts those of the plan itself, `backs` are the ways back by each of their turns,
    `back_of` by the turn that they take back.

    `back_of` by the turn that they take back. `changers` are the turns that change a matter, with what they make of it,
    in their order, and `made` is the same by turn. `relying` are the turns that rely on a matter, and in what: on a
    bag all that handle what may ever be in it. `sees` says which states a step confirms, `looks` which steps confirm a
    state. `quiet` are steps that change nothing, move nobody and no tether, and spend nothing, so that they can be
    broken off.
    """

    plan: Plan
    planned: int
    steps: tuple[PlannedStep, ...]
    turns: Mapping[int, int]
    backs: Mapping[int, Back]
    back_of: Mapping[int, Back]
    changes: tuple[tuple[tuple[Matter, Value], ...], ...]
    changers: Mapping[Matter, tuple[tuple[int, Value], ...]]
    rests: tuple[tuple[Rests, ...], ...]
    grasps: tuple[tuple[Grasp, ...], ...]
    relying: Mapping[Matter, tuple[tuple[int, Rests | Grasp], ...]]
    made: Mapping[Matter, Mapping[int, Value]]
    looks: Mapping[tuple[Item, str], tuple[int, ...]]
    sees: tuple[tuple[tuple[Item, str], ...], ...]
    people: tuple[frozenset[str], ...]
    quiet: tuple[bool, ...]


def make_book(timeline: Timeline, states: StateProof, custody: CustodyProof) -> Book:
    """The book of a plan without circles. Linear in what the steps change and rely on, but for the sorting."""
    plan, turns = timeline.plan, _turns(timeline)
    planned = len(turns)
    backs = tuple(_backs(plan, turns))
    every = {
        **turns,
        **{index: turn for back, way in backs for index, turn in zip(_indexes(way), back.turns, strict=True)},
    }
    steps = _by_turn_of(plan.all_steps, every)
    changes = [dict(_changes_of(plan, step)) for step in steps]
    looks = _looks(plan, steps, every)
    changers = _changers(changes, sorted(every.values()))
    rests = _rows(len(steps), (*_rests(turns, states), *_rests_back(plan, backs)))
    grasps = _rows(len(steps), (*_grasps(turns, custody), *_grasps_back(plan, backs, custody)))
    merely = [not _moves_or_spends(step) for step in steps]
    return Book(
        plan=plan,
        planned=planned,
        steps=steps,
        turns=every,
        backs={turn: back for back, _ in backs for turn in back.turns},
        back_of={back.of: back for back, _ in backs},
        changes=tuple(tuple(row.items()) for row in changes),
        changers=changers,
        rests=rests,
        grasps=grasps,
        relying=_relying(ever_around(plan, changes), sorted(every.values()), rests, grasps),
        made={matter: dict(row) for matter, row in changers.items()},
        looks=looks,
        sees=_rows(len(steps), ((turn, about) for about, row in looks.items() for turn in row)),
        people=tuple(frozenset(step.people) for step in steps),
        quiet=tuple(not row and only for row, only in zip(changes, merely, strict=True)),
    )


def _turns(timeline: Timeline) -> dict[int, int]:
    """Every planned step's turn by its index, in the order of the turns."""
    place = {index: number for number, index in enumerate(timeline.plan.order.sequence)}
    order = sorted(place, key=lambda index: (timeline.times[index].end, place[index]))
    return {index: turn for turn, index in enumerate(order)}


def _indexes(way: PlannedBack) -> Iterator[int]:
    return (step.index for step in way.steps)


def _backs(plan: Plan, turns: Mapping[int, int]) -> Iterator[tuple[Back, PlannedBack]]:
    """The ways back with their turns: before all that is to come, or behind it where somebody must be in first."""
    out = dict(_departures(plan))
    ways = sorted(plan.ways_back, key=lambda way: -turns[way.of])
    waits = {way.of: tuple(who for who, step in out.items() if plan.order.before(way.of, step)) for way in ways}
    early = -sum(len(way.steps) for way in ways if not waits[way.of])
    late = len(turns)
    for way in ways:
        first = late if waits[way.of] else early
        own = tuple(range(first, first + len(way.steps)))
        if waits[way.of]:
            late = own[-1] + 1
        else:
            early = own[-1] + 1
        yield Back(turns[way.of], own, waits[way.of]), way


def _departures(plan: Plan) -> Iterator[tuple[str, int]]:
    """The first step (by index) of everybody outside that is done away from home, or leads away."""
    for person in plan.outside:
        for index in plan.flows[person]:
            step = plan.steps[index]
            if {step.place or plan.home, step.leads_to or plan.home} != {plan.home}:
                yield person, index
                break


def _by_turn_of(steps: Sequence[PlannedStep], turns: Mapping[int, int]) -> tuple[PlannedStep, ...]:
    found = list(steps)
    for step in steps:
        found[turns[step.index]] = step
    return tuple(found)


def _rows(count: int, pairs: Iterable[tuple[int, One]]) -> tuple[tuple[One, ...], ...]:
    rows: list[list[One]] = [[] for _ in range(count)]
    for turn, one in pairs:
        rows[turn].append(one)
    return tuple(map(tuple, rows))


def _changes_of(plan: Plan, step: PlannedStep) -> Iterator[tuple[Matter, Value]]:
    yield from set_by(plan, step).items()
    # What a step leaves comes after what it picks.
    yield from ((move.thing, move.goal) for move in moves_of(plan.library, step))


def _looks(
    plan: Plan, steps: Iterable[PlannedStep], turns: Mapping[int, int]
) -> dict[tuple[Item, str], tuple[int, ...]]:
    found: dict[tuple[Item, str], list[int]] = {}
    for step in steps:
        for about in seen_by(plan, step):
            found.setdefault(about, []).append(turns[step.index])
    return {about: tuple(sorted(row)) for about, row in found.items()}


def _rests(turns: Mapping[int, int], states: StateProof) -> Iterator[tuple[int, Rests]]:
    for met in states.met:
        sources = _turn(turns, met.answer.source), _turn(turns, met.confirmed_by)
        yield turns[met.need.step], Rests(met.need, met.control, *sources)


def _rests_back(plan: Plan, backs: Iterable[tuple[Back, PlannedBack]]) -> Iterator[tuple[int, Rests]]:
    for back, way in backs:
        for turn, step in zip(back.turns, way.steps, strict=True):
            for need in needs_of(plan, step):
                yield turn, Rests(need, plan.library.needs_eyes(need.item[0], need.state))


def _grasps(turns: Mapping[int, int], custody: CustodyProof) -> Iterator[tuple[int, Grasp]]:
    for handled in custody.handled:
        yield turns[handled.handling.step], Grasp(handled.handling, tuple(_sources(turns, handled)))


def _grasps_back(
    plan: Plan, backs: Iterable[tuple[Back, PlannedBack]], custody: CustodyProof
) -> Iterator[tuple[int, Grasp]]:
    for back, way in backs:
        for turn, step in zip(back.turns, way.steps, strict=True):
            for handling in handlings_of(plan.library, step):
                if handling.thing in custody.starts:
                    yield turn, Grasp(handling)


def _turn(turns: Mapping[int, int], index: int | None) -> int | None:
    return None if index is None else turns[index]


def _sources(turns: Mapping[int, int], handled: Handled) -> Iterator[int]:
    own = handled.handling.step
    return (turns[one.source] for _, one in handled.answers if one.source is not None and one.source != own)


def _changers(
    changes: Sequence[Mapping[Matter, Value]], turns: Iterable[int]
) -> dict[Matter, tuple[tuple[int, Value], ...]]:
    found: dict[Matter, list[tuple[int, Value]]] = {}
    for turn in turns:
        for matter, value in changes[turn].items():
            found.setdefault(matter, []).append((turn, value))
    return {matter: tuple(row) for matter, row in found.items()}


def _relying(
    around: Mapping[str, frozenset[str]],
    turns: Iterable[int],
    rests: Sequence[tuple[Rests, ...]],
    grasps: Sequence[tuple[Grasp, ...]],
) -> dict[Matter, tuple[tuple[int, Rests | Grasp], ...]]:
    found: dict[Matter, list[tuple[int, Rests | Grasp]]] = {}
    for turn in turns:
        for rest in rests[turn]:
            found.setdefault(rest.need.item, []).append((turn, rest))
        for grasp in grasps[turn]:
            thing = grasp.handling.thing
            for name in (thing, *around.get(thing, ())):
                found.setdefault(name, []).append((turn, grasp))
    return {matter: tuple(row) for matter, row in found.items()}


def ever_around(plan: Plan, changes: Iterable[Mapping[Matter, Value]]) -> dict[str, frozenset[str]]:
    """Every bag in which a thing may ever be, itself or in another bag."""
    into: dict[str, set[str]] = {}
    for thing, spot in (*first_spots(plan.library).items(), *(one for row in changes for one in row.items())):
        if isinstance(spot, Spot) and spot.kind == "bags":
            into.setdefault(str(thing), set()).add(spot.id)
    found: dict[str, frozenset[str]] = {}
    for thing, bags in into.items():
        ahead, seen = list(bags), set[str]()
        while ahead:
            bag = ahead.pop()
            if bag not in seen:
                seen.add(bag)
                ahead += into.get(bag, ())
        found[thing] = frozenset(seen)
    return found


def _moves_or_spends(step: PlannedStep) -> bool:
    moves = bool(step.outside) and step.leads_to != step.place
    return bool(moves or step.step.anchors or step.step.spends)
