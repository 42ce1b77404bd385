"""The booklet of a sortie: what it holds, in reading order."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.carrying.arm import moves
from briefgen.pages.carrying.asides import carriers
from briefgen.pages.desk import Desk
from briefgen.pages.rows import Link
from briefgen.pages.things.pockets import loose, pockets
from briefgen.pages.things.sights import FigureRow, figure_row
from briefgen.proof.evidence import SortieEvidence


def contents(desk: Desk, case: SortieEvidence) -> tuple[Link, ...]:
    """The parts in reading order, each leading to where it begins."""
    return tuple(_contents(desk, case))


def _contents(desk: Desk, case: SortieEvidence) -> Iterator[Link]:
    yield Link("Map of the worksites", "#card-map-")
    for number, row in enumerate(drawings(desk), start=1):
        yield Link(row.title.words, f"#card-drawing-{number}-")
    for person in carriers(case):
        yield Link(f"{desk.mark(person).name}'s card", f"#card-{person}")
    yield Link("Reader's card", "#card-reader-")
    if moves(desk, case):
        yield Link("Moves of the arm", "#card-arm-")
    for pocket in (*pockets(desk, case), *loose(desk, case)):
        yield Link(pocket.name, f"#{pocket.anchor}")


def drawings(desk: Desk) -> tuple[FigureRow, ...]:
    """The author's drawings behind the map, each once."""
    programme = desk.library.programme
    layers = programme.map if programme else ()
    return tuple(figure_row(desk, name) for name in dict.fromkeys(str(layer.figure) for layer in layers))
