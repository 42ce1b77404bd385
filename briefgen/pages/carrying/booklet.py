"""The booklet of a sortie: what it holds, in reading order."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.carrying.arm import moves
from briefgen.pages.carrying.asides import carriers
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Link
from briefgen.pages.things.figures import FigureRow, figure_row
from briefgen.pages.things.pockets import loose, pockets
from briefgen.proof.evidence import SortieEvidence


def contents(context: PageContext, proved: SortieEvidence) -> tuple[Link, ...]:
    """The parts in reading order, each leading to where it begins."""
    return tuple(_contents(context, proved))


def _contents(context: PageContext, proved: SortieEvidence) -> Iterator[Link]:
    yield Link("Map of the worksites", "#card-map-")
    for number, row in enumerate(drawings(context), start=1):
        yield Link(row.title.words, f"#card-drawing-{number}-")
    for person in carriers(proved):
        yield Link(f"{context.mark(person).name}'s card", f"#card-{person}")
    yield Link("Reader's card", "#card-reader-")
    if moves(context, proved):
        yield Link("Moves of the arm", "#card-arm-")
    for pocket in (*pockets(context, proved), *loose(context, proved)):
        yield Link(pocket.name, f"#{pocket.anchor}")


def drawings(context: PageContext) -> tuple[FigureRow, ...]:
    """The author's drawings behind the map, each once."""
    programme = context.library.programme
    layers = programme.map if programme else ()
    return tuple(figure_row(context, name) for name in dict.fromkeys(str(layer.figure) for layer in layers))
