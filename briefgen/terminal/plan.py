"""A sortie's tables, for a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.registry import tables
from briefgen.terminal.table import draw
from briefgen.units import show_duration, show_elapsed

CAUTION = "A training aid. Outside, the approved procedure and the calls from the ground decide."


def plan_text(proved: SortieEvidence, names: Iterable[str], width: int) -> str:
    """The named tables of one sortie (all, where none is named) under its heading. Raises KeyError for another name."""
    drawn = [draw(table, width) for name in names or tables() for table in tables()[name].make(proved)]
    return "\n".join([_heading(proved), *drawn])


def _heading(proved: SortieEvidence) -> str:
    sortie, timeline = proved.sortie, proved.timeline
    revision = f", revision {sortie.revision}" if sortie.revision else ""
    starts = f", starts {sortie.starts}" if sortie.starts else ""
    reserve = show_duration(sortie.limits.length.likely - sortie.limits.usable)
    return (
        f"{sortie.title}{revision}{starts}\n"
        f"Over at {show_elapsed(timeline.finish)} elapsed; allowed {show_duration(sortie.limits.length.likely)} with "
        f"{reserve} in reserve; {_margin(timeline.margin)}.\n{CAUTION}\n"
    )


def _margin(seconds: float) -> str:
    return f"{show_duration(seconds)} to spare" if seconds >= 0 else f"{show_duration(-seconds)} too long"
