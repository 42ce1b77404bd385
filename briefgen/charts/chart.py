"""What a chart is: one set of rows, seen three ways."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from briefgen.tables.table import Table

Href = Callable[[str, str, str], str]
"""From a kind (in the singular), an id and a part (step, callout or nothing) to a link for the page."""
Picture = Callable[[str], str]
"""From a figure's id to the address of its image, for the page."""


@dataclass(frozen=True)
class KeyLine:
    """A line of a chart's key: a small drawing (SVG) and what it stands for. `narrow`: only the narrow still has it."""

    drawing: str
    words: str
    narrow: bool = False


@dataclass(frozen=True)
class Chart:
    """`still` is SVG drawn at build time, `figure` what Plotly draws from (data, layout, config), `table` its equal.

    `summary` says in a sentence or two what there is to see. `narrow` is the still for a small screen, where it
    differs. `figure` may also hold `tools`: what `charts.js` builds its buttons from; it is empty where the still does
    all that the chart is for. A chart of nothing has no still.
    """

    id: str
    title: str
    summary: str
    still: str
    figure: Mapping[str, Any]
    table: Table
    kind: str = ""
    narrow: str = ""
    key: tuple[KeyLine, ...] = ()
