"""A rehearsal that a page of the day has saved, as a table: what happened when, and what followed for the end."""

from __future__ import annotations

from collections import Counter

from briefgen.language.wording import count, listing
from briefgen.practice.rehearsal import Rehearsal, RehearsalEvent
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.terminal.table import draw
from briefgen.units import show_duration, show_elapsed

CAUTION = "For training and rehearsal. It follows no crew."


def rehearsal_text(run: Rehearsal, width: int) -> str:
    """The run's events in their order, under a line that counts what was injected."""
    columns = (Column("Elapsed"), Column("What"), Column("Words", wide=True), *numbers("Late", "The end"))
    title = f"Rehearsal of {run.sortie}, saved {run.exported:%Y-%m-%d %H:%M} UTC"
    table = Table("rehearsal", title, columns, tuple(map(_row, run.events)), "Nothing happened.")
    return f"{CAUTION}\n{_sum(run)}\n\n{draw(table, width)}"


def _sum(run: Rehearsal) -> str:
    kinds = Counter(one.event for one in run.events)
    named = [count(kinds[kind], kind) for kind in ("delay", "failed step", "case", "stop") if kinds[kind]]
    last = run.events[-1] if run.events else None
    end = f"; in the end {_late(last)}" if last and last.late_s is not None else ""
    return f"{listing(named) or 'Nothing'} injected{end}."


def _row(one: RehearsalEvent) -> tuple[Cell, ...]:
    end = "" if one.finish_s is None else show_elapsed(one.finish_s)
    return cells(show_elapsed(one.at_s), one.event, one.words, _late(one), end)


def _late(one: RehearsalEvent) -> str:
    """`25 min late`."""
    if one.late_s is None:
        return "not told"
    if abs(one.late_s) < 0.5:  # the page shows whole seconds
        return "as planned"
    return f"{show_duration(abs(one.late_s))} {'late' if one.late_s > 0 else 'early'}"
