"""What a chart is: one set of rows, seen three ways."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

Href = Callable[[str, str, str], str]
"""From a kind (in the singular), an id and a part (step, callout or nothing) to a link for the page."""


@dataclass(frozen=True)
class Cell:
    """A table's cell: words, and where they lead."""

    words: str
    href: str = ""


@dataclass(frozen=True)
class Table:
    """The readable equal of a chart."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True)
class Chart:
    """`still` is SVG drawn at build time, `figure` what Plotly draws from (data, layout, config), `table` its equal.

    `summary` says in a sentence or two what there is to see.
    """

    id: str
    title: str
    summary: str
    still: str
    figure: Mapping[str, Any]
    table: Table
