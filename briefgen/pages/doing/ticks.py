"""The tick grid of a step that is done once for every item."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from briefgen.language.wording import count
from briefgen.model.things import Equipment
from briefgen.model.work import Step
from briefgen.proof.plan import chosen_items


@dataclass(frozen=True)
class Tick:
    """One item: the key under which the browser remembers it, and its name within its row."""

    keep: str
    words: str


@dataclass(frozen=True)
class TickRow:
    """The items that share the first part; without a heading where there is only one part."""

    words: str
    ticks: tuple[Tick, ...]


@dataclass(frozen=True)
class TickGrid:
    """All items of a step."""

    legend: str
    total: str
    columns: int
    rows: tuple[TickRow, ...]


def tick_grid(equipment: Equipment, step: Step, keep: str) -> TickGrid:
    """The grid of the items chosen by a step's `each`; the first part gives the rows, the others the columns."""
    items = chosen_items(equipment, step)
    parts = list(map(str, equipment.parts))
    rows: tuple[TickRow, ...]
    if len(parts) == 1:
        ticks = tuple(_tick(keep, item, f"{parts[0]} {item[0]}") for item in items)
        rows = (TickRow("", ticks),)
    else:
        rows = tuple(
            TickRow(
                f"{parts[0]} {head}",
                tuple(_tick(keep, item, " ".join(item[1:]), parts[1:]) for item in group),
            )
            for head, group in groupby(items, key=lambda item: item[0])
        )
    columns = max((len(row.ticks) for row in rows), default=1)
    return TickGrid(f"{equipment.label_text}", count(len(items), "item"), columns, rows)


def _tick(keep: str, item: tuple[str, ...], words: str, parts: list[str] | None = None) -> Tick:
    named = f"{parts[0]} {words}" if parts and len(parts) == 1 else words
    return Tick(f"{keep}/{'-'.join(item)}", named)
