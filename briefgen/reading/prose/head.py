"""The head of an author's page: a title and a description in words, between two lines of dashes."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

from briefgen.findings import Finding, Level
from briefgen.source import Position

# As the builder takes it; what ends otherwise is no head but part of the page.
_HEAD = re.compile(r"\A-{3}[ \t]*\n(.*?\n)(?:-{3}|\.{3})[ \t]*\n", re.DOTALL)
_FRAME = re.compile(r"template[ \t]*:", re.IGNORECASE)


def head_of(text: str) -> str:
    """The head with its dashes; nothing where there is none."""
    found = _HEAD.match(text)
    return found[0] if found else ""


def head_findings(text: str, file: str) -> Iterator[Finding]:
    """Aliases, which can grow without bound, and another frame."""
    head = head_of(text)
    for number, line in enumerate(head.splitlines(), 1):
        if _FRAME.match(line):
            sentence = "“template” does nothing here: all pages have the same frame. Leave it out."
            yield Finding("page-html", Level.WARNING, Position(file, number), sentence)
    alias = _alias(head, file)
    if alias:
        sentence = "An alias (“*”) stands in the head of this page: write the words out."
        yield Finding("alias", Level.ERROR, alias, sentence)


def _alias(head: str, file: str) -> Position | None:
    """Where the first alias stands. A head that is no YAML is none to the builder either."""
    try:
        for event in yaml.parse(head, Loader=yaml.SafeLoader):
            if isinstance(event, yaml.AliasEvent) and event.start_mark:
                return Position(file, event.start_mark.line + 1, event.start_mark.column + 1)
    except (yaml.YAMLError, ValueError):
        pass
    return None
