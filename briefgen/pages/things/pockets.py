"""The pocket list of each bag that is carried: what is in it at the start, and what goes into it on the way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.pages.context import PageContext
from briefgen.pages.rows import Chip
from briefgen.pages.things.ledger import PackRow, ThingRow, packed, packing, things
from briefgen.proof.evidence import SortieEvidence


@dataclass(frozen=True)
class Added:
    """A thing that is put into the bag on the way: whence, when (elapsed time), and into which bag in it, if so."""

    words: str
    whence: str
    clock: str
    into: str


@dataclass(frozen=True)
class Pocket:
    """A bag's list. `begins` says where the bag is at the start; the lines' `depth` counts from the bag."""

    anchor: str
    name: str
    begins: str
    lines: tuple[PackRow, ...]
    added: tuple[Added, ...]


def pockets(context: PageContext, proved: SortieEvidence) -> tuple[Pocket, ...]:
    """A list for every bag that is moved in the sortie and does not lie in another bag at the start."""
    rows = things(context, proved)
    moved = {move.thing for move in proved.custody.moves}
    bags = [name for name in context.library.bags if name in moved]
    return tuple(_pocket(context, proved, name, rows) for name in bags if proved.custody.starts[name].kind != "bags")


def loose(context: PageContext, proved: SortieEvidence) -> Iterator[Pocket]:
    """The tools that go out in no bag, on a list of their own."""
    lines = tuple(row for row in packing(context, proved, at_end=False) if not row.depth and row.chip.kind != "bag")
    if lines:
        yield Pocket("card-loose", "Carried in no bag", "", lines, ())


def _pocket(context: PageContext, proved: SortieEvidence, bag: str, rows: tuple[ThingRow, ...]) -> Pocket:
    lines = tuple(packed(context, proved.custody.starts, proved.custody.stock, bag))
    own, *inside = lines
    inner = {own.chip.target, *(line.chip.target for line in inside if line.chip.kind == "bag")}
    spot = proved.custody.starts[bag]
    begins = context.label("place" if spot.kind == "places" else "person", spot.id)
    added = sorted((one for row in rows for one in _added(row, own.chip, inner)), key=lambda one: _seconds(one.clock))
    return Pocket(f"card-bag-{bag}", own.chip.words, begins, tuple(inside), tuple(added))


def _added(row: ThingRow, bag: Chip, inner: set[str]) -> Iterator[Added]:
    """The moves of a thing into the bag, or a bag in it, from anywhere else than there."""
    whence = row.begins[0] if row.begins else None
    for move in row.moves:
        if move.goal.kind == "person":
            continue
        if move.goal.target in inner and whence and whence.target not in inner:
            into = "" if move.goal.target == bag.target else move.goal.words
            yield Added(row.chip.words, whence.words, move.clock, into)
        whence = move.goal


def _seconds(clock: str) -> int:
    hours, minutes, seconds = map(int, clock.split(":"))
    return (hours * 60 + minutes) * 60 + seconds
