"""A content folder as a library: finds the files, reads each, validates every record.

Reads files and nothing else; whatever is wrong becomes a finding and the rest is read all the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from briefgen.findings import Finding, Level
from briefgen.language.nearest import nearest
from briefgen.language.printable import in_one_line
from briefgen.model.fields import limits
from briefgen.model.fields.base import Record
from briefgen.model.fields.limits import too_much
from briefgen.model.fields.values import ID_PATTERN, RawMap, place_of
from briefgen.model.library import ANY_ID, KINDS, Library, RecordKind
from briefgen.reading.complaints import complaints
from briefgen.reading.files import Unreadable, inside
from briefgen.reading.text import text_of
from briefgen.reading.tree import read_tree
from briefgen.refusals import CannotRun
from briefgen.source import Position, Text

# What ends a line in YAML 1.1, as the parser's marks count; the separators of Unicode are among them.
_LINE_END = re.compile(r"\r\n|[\r\n\x85\u2028\u2029]")


class NoContent(CannotRun):
    """The content folder can't be used at all; the message says why and what to do."""


@dataclass(frozen=True)
class Reading:
    """What was read.

    `broken` names the records that are there but could not be understood, `lost` the files of which nothing could be.
    """

    root: Path
    library: Library
    broken: frozenset[tuple[str, str]]
    findings: tuple[Finding, ...]
    lost: frozenset[str]
    sources: Mapping[str, tuple[str, ...]]

    @property
    def files(self) -> tuple[str, ...]:
        """The content files, by name."""
        return tuple(self.sources)


def read_folder(root: Path) -> Reading:
    """Every record below `root`. Raises NoContent where there is no such folder or no YAML file in it."""
    if not root.is_dir():
        raise NoContent(f"There is no content folder “{root}”. Name the folder that holds your YAML files.")
    paths = content_files(root)
    if not paths:
        raise NoContent(f"There is no .yaml or .yml file in “{root}”.")
    shelf = _Shelf()
    for path in paths:
        file = in_one_line(path.relative_to(root).as_posix())
        shelf.findings += shelf.read(path, file, root)
    return Reading(
        root, Library(shelf.records), frozenset(shelf.broken), tuple(shelf.findings), frozenset(shelf.lost),
        shelf.sources,
    )  # fmt: skip


def content_files(root: Path) -> list[Path]:
    """The YAML files below a folder, hidden ones left out, by name."""
    found = (path for path in root.rglob("*") if path.suffix in (".yaml", ".yml"))
    return sorted(path for path in found if not any(part.startswith(".") for part in path.relative_to(root).parts))


class _Shelf:
    """Gathers records from file after file."""

    def __init__(self) -> None:
        self.records: dict[str, dict[str, Any]] = {key: {} for key in KINDS}
        self.first: dict[tuple[str, str], Position] = {}
        self.broken: set[tuple[str, str]] = set()
        self.lost: set[str] = set()
        self.findings: list[Finding] = []
        self.sources: dict[str, tuple[str, ...]] = {}

    def read(self, path: Path, file: str, root: Path) -> Iterator[Finding]:
        text, problem = _text_of(path, file, root)
        self.sources[file] = tuple(_LINE_END.split(text))
        if problem:
            self.lost.add(file)
            yield problem
            return
        tree, findings = read_tree(text, file)
        yield from findings
        if tree is None:
            self.lost |= {file} if findings else set()
            if not findings:
                yield Finding(
                    "empty-file",
                    Level.ERROR,
                    Position(file),
                    "This file says nothing: write a kind, like “tasks:”, and its records, or remove the file.",
                )
        elif not isinstance(tree, RawMap):
            yield Finding(
                "wrong-value",
                Level.ERROR,
                place_of(tree),
                "A content file is a mapping of kinds: begin it with a kind and a colon, like “tasks:”.",
            )
        else:
            for key, records in tree.items():
                yield from self.read_kind(key, records)

    def _miss(self, kinds: Iterable[str]) -> None:
        """Some records of these kinds may be there and can't be read, so naming one is no mistake."""
        self.broken |= {(str(kind), ANY_ID) for kind in kinds}

    def read_kind(self, key: Text, records: Any) -> Iterator[Finding]:
        if key not in KINDS:
            close = nearest(key, KINDS)
            self._miss([close] if close else [])
            hint = f"Did you mean “{close}”?" if close else f"The kinds are: {', '.join(KINDS)}."
            yield Finding("unknown-kind", Level.ERROR, place_of(key), f"“{key}” is no kind of record. {hint}")
        elif not isinstance(records, RawMap):
            yield Finding(
                "wrong-value",
                Level.ERROR,
                place_of(records),
                f"Under “{key}” stand ids, each with its record: write “id:” and the record's keys below it.",
            )
        else:
            for identifier, raw in records.items():
                yield from self.read_record(KINDS[key], identifier, raw)

    def read_record(self, kind: RecordKind, identifier: Text, raw: Any) -> Iterator[Finding]:
        earlier = self.first.get((kind.key, identifier))
        if earlier:
            yield Finding(
                "duplicate-id",
                Level.ERROR,
                identifier.position,
                f"There is already a {kind.singular} “{identifier}”, at {earlier}. Give one of them another id.",
            )
            return
        self.first[kind.key, identifier] = identifier.position
        if not _is_id(identifier):
            self.broken |= {(kind.key, str(identifier)), (kind.key, _likely_id(identifier))}
            yield _bad_id(identifier)
            return
        try:
            record: Record = kind.model.model_validate(raw)
        except ValidationError as error:
            self.broken.add((kind.key, str(identifier)))
            yield from complaints(error, _placed(raw, identifier), f"{kind.singular} “{identifier}”", kind.model)
            return
        self.records[kind.key][str(identifier)] = record.known_as(identifier)


def _likely_id(identifier: str) -> str:
    """The id that was probably meant, so that what names it is no second mistake."""
    return "-".join(re.findall(r"[a-z0-9]+", identifier.lower()))


def _placed(raw: Any, identifier: Text) -> Any:
    """The raw record, placed at its id, so that a missing key is reported where the author sees the record begin."""
    if isinstance(raw, RawMap):
        moved = RawMap(raw)
        moved.position = identifier.position
        return moved
    return identifier


def _is_id(identifier: str) -> bool:
    return len(identifier) <= limits.ID and re.fullmatch(ID_PATTERN, identifier) is not None


def _bad_id(identifier: Text) -> Finding:
    reason = too_much(identifier, limits.ID)
    if reason:
        return Finding("too-long", Level.ERROR, identifier.position, f"This id is too long: {reason}.")
    sentence = f"“{identifier}” is no id: write lower-case words joined by hyphens, like “pump-unit”."
    return Finding("bad-id", Level.ERROR, identifier.position, sentence)


def _text_of(path: Path, file: str, root: Path) -> tuple[str, Finding | None]:
    """The file's text, or the finding that says why it can't be read."""
    try:
        if inside(root, path):
            return text_of(path, file)
        sentence = "This file is a link that leaves the content folder: put the file itself here."
    except Unreadable as reason:
        sentence = f"This file can't be read: {reason}."
    return "", Finding("unreadable-file", Level.ERROR, Position(file), sentence)
