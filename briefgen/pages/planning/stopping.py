"""Stops as rows: what would be left open and until when, and the steps that close it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from briefgen.language.wording import count
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Chip, Link, MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Spot
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.naming import spot_words
from briefgen.proof.stopping.stops import Open, Stop
from briefgen.proof.stopping.stretches import StopStretch
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class OpenRow:
    """What would be left open (`items` says which of several): how or where it is, when, and what closes it."""

    chip: Chip
    items: str
    how: str
    spans: tuple[str, ...]
    left_by: Link | None
    closed_by: Link | None


@dataclass(frozen=True)
class CloseRow:
    """A step that closes up, for stops called within `spans`."""

    step: Link
    marks: tuple[MarkChip, ...]
    spans: tuple[str, ...]


@dataclass(frozen=True)
class StretchRow:
    """A stretch without a clean stop. `open` is in the order in which it is opened, `closes` in that of the plan."""

    anchor: str
    words: str
    worst: str
    at: str
    after: Link
    open: tuple[OpenRow, ...]
    closes: tuple[CloseRow, ...]


@dataclass(frozen=True)
class CleanRow:
    """Clean stops in a row: from when to when, and after which step the first of them is."""

    span: str
    after: Link
    takes: str


def clean_row(context: PageContext, proved: SortieEvidence, stretch: StopStretch) -> CleanRow:
    """A stretch of clean stops."""
    first, last = stretch.stops[0], stretch.stops[-1]
    takes = dict.fromkeys((until_home(first.seconds), until_home(last.seconds)))
    return CleanRow(_span(first, last), after(context, proved, first), " to ".join(takes))


def stretch_row(context: PageContext, proved: SortieEvidence, stretch: StopStretch, number: int) -> StretchRow:
    """A stretch without a clean stop."""
    worst = stretch.worst
    return StretchRow(
        f"_stretch-{number}",
        f"{show_elapsed(stretch.start)} to {show_elapsed(stretch.end)}",
        until_home(worst.seconds),
        show_elapsed(worst.at),
        after(context, proved, worst),
        tuple(_open_rows(context, proved, stretch.stops)),
        tuple(_close_rows(context, proved, stretch.stops)),
    )


def after(context: PageContext, proved: SortieEvidence, stop: Stop) -> Link:
    """The step with which a stop's moment comes."""
    return context.planned(proved.plan.all_steps[stop.ended[0]])


def _span(first: Stop, last: Stop) -> str:
    start, end = show_elapsed(first.at), show_elapsed(last.at)
    return f"{start} to {end}" if start != end else start


def _spans(stops: Sequence[Stop], within: Iterable[int]) -> tuple[str, ...]:
    """The runs of moments, by number, as words."""
    runs: list[list[int]] = []
    for number in within:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return tuple(_span(stops[first], stops[last]) for first, last in runs)


def _open_rows(context: PageContext, proved: SortieEvidence, stops: Sequence[Stop]) -> Iterator[OpenRow]:
    """What is left open in these moments; items that are left and closed alike share a row."""
    found: dict[tuple[str, str, int | None, int | None], dict[int, list[Open]]] = {}
    for number, stop in enumerate(stops):
        for one in stop.open:
            value = one.value if isinstance(one.value, str) else f"{one.value.kind}:{one.value.id}"
            key = (name_of(one), value, one.left_by, one.closed_by)
            found.setdefault(key, {}).setdefault(number, []).append(one)
    for (name, _, left_by, closed_by), within in found.items():
        most = max(within.values(), key=len)
        yield OpenRow(
            chip(context, name),
            items_words(proved, name, most),
            how(proved, most[0]),
            _spans(stops, within),
            None if left_by is None else context.planned(proved.plan.all_steps[left_by]),
            None if closed_by is None else context.planned(proved.plan.all_steps[closed_by]),
        )


def name_of(one: Open) -> str:
    """The id of what is open."""
    return one.matter if isinstance(one.matter, str) else one.matter[0]


def chip(context: PageContext, name: str) -> Chip:
    """An equipment, a tool or a bag."""
    return context.chip("equipment", name) if name in context.library.equipment else context.thing(name)


def how(proved: SortieEvidence, one: Open) -> str:
    """Its state, or where it is."""
    return spot_words(proved.library, one.value) if isinstance(one.value, Spot) else one.value


def items_words(proved: SortieEvidence, name: str, row: Sequence[Open]) -> str:
    """`valve 1, valve 2`, or `4 of 6` where there are more than three; nothing for what has no parts."""
    record = proved.library.equipment.get(name)
    items = [one.matter[1] for one in row if not isinstance(one.matter, str) and one.matter[1]]
    if record is None or not items:
        return ""
    every = len(record.items)
    return f"{len(items)} of {every}" if len(items) > 3 else "; ".join(map(record.item_words, items))


def _close_rows(context: PageContext, proved: SortieEvidence, stops: Sequence[Stop]) -> Iterator[CloseRow]:
    """The steps that close up in these moments, as the plan has them."""
    found: dict[int, list[int]] = {}
    for number, stop in enumerate(stops):
        for index, _, _ in stop.closing:
            found.setdefault(index, []).append(number)
    for index in sorted(found, key=lambda index: _as_planned(proved, index)):
        step = proved.plan.all_steps[index]
        yield CloseRow(context.planned(step), context.marks(step.people), _spans(stops, found[index]))


def _as_planned(proved: SortieEvidence, index: int) -> tuple[bool, float, int]:
    """Ways back first, what was done last first; then the plan's own steps, as they begin."""
    if index < len(proved.plan.steps):
        return True, proved.timeline.times[index].start, index
    of = next(way.of for way in proved.plan.ways_back if index in {step.index for step in way.steps})
    return False, -proved.timeline.times[of].end, index


@dataclass(frozen=True)
class WorstRow:
    """A step of the way out from the worst moment: when it begins after the call, and who does it."""

    begins: str
    step: Link
    marks: tuple[MarkChip, ...]


def way_out(context: PageContext, proved: SortieEvidence, stop: Stop) -> Iterator[WorstRow]:
    """The closing steps of one stop, in the order in which they begin."""
    for index, start, _ in stop.closing:
        step = proved.plan.all_steps[index]
        begins = f"+{show_elapsed(start)}" if math.isfinite(start) else until_home(start)
        yield WorstRow(begins, context.planned(step), context.marks(step.people))


def stuck_words(stops: Sequence[Stop]) -> str:
    """At how many moments something is open that no written step closes."""
    number = sum(bool(stop.stuck) for stop in stops if stop.searched)
    return count(number, "moment") if number else ""


def unsearched_words(stops: Sequence[Stop]) -> str:
    """At how many moments too much is open to try every way of closing it."""
    number = sum(not stop.searched for stop in stops)
    return count(number, "moment") if number else ""
