"""Tables as terminals show them: cells wrapped to the width there is, numbers to the right. Knows no plan."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from textwrap import TextWrapper, fill

from briefgen.tables.table import Cell, Column, Table

GAP = "  "
NARROWEST = 8

Row = Sequence[Cell]


def draw(table: Table, width: int) -> str:
    """The table as lines of at most `width` columns, where its narrow columns leave room for that."""
    if not table.rows:
        return f"{table.title}\n{table.empty}\n"
    head = tuple(Cell(column.head) for column in table.columns)
    widths = _widths([head, *table.rows], table.columns, width)
    rule = GAP.join("─" * one for one in widths)
    lines = [*_lines(head, table.columns, widths), rule]
    for row in table.rows:
        lines += _lines(row, table.columns, widths)
    note = [fill(table.note, width)] if table.note else []
    return "\n".join([table.title, *note, *(line.rstrip() for line in lines)]) + "\n"


def _widths(rows: Sequence[Row], columns: Sequence[Column], width: int) -> list[int]:
    """As wide as the cells; if that is too much, the widest `wide` columns give way."""
    widths = [max(columns_of(cell.words) for cell in column) for column in zip(*rows, strict=True)]
    elastic = [index for index, column in enumerate(columns) if column.wide]
    while sum(widths) + len(GAP) * (len(widths) - 1) > width and elastic:
        widest = max(elastic, key=lambda index: widths[index])
        if widths[widest] <= NARROWEST:
            break
        widths[widest] -= 1
    return widths


def _lines(row: Row, columns: Sequence[Column], widths: Sequence[int]) -> Iterator[str]:
    cells = [_wrapped(cell.words, width) for cell, width in zip(row, widths, strict=True)]
    for number in range(max(map(len, cells))):
        pieces = [cell[number] if number < len(cell) else "" for cell in cells]
        yield GAP.join(
            _padded(piece, width, column.number) for piece, width, column in zip(pieces, widths, columns, strict=True)
        )


def _wrapped(cell: str, width: int) -> list[str]:
    if columns_of(cell) <= width:
        return [cell]
    wrapper = TextWrapper(width, subsequent_indent="", break_on_hyphens=False)
    return wrapper.wrap(cell) or [""]


def _padded(piece: str, width: int, right: bool) -> str:
    idle = " " * max(0, width - columns_of(piece))
    return idle + piece if right else piece + idle


def columns_of(text: str) -> int:
    """How many columns a terminal gives the text (Unicode Standard Annex 11: wide letters take two)."""
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1
        for letter in text
    )
