"""Equipment states through a sortie, as rows: every change, what the controls rest on, and how all ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import capital, count
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Chip, Link
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.ordering.states import Item, Met
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class StateChange:
    """A state from a moment on, and the step that brings it about; `confirmed` names the steps that look."""

    clock: str
    state: str
    step: Link


@dataclass(frozen=True)
class History:
    """Items of one equipment that share their states through the sortie."""

    chip: Chip
    items: str
    begins: str
    changes: tuple[StateChange, ...]
    ends: str


@dataclass(frozen=True)
class Guard:
    """A control that steps rely on: its state, who sets it, who confirms it, and those steps."""

    chip: Chip
    items: str
    set_by: Link
    confirmed_by: Link
    relied_on: tuple[Link, ...]


def histories(context: PageContext, proved: SortieEvidence) -> tuple[History, ...]:
    """Every equipment that the sortie changes or relies on."""
    states = proved.states
    named = {item[0] for item in states.changes} | {met.need.item[0] for met in states.met}
    return tuple(
        row for name in context.library.equipment if name in named for row in _histories(context, proved, name)
    )


def _histories(context: PageContext, proved: SortieEvidence, name: str) -> Iterator[History]:
    groups: dict[tuple[str, tuple[tuple[int, str], ...], str], list[Item]] = {}
    for parts in context.library.equipment[name].items:
        item = (name, parts)
        begins, ends = proved.states.starts[item].state, proved.states.ends[item].state
        groups.setdefault((begins, _changes(proved, item), ends), []).append(item)
    for (begins, changes, ends), items in groups.items():
        rows = tuple(_change(context, proved, step, state) for step, state in changes)
        yield History(context.chip("equipment", name), item_words(context, name, items), begins, rows, ends)


def _changes(proved: SortieEvidence, item: Item) -> tuple[tuple[int, str], ...]:
    """The steps that change an item, by the moment at which they have done so."""
    changes = proved.states.changes.get(item, {})
    return tuple(sorted(changes.items(), key=lambda change: (proved.timeline.times[change[0]].end, change[0])))


def _change(context: PageContext, proved: SortieEvidence, step: int, state: str) -> StateChange:
    return StateChange(show_elapsed(proved.timeline.times[step].end), state, _step(context, proved, step))


def _step(context: PageContext, proved: SortieEvidence, index: int) -> Link:
    return context.planned(proved.plan.steps[index])


def item_words(context: PageContext, name: str, items: list[Item]) -> str:
    """Which items: nothing where there is one alone, `all 6 items`, or their names."""
    record = context.library.equipment[name]
    if not record.parts:
        return ""
    if len(items) == len(record.items):
        return f"all {count(len(items), 'item')}"
    return capital("; ".join(record.item_words(parts) for _, parts in items))


def guards(context: PageContext, proved: SortieEvidence) -> tuple[Guard, ...]:
    """The controls that steps rely on, each with its state: who sets it, who confirms it, who relies on it."""
    groups: dict[tuple[str, str, int | None, int | None], list[Met]] = {}
    for met in proved.states.met:
        if met.control and not met.need.confirms:
            key = (met.need.item[0], met.need.state, met.answer.source, met.confirmed_by)
            groups.setdefault(key, []).append(met)
    return tuple(_guard(context, proved, *key, row) for key, row in groups.items())


def _guard(
    context: PageContext,
    proved: SortieEvidence,
    name: str,
    state: str,
    source: int | None,
    looker: int | None,
    row: list[Met],
) -> Guard:
    items = list(dict.fromkeys(met.need.item for met in row))
    steps = dict.fromkeys(met.need.step for met in row)
    return Guard(
        context.chip("equipment", name, state, "needs"),
        item_words(context, name, items),
        _step(context, proved, source) if source is not None else Link("so from the start"),
        _step(context, proved, looker) if looker is not None else Link("no need: so from the start"),
        tuple(_step(context, proved, step) for step in steps),
    )
