"""Where tools and bags are through a sortie, as rows: packing lists out and home, and every move between."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.language.wording import count, kilograms
from briefgen.pages.context import PageContext, task_of
from briefgen.pages.rows import Chip, Link
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Move, Spot
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class MoveRow:
    """A thing changes hands or places: when, what happens, in which step."""

    clock: str
    words: str
    goal: Chip
    step: Link


@dataclass(frozen=True)
class ThingRow:
    """A thing's way through the sortie. `begins` and `ends` are chains, the nearest spot first."""

    chip: Chip
    begins: tuple[Chip, ...]
    moves: tuple[MoveRow, ...]
    ends: tuple[Chip, ...]
    stays_out: bool
    left: str


@dataclass(frozen=True)
class PackRow:
    """A line of a packing list; `depth` is how many bags are around it, `pieces` how many there are."""

    chip: Chip
    depth: int
    pieces: str
    mass: str


def spot_chip(context: PageContext, spot: Spot) -> Chip:
    """A place, a bag or a person."""
    if spot.kind == "people":
        mark = context.mark(spot.id)
        return Chip("person", mark.name, mark.target)
    return context.chip("place" if spot.kind == "places" else "bag", spot.id)


def chain(spots: Mapping[str, Spot], thing: str) -> tuple[Spot, ...]:
    """From a thing's own spot, through the bags around it, to a place or a person."""
    found: list[Spot] = []
    spot = spots.get(thing)
    while spot and spot not in found:
        found.append(spot)
        spot = spots.get(spot.id) if spot.kind == "bags" else None
    return tuple(found)


def finds(context: PageContext, proved: SortieEvidence) -> Mapping[tuple[str, str], tuple[Spot, ...]]:
    """By `task` or `task/step`, and thing: where the first step that handles the thing there finds it."""
    return context.once(("finds", proved), lambda: _finds(proved))


def _finds(proved: SortieEvidence) -> Mapping[tuple[str, str], tuple[Spot, ...]]:
    found: dict[tuple[str, str], tuple[Spot, ...]] = {}
    for one in proved.custody.handled:
        step = proved.plan.steps[one.handling.step]
        for where in (task_of(step), step.key):
            found.setdefault((where, one.handling.thing), one.chain)
    return found


def things(context: PageContext, proved: SortieEvidence) -> tuple[ThingRow, ...]:
    """Every thing that is handled in the sortie, bags first."""
    custody = proved.custody
    touched = {one.handling.thing for one in custody.handled} | {move.thing for move in custody.moves}
    names = [name for name in (*context.library.bags, *context.library.tools) if name in touched]
    moves: dict[str, list[Move]] = {}
    for move in sorted(custody.moves, key=lambda move: (_moment(proved, move), move.step)):
        moves.setdefault(move.thing, []).append(move)
    return tuple(_thing(context, proved, name, moves.get(name, [])) for name in names)


def _moment(proved: SortieEvidence, move: Move) -> float:
    """When a move is done: picks at the beginning of their step, all else at its end."""
    times = proved.timeline.times[move.step]
    taken = move.goal.kind == "people" and move.thing in times.step.step.picks
    return times.start if taken else times.end


def _thing(context: PageContext, proved: SortieEvidence, name: str, moves: list[Move]) -> ThingRow:
    begins, ends = chain(proved.custody.starts, name), chain(proved.custody.ends, name)
    home = Spot("places", proved.plan.home or "")
    left = proved.custody.left.get(name)
    return ThingRow(
        context.thing(name),
        tuple(spot_chip(context, spot) for spot in begins),
        tuple(_move(context, proved, move) for move in moves),
        tuple(spot_chip(context, spot) for spot in ends),
        bool(ends) and ends[-1] != home and ends != begins,
        f"{left} of {count(proved.custody.stock[name], 'piece')} left" if left is not None else "",
    )


def _move(context: PageContext, proved: SortieEvidence, move: Move) -> MoveRow:
    step = proved.plan.steps[move.step]
    words = {"people": "taken by", "places": "left at", "bags": "put into"}[move.goal.kind]
    if move.goal.kind == "people" and move.thing in step.step.hands:
        words = "handed to"
    return MoveRow(show_elapsed(_moment(proved, move)), words, spot_chip(context, move.goal), context.planned(step))


def packing(context: PageContext, proved: SortieEvidence, *, at_end: bool) -> tuple[PackRow, ...]:
    """What goes out through the hatch, or what is at home in the end, bags with all that is in them.

    Out go the things that are at home at the beginning and are moved, or lie in a bag that is.
    """
    spots = proved.custody.ends if at_end else proved.custody.starts
    home = Spot("places", proved.plan.home or "")
    moved = {move.thing for move in proved.custody.moves}
    roots = [name for name in (*context.library.bags, *context.library.tools) if spots.get(name) == home]
    stock = proved.custody.left if at_end else proved.custody.stock
    return tuple(row for name in roots if name in moved for row in packed(context, spots, stock, name))


def packed(
    context: PageContext, spots: Mapping[str, Spot], stock: Mapping[str, int], name: str, depth: int = 0
) -> Iterator[PackRow]:
    """A thing and, if it is a bag, all that is in it, the bags in it with theirs."""
    thing = context.library.thing(name)
    mass = kilograms(thing.mass) if thing and thing.mass is not None else ""
    yield PackRow(context.thing(name), depth, count(stock.get(name, 1), "piece"), mass)
    for inner in (*context.library.bags, *context.library.tools):
        if spots.get(inner) == Spot("bags", name) and depth < len(context.library.bags):
            yield from packed(context, spots, stock, inner, depth + 1)
