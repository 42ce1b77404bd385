"""What each step of a plan changes, and what it relies on, as a stop needs to know it.

Pure: the proofs of states and custody go in. Steps are numbered by their *turn*: the planned order in which they end,
which is one of the orders that the plan guarantees. A *matter* is an item of equipment, or a tool or bag.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

from briefgen.proof.holding.custody import CustodyProof, Handled, Spot
from briefgen.proof.ordering.states import Item, Met, StateProof
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.timeline import Timeline

Matter = Item | str
Value = str | Spot
One = TypeVar("One")


@dataclass(frozen=True, eq=False)
class Rests:
    """A step rests on an item's state; `source` and `look` are the turns that set and confirmed it in the plan."""

    met: Met
    source: int | None
    look: int | None


@dataclass(frozen=True, eq=False)
class Grasp:
    """A step handles a thing; `sources` are the turns that brought it, and the bags around it, where it finds them."""

    handled: Handled
    sources: tuple[int, ...]


@dataclass(frozen=True)
class Book:
    """All steps by turn. `changers` are the turns that change a matter, with what they make of it, in their order.

    `sees` says which states a step confirms, `looks` which steps confirm a state. `quiet` are steps that change
    nothing, move nobody and no tether, and spend nothing, so that they can be broken off.
    """

    plan: Plan
    steps: tuple[PlannedStep, ...]
    turns: Mapping[int, int]
    changes: tuple[tuple[tuple[Matter, Value], ...], ...]
    changers: Mapping[Matter, tuple[tuple[int, Value], ...]]
    rests: tuple[tuple[Rests, ...], ...]
    grasps: tuple[tuple[Grasp, ...], ...]
    looks: Mapping[tuple[Item, str], tuple[int, ...]]
    sees: tuple[tuple[tuple[Item, str], ...], ...]
    people: tuple[frozenset[str], ...]
    quiet: tuple[bool, ...]


def make_book(timeline: Timeline, states: StateProof, custody: CustodyProof) -> Book:
    """The book of a plan without circles. Linear in what the steps change and rely on, but for the sorting."""
    plan, turns = timeline.plan, _turns(timeline)
    steps = tuple(plan.steps[index] for index in turns)
    changes = _changes(turns, states, custody)
    looks = {about: tuple(sorted(turns[one] for one in row)) for about, row in states.looks.steps.items()}
    merely = [not _moves_or_spends(step) for step in steps]
    return Book(
        plan=plan,
        steps=steps,
        turns=turns,
        changes=tuple(tuple(row.items()) for row in changes),
        changers=_changers(changes),
        rests=_by_turn(len(steps), _rests(turns, states)),
        grasps=_by_turn(len(steps), _grasps(turns, custody)),
        looks=looks,
        sees=_by_turn(len(steps), ((turn, about) for about, row in looks.items() for turn in row)),
        people=tuple(frozenset(step.people) for step in steps),
        quiet=tuple(not row and only for row, only in zip(changes, merely, strict=True)),
    )


def _turns(timeline: Timeline) -> dict[int, int]:
    """Every step's turn by its index, in the order of the turns."""
    place = {index: number for number, index in enumerate(timeline.plan.order.sequence)}
    order = sorted(place, key=lambda index: (timeline.times[index].end, place[index]))
    return {index: turn for turn, index in enumerate(order)}


def _by_turn(count: int, pairs: Iterable[tuple[int, One]]) -> tuple[tuple[One, ...], ...]:
    rows: list[list[One]] = [[] for _ in range(count)]
    for turn, one in pairs:
        rows[turn].append(one)
    return tuple(map(tuple, rows))


def _changes(turns: Mapping[int, int], states: StateProof, custody: CustodyProof) -> list[dict[Matter, Value]]:
    changes: list[dict[Matter, Value]] = [{} for _ in turns]
    for item, row in states.changes.items():
        for index, state in row.items():
            changes[turns[index]][item] = state
    for move in custody.moves:
        changes[turns[move.step]][move.thing] = move.goal  # what a step leaves comes after what it picks
    return changes


def _rests(turns: Mapping[int, int], states: StateProof) -> Iterator[tuple[int, Rests]]:
    for met in states.met:
        yield turns[met.need.step], Rests(met, _turn(turns, met.answer.source), _turn(turns, met.confirmed_by))


def _grasps(turns: Mapping[int, int], custody: CustodyProof) -> Iterator[tuple[int, Grasp]]:
    for handled in custody.handled:
        yield turns[handled.handling.step], Grasp(handled, tuple(_sources(turns, handled)))


def _turn(turns: Mapping[int, int], index: int | None) -> int | None:
    return None if index is None else turns[index]


def _sources(turns: Mapping[int, int], handled: Handled) -> Iterator[int]:
    own = handled.handling.step
    return (turns[one.source] for _, one in handled.answers if one.source is not None and one.source != own)


def _changers(changes: list[dict[Matter, Value]]) -> dict[Matter, tuple[tuple[int, Value], ...]]:
    found: dict[Matter, list[tuple[int, Value]]] = {}
    for turn, row in enumerate(changes):
        for matter, value in row.items():
            found.setdefault(matter, []).append((turn, value))
    return {matter: tuple(row) for matter, row in found.items()}


def _moves_or_spends(step: PlannedStep) -> bool:
    moves = bool(step.outside) and step.leads_to != step.place
    return bool(moves or step.step.anchors or step.step.spends)
