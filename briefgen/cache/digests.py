"""By what a thing is found again: a digest (SHA-256) of all that it was made from."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from hashlib import file_digest, sha256
from pathlib import Path
from typing import Any

_BARE = frozenset({bool, int, float, bytes})


MOST = 512 * 2**20
"""Bytes that are read of a folder to tell it from others."""


class Unknown(Exception):
    """Something that can't be told exactly: what is made from it is not kept."""


Parts = Callable[[Any], Iterable[Any]]
"""What a value of another kind consists of. Raises Unknown where that can't be told."""


def unknown(value: Any) -> Iterable[Any]:
    """Nothing is known of other kinds of values."""
    raise Unknown(type(value).__name__)


def digest(value: Any, parts: Parts = unknown) -> str:
    """The digest of plain values, however deep: two values have the same one only if they are the same, in type, too.

    A mapping's order counts. Raises Unknown for what is neither plain nor known to `parts`.

    >>> digest((1, "a")) == digest((1, "a")), digest((1, "a")) == digest((1.0, "a"))
    (True, False)
    """
    words: list[str] = []
    _spell(value, words, parts)
    return sha256("".join(words).encode("utf-8", "surrogatepass")).hexdigest()


def _spell(value: Any, words: list[str], parts: Parts) -> None:
    kind = type(value)
    if kind is str:
        words.append(f"{len(value)}'{value}")
        return
    if value is None or kind in _BARE or isinstance(value, Enum):
        words.append(f"{kind.__name__} {value!r};")
        return
    row: Iterable[Any]
    if isinstance(value, Mapping):
        row = (one for pair in value.items() for one in pair)
    elif kind is tuple or kind is list:
        row = value
    elif isinstance(value, frozenset | set):
        row = sorted(digest(one, parts) for one in value)
    elif is_dataclass(value):
        row = [getattr(value, field.name) for field in fields(value)]
    else:
        row = parts(value)
    words.append(f"{kind.__qualname__}(")
    for one in row:
        _spell(one, words, parts)
    words.append(")")


def folder_digest(root: Path, skip: frozenset[str] = frozenset()) -> str:
    """The digest of every file below a folder by its path, but for folders of these names; of none where it is missing.

    Raises Unknown where there is anything but plain files and folders, too much of it, or a file can't be read.
    """
    rows = []
    try:
        for path, _ in _files(root, skip):
            with path.open("rb") as file:
                rows.append((_name(path, root), file_digest(file, "sha256").digest()))
    except OSError as error:
        raise Unknown(str(error)) from None
    return digest(rows)


def folder_stamp(root: Path, skip: frozenset[str] = frozenset()) -> str:
    """What any change to a file below a folder changes, even one that is taken back. Raises Unknown as above."""
    try:
        files = _files(root, skip)
    except OSError as error:
        raise Unknown(str(error)) from None
    return digest(
        [(_name(path, root), its.st_ino, its.st_size, its.st_mtime_ns, its.st_ctime_ns) for path, its in files]
    )


def _name(path: Path, root: Path) -> str:
    return path.relative_to(root).as_posix()


def _files(root: Path, skip: frozenset[str]) -> list[tuple[Path, os.stat_result]]:
    found: list[tuple[Path, os.stat_result]] = []
    folders, left = [root] if root.is_dir() else [], MOST
    while folders:
        with os.scandir(folders.pop()) as entries:
            for entry in entries:
                its = entry.stat(follow_symlinks=False)
                left -= its.st_size
                if stat.S_ISDIR(its.st_mode):
                    if entry.name not in skip:
                        folders.append(Path(entry.path))
                elif not stat.S_ISREG(its.st_mode) or left < 0:
                    raise Unknown(entry.path)
                else:
                    found.append((Path(entry.path), its))
    return sorted(found, key=lambda one: one[0].as_posix())
