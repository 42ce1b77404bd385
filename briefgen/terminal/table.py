"""Tables for terminals: cells wrapped to the width there is, numbers to the right. Pure; knows no plan."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import TextWrapper

GAP = "  "
NARROWEST = 8


@dataclass(frozen=True)
class Column:
    """A column's heading; `right` sets its cells to the right, `wide` lets it give way when the terminal is narrow."""

    head: str
    right: bool = False
    wide: bool = False


@dataclass(frozen=True)
class Table:
    """A heading, columns and rows of words; `empty` is said where there is no row."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    empty: str = "None."


def draw(table: Table, width: int) -> str:
    """The table as lines of at most `width` columns, where its narrow columns leave room for that."""
    if not table.rows:
        return f"{table.title}\n{table.empty}\n"
    widths = _widths(table, width)
    rule = GAP.join("─" * one for one in widths)
    lines = [*_lines(tuple(column.head for column in table.columns), table, widths), rule]
    for row in table.rows:
        lines += _lines(row, table, widths)
    return "\n".join([table.title, *(line.rstrip() for line in lines)]) + "\n"


def _widths(table: Table, width: int) -> list[int]:
    """As wide as the cells; if that is too much, the widest `wide` columns give way."""
    every = [[column.head, *cells] for column, cells in zip(table.columns, zip(*table.rows, strict=True), strict=True)]
    widths = [max(map(columns_of, cells)) for cells in every]
    elastic = [index for index, column in enumerate(table.columns) if column.wide]
    while sum(widths) + len(GAP) * (len(widths) - 1) > width and elastic:
        widest = max(elastic, key=lambda index: widths[index])
        if widths[widest] <= NARROWEST:
            break
        widths[widest] -= 1
    return widths


def _lines(row: Sequence[str], table: Table, widths: Sequence[int]) -> Iterator[str]:
    cells = [_wrapped(cell, width) for cell, width in zip(row, widths, strict=True)]
    for number in range(max(map(len, cells))):
        pieces = [cell[number] if number < len(cell) else "" for cell in cells]
        yield GAP.join(
            _padded(piece, width, column.right)
            for piece, width, column in zip(pieces, widths, table.columns, strict=True)
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
