"""What is found at every round of a block, or in every task like another, is one mistake: it is told once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from briefgen.findings import Finding
from briefgen.model.fields.base import Part
from briefgen.model.library import Library
from briefgen.model.steps import Step
from briefgen.source import NOWHERE, Position, Text


def told_once(findings: Iterable[Finding], library: Library) -> list[Finding]:
    """The findings; of those that one word of the author's causes many times, the first, which says how many more."""
    many = _written_once(library)
    if not many:
        return list(findings)
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for number, one in enumerate(dict.fromkeys(findings)):
        repeated = one.position in many
        key = (one.rule, one.position, *(other.position for other in one.related)) if repeated else (number,)
        groups.setdefault(key, []).append(one)
    return [_with_number(row[0], len(row) - 1) for row in groups.values()]


def _with_number(first: Finding, more: int) -> Finding:
    return replace(first, sentence=f"{first.sentence} (and {more} more)") if more else first


def _written_once(library: Library) -> set[Position]:
    """Every place in a step that is written once and planned many times."""
    met: dict[Position, Step] = {}
    found: set[Position] = set()
    for step in (step for task in library.tasks.values() for step in task.steps):
        first = met.setdefault(step.position, step)
        if first is not step and step.position not in found:
            found |= set(_places(step))
    return found - {NOWHERE}


def _places(value: Any) -> Iterator[Position]:
    if isinstance(value, Part):
        yield value.position
        yield from value.key_positions
        for name in type(value).model_fields:
            yield from _places(getattr(value, name))
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from (*_places(key), *_places(inner))
    elif isinstance(value, tuple):
        for inner in value:
            yield from _places(inner)
    elif isinstance(value, Text):
        yield value.position
