"""An entry: a table (JSON) and the bytes that it tells of, in one file with a checksum over all of it and its name.

What is cut short, changed, or lies under another's name is no entry. Nothing in it is ever run.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from hashlib import sha256
from typing import Any, BinaryIO

from briefgen.cache.folder import Folder

_MAGIC = b"briefgen entry 1\n"
_SUM = sha256().digest_size
_PIECE = 1 << 20


class KeptEntry:
    """An entry that was found whole."""

    def __init__(self, file: BinaryIO, table: Any, start: int) -> None:
        self._file, self._start = file, start
        self.table = table

    def piece(self, begin: int, length: int) -> bytes:
        """Bytes from `begin` on, counted from the end of the table. Raises ValueError where there are not so many."""
        self._file.seek(self._start + begin)
        found = self._file.read(length)
        if len(found) != length or begin < 0:
            raise ValueError("the table tells of bytes that are not there")
        return found

    def close(self) -> None:
        """It is not read any more."""
        self._file.close()


def recall(folder: Folder, name: str) -> KeptEntry | None:
    """The entry of that name, if it is whole."""
    file = folder.read(name)
    if file is None:
        return None
    try:
        found = _read(file, name)
    except (OSError, ValueError, RecursionError):
        found = None
    if found is None:
        file.close()
    return found


def _read(file: BinaryIO, name: str) -> KeptEntry | None:
    size = file.seek(0, 2) - _SUM
    file.seek(0)
    digest, left = _begun(name), size
    while left > 0:
        piece = file.read(min(left, _PIECE))
        if not piece:
            return None
        digest.update(piece)
        left -= len(piece)
    if left or file.read() != digest.digest():
        return None
    file.seek(0)
    if file.read(len(_MAGIC)) != _MAGIC:
        return None
    length = int.from_bytes(file.read(8), "big")
    start = len(_MAGIC) + 8 + length
    return KeptEntry(file, json.loads(file.read(length)), start) if start <= size else None


def keep(folder: Folder, name: str, table: Any, pieces: Iterable[bytes] = ()) -> bool:
    """Keeps an entry in the place of the one before; False where nothing can be written."""
    head = json.dumps(table, separators=(",", ":")).encode()
    digest = _begun(name)
    try:
        with folder.written(name) as file:
            for piece in (_MAGIC, len(head).to_bytes(8, "big"), head, *pieces):
                digest.update(piece)
                file.write(piece)
            file.write(digest.digest())
    except OSError:
        return False
    return True


def _begun(name: str) -> Any:
    return sha256(f"{name}\0".encode())
