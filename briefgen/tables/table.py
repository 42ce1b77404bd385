"""What a table is: words in cells, and what record a cell speaks of. Pure; knows no page and no terminal."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class RecordAddress:
    """A record by its kind (in the singular) and id, and a part of it: a step of a task, a callout of a figure."""

    kind: str
    id: str
    part: str = ""


@dataclass(frozen=True)
class Cell:
    """A table's cell: plain words, and what they lead to: a record, or an address where the page is known."""

    words: str
    target: RecordAddress | str = ""


@dataclass(frozen=True)
class Column:
    """A column by its heading. A `number` is set to the right; a `wide` one gives way first where room is short."""

    head: str
    number: bool = False
    wide: bool = False


@dataclass(frozen=True)
class Table:
    """Columns and rows under a title; the first cell of a row heads it. `name` is one within a sortie.

    `note` says what must be known to read it. `empty` is said where there is no row.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = "None."
    note: str = ""


def numbers(*heads: str) -> tuple[Column, ...]:
    """Columns of figures."""
    return tuple(Column(head, number=True) for head in heads)


def headed(*heads: str, figures: Collection[int] = ()) -> tuple[Column, ...]:
    """Columns by their headings; `figures` are those (from 0) that hold figures."""
    return tuple(Column(head, number=place in figures) for place, head in enumerate(heads))


def cells(*words: str) -> tuple[Cell, ...]:
    """Cells that lead nowhere."""
    return tuple(map(Cell, words))


def addressed(table: Table, address: Callable[[str, str, str], str]) -> Table:
    """The table for one page: `address` says where a record is found, from its kind, id and part."""
    rows = tuple(tuple(_addressed(cell, address) for cell in row) for row in table.rows)
    return replace(table, rows=rows)


def _addressed(cell: Cell, address: Callable[[str, str, str], str]) -> Cell:
    ref = cell.target
    return replace(cell, target=address(ref.kind, ref.id, ref.part)) if isinstance(ref, RecordAddress) else cell
