"""One YAML text as plain maps, lists and words, each with its place. The only module that knows YAML.

Scalars stay text, so nothing is guessed (`no` stays a word, `1:30` is not 90). Duplicate keys, aliases and tags
are refused. The tree is built from parser events without recursion, so that deep nesting can't exhaust the stack.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import yaml

from briefgen.findings import Finding, Level
from briefgen.language.printable import control_in
from briefgen.model.fields.limits import LEVELS, NAME, too_much
from briefgen.model.fields.values import RawList, RawMap
from briefgen.reading.syntax import Objection, explain
from briefgen.source import Position, Text

_FAST: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass
class _Open:
    """A map or list that is still being filled."""

    node: RawMap | RawList
    key: Text | None = None
    names: dict[str, Text] = field(default_factory=dict)


class _Refused(Exception):
    def __init__(self, finding: Finding) -> None:
        self.finding = finding


@lru_cache(maxsize=512)
def read_tree(text: str, file: str) -> tuple[Any | None, tuple[Finding, ...]]:
    """The document's root, or None with findings. Linear in the text's length.

    The same text gives the same tree: while somebody writes, one file of many changes. Nobody may change a tree.

    >>> root, findings = read_tree("tools:\\n  hook: {stowed: k2}\\n", "tools.yaml")
    >>> root["tools"]["hook"]["stowed"].position.line, findings
    (2, ())
    """
    builder = _Builder(file)
    try:
        builder.build(yaml.parse(text, Loader=_FAST))
    except _Refused as refused:
        return None, (*builder.findings, refused.finding)
    except yaml.YAMLError as error:
        return None, (*builder.findings, _syntax_error(text, file, error))
    return builder.root, tuple(builder.findings)


def _syntax_error(text: str, file: str, fast: yaml.YAMLError) -> Finding:
    """The same text through the pure parser, which puts an error where it is; the fast one may be a line late."""
    if _nested_too_deeply(text):
        # The pure parser takes minutes for thousands of open brackets.
        return _too_deep(Position(file, *_spot(getattr(fast, "problem_mark", None))))
    try:
        for _ in yaml.parse(text, Loader=yaml.SafeLoader):
            pass
    except yaml.MarkedYAMLError as error:
        at = _spot(error.problem_mark or error.context_mark)
        since = _spot(error.context_mark or error.problem_mark)
        objection = Objection(error.problem or "", at, error.context or "", since, text.splitlines())
        found = explain(objection)
        return Finding("yaml-syntax", Level.ERROR, Position(file, *found.at), found.sentence, write=found.write)
    except yaml.YAMLError as error:
        words = " ".join(str(error).split())
        return Finding(
            "yaml-syntax", Level.ERROR, Position(file), f"This is not YAML: {words}. Take out what stands there."
        )
    return Finding("yaml-syntax", Level.ERROR, Position(file), f"This is not YAML: {fast}.")


def _spot(mark: Any) -> tuple[int, int]:
    """A parser's mark as line and column."""
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def _nested_too_deeply(text: str) -> bool:
    """Whether more brackets and braces stand open at once than any content needs."""
    depth = deepest = 0
    for character in text:
        if character in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif character in "]}":
            depth -= 1
    return deepest > LEVELS


def _too_deep(position: Position) -> Finding:
    return Finding(
        "too-deep",
        Level.ERROR,
        position,
        f"This is nested more than {LEVELS} levels deep: close the brackets that stand open, or take levels out.",
    )


class _Builder:
    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Any | None = None
        self.findings: list[Finding] = []
        self.stack: list[_Open] = []
        self.documents = 0

    def build(self, events: Iterator[Any]) -> None:
        for event in events:
            if isinstance(event, yaml.ScalarEvent):
                self.refuse_tag(event)
                self.place(self.clean(Text(event.value, self.at(event))))
            elif isinstance(event, yaml.MappingStartEvent):
                self.open(event, RawMap())
            elif isinstance(event, yaml.SequenceStartEvent):
                self.open(event, RawList())
            elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
                self.stack.pop()
            elif isinstance(event, yaml.AliasEvent):
                raise _Refused(
                    self.finding(
                        "alias",
                        event,
                        f"“*{event.anchor}” repeats something written elsewhere. "
                        "Write the value out: a briefing names everything where it is used.",
                    )
                )
            elif isinstance(event, yaml.DocumentStartEvent):
                self.documents += 1
                if self.documents > 1:
                    raise _Refused(
                        self.finding(
                            "yaml-syntax",
                            event,
                            "A second document begins here (“---”): put it in a file of its own, or take the line out.",
                        )
                    )

    def at(self, event: Any) -> Position:
        return Position(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def finding(self, rule: str, event: Any, sentence: str) -> Finding:
        return Finding(rule, Level.ERROR, self.at(event), sentence)

    def clean(self, value: Text) -> Text:
        """The value; a character that nobody can see in it is a finding."""
        code = control_in(value)
        if code:
            sentence = f"A character that shows nothing ({code}) stands in this value: type the words anew."
            self.findings.append(Finding("control-character", Level.ERROR, value.position, sentence))
        return value

    def refuse_tag(self, event: Any) -> None:
        if event.tag is not None and event.tag != "!":
            raise _Refused(
                self.finding(
                    "custom-tag", event, f"“{event.tag}” is a tag: values here are plain words. Take the tag out."
                )
            )

    def open(self, event: Any, node: RawMap | RawList) -> None:
        self.refuse_tag(event)
        node.position = self.at(event)
        self.place(node)
        if len(self.stack) >= LEVELS:
            raise _Refused(_too_deep(self.at(event)))
        self.stack.append(_Open(node))

    def place(self, value: Any) -> None:
        """Puts a value where it belongs: the root, a list, a map's next key or that key's value."""
        if not self.stack:
            self.root = value
            return
        top = self.stack[-1]
        if isinstance(top.node, RawList):
            top.node.append(value)
        elif top.key is None:
            top.key = self.as_key(value)
        else:
            key, top.key = top.key, None
            self.add(top, key, value)

    def as_key(self, value: Any) -> Text:
        if isinstance(value, Text):
            reason = too_much(value, NAME)
            if reason:
                sentence = f"This key is too long: {reason}."
                raise _Refused(Finding("too-long", Level.ERROR, value.position, sentence))
            return value
        raise _Refused(
            Finding(
                "yaml-syntax",
                Level.ERROR,
                value.position,
                "A key must be one word, not a list or a mapping. Quote it if it begins with a bracket or a brace.",
            )
        )

    def add(self, top: _Open, key: Text, value: Any) -> None:
        if key in top.names:
            first = top.names[key].position
            self.findings.append(
                Finding(
                    "duplicate-key",
                    Level.ERROR,
                    key.position,
                    f"“{key}” stands here for the second time; it is already at line {first.line}. Keep one of them.",
                )
            )
            return
        top.names[key] = key
        top.node[key] = value  # type: ignore[call-overload]
