"""Every reference that a record makes, in its fields and in its texts, each with its own place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from briefgen.model.base import Record
from briefgen.source import NOWHERE, Position, Ref, StepRef, Text

LINK = re.compile(r"\]\(\s*<?([a-z]+):([a-z0-9-]+)(?:#([a-z0-9-]+))?>?\s*\)")


def values_of(record: Record) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every leaf value of a record with the keys that lead to it; a mapping's keys are leaves, too."""
    if record._leaves is None:
        record._leaves = tuple(_walk((), record))
    yield from record._leaves


def _walk(path: tuple[str, ...], value: Any) -> Iterator[tuple[tuple[str, ...], Any]]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _walk((*path, name), getattr(value, name))
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield (*path, "key"), key
            yield from _walk((*path, str(key)), inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _walk(path, inner)
    elif value is not None:
        yield path, value


def references_of(record: Record) -> Iterator[Ref]:
    """The references in a record's fields."""
    for _, value in values_of(record):
        if isinstance(value, Ref):
            yield value


def step_references_of(record: Record) -> Iterator[StepRef]:
    """The steps (and, in flows, tasks) that a record names."""
    for _, value in values_of(record):
        if isinstance(value, StepRef):
            yield value


def links_in(text: str, start: Position = NOWHERE) -> Iterator[Ref]:
    """The records that a text links to, as `[words](kind:id)`. Places are right where the text is on one line."""
    for found in LINK.finditer(text):
        before = text[: found.start(1)]
        line = start.line + before.count("\n")
        column = found.start(1) - (before.rfind("\n") + 1) + (start.column if line == start.line else 1)
        yield Ref(found[2], Position(start.file, line, column), (found[1],), found[3] or "")


def text_links_of(record: Record) -> Iterator[Ref]:
    """The records that a record's own texts link to."""
    for _, value in values_of(record):
        if type(value) is Text and "](" in value:
            yield from links_in(value, value.position)
