"""A version of the content in one file: every record as its author wrote it, and a digest of every figure's file.

The file is JSON (RFC 8259), so every reader of YAML 1.2 reads it, too. The same content gives the same bytes, however
its records are spread over files. Its first line holds the format and a digest of the rest: nobody edits a record.
`FORMAT` goes up when the meaning of a key changes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from hashlib import file_digest, sha256
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from briefgen.model.fields.base import Record
from briefgen.model.library import KINDS, Library
from briefgen.reading.complaints import complaints
from briefgen.reading.folder import content_files
from briefgen.reading.tree import read_tree
from briefgen.source import Position, Text

FORMAT = 1
_MARK = "briefgen-record"


class BadRecord(Exception):
    """A record can't be used; the message says why and what to do."""


def record_text(root: Path, library: Library) -> str:
    """The record of a content folder that was read as `library` without an error."""
    written = _as_written(root)
    kinds = ",\n".join(f"{_json(kind)}: {{\n{_records(written[kind])}\n}}" for kind in KINDS if written.get(kind))
    figures = ",\n".join(f"{_json(name)}: {_json(digest)}" for name, digest in digests(root, library).items())
    body = f'"figures": {{\n{figures}\n}},\n"content": {{\n{kinds}\n}}}}\n'
    return f'{{"{_MARK}": {FORMAT}, "sha256": "{_digest(body)}",\n{body}'


def digests(root: Path, library: Library) -> dict[str, str]:
    """The SHA-256 (FIPS 180-4) of each figure's files, by the paths that the figure gives, where there is one."""
    names = sorted({name for figure in library.figures.values() for name in figure.files})
    return {name: _digest_of(root / name) for name in names if (root / name).is_file()}


def _digest_of(path: Path) -> str:
    with path.open("rb") as stream:
        return file_digest(stream, "sha256").hexdigest()


def read_record(text: str, name: str) -> tuple[Library, dict[str, str]]:
    """The library and the digests in a record's text. Raises BadRecord; `name` is how its message calls the file."""
    data = _checked(text, name)
    _of_one_form(data, name)
    records: dict[str, dict[str, Any]] = {key: {} for key in KINDS}
    for kind, found in data["content"].items():
        for identifier, raw in found.items():
            records[kind][identifier] = _record(kind, identifier, raw, name)
    return Library(records), dict(data["figures"])


def _digest(body: str) -> str:
    return sha256(body.encode("utf-8")).hexdigest()


def _as_written(root: Path) -> dict[str, dict[str, Any]]:
    kinds: dict[str, dict[str, Any]] = {}
    for path in content_files(root):
        tree, _ = read_tree(path.read_text(encoding="utf-8-sig"), path.name)
        for kind, records in (tree or {}).items():
            kinds.setdefault(str(kind), {}).update(records)
    return kinds


def _records(records: Mapping[str, Any]) -> str:
    """A line a record, and a line a step: so that a later version control shows what changed."""
    lines = []
    for identifier in sorted(records):
        record = dict(records[identifier])
        steps = record.pop("steps", None)
        if isinstance(steps, list):
            head = _json(record)[:-1]
            told = ",\n  ".join(map(_json, steps))
            lines.append(f'{_json(identifier)}: {head}{", " if record else ""}"steps": [\n  {told}]}}')
        else:
            lines.append(f"{_json(identifier)}: {_json(record)}")
    return ",\n".join(lines)


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _checked(text: str, name: str) -> Any:
    """The parts of a record, of the form that this version of the program reads."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise BadRecord(f"“{name}” is no record: it is not JSON. Write it anew with “briefgen record”.") from None
    if not isinstance(data, dict) or _MARK not in data:
        raise BadRecord(f"“{name}” is no record of a revision: “briefgen record FOLDER --to FILE” writes one.")
    if data[_MARK] != FORMAT:
        raise BadRecord(
            f"“{name}” has format {data[_MARK]}, and this version of briefgen reads format {FORMAT}: write it anew "
            "from the earlier content, or use the version of briefgen that wrote it."
        )
    body = text.replace("\r\n", "\n").partition("\n")[2]  # version control may have written other line ends
    if data.get("sha256") != _digest(body):
        raise BadRecord(
            f"“{name}” is not as “briefgen record” wrote it: take it from version control again, or write it anew "
            "from the earlier content."
        )
    return data


def _of_one_form(data: Any, name: str) -> None:
    """Refuses what no “briefgen record” would write, whatever its digest says."""
    content, figures = data.get("content"), data.get("figures")
    sound = isinstance(content, dict) and isinstance(figures, dict)
    sound = sound and all(kind in KINDS and isinstance(found, dict) for kind, found in content.items())
    if not sound or not all(isinstance(digest, str) for digest in figures.values()):
        raise BadRecord(f"“{name}” is no record of a revision: “briefgen record FOLDER --to FILE” writes one.")


def _record(kind: str, identifier: str, raw: Any, name: str) -> Record:
    model = KINDS[kind].model
    where = Text(identifier, Position(name))
    try:
        return model.model_validate(raw).known_as(where)
    except ValidationError as error:
        why = next(_sentences(error, where, kind))
        raise BadRecord(f"“{name}” can't be read: {why} Write it anew with this version of briefgen.") from None


def _sentences(error: ValidationError, where: Text, kind: str) -> Iterator[str]:
    for finding in complaints(error, where, f"{KINDS[kind].singular} “{where}”", KINDS[kind].model):
        yield finding.sentence
