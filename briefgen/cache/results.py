"""KeptResults of long computations, each found again by its name and a digest of all that it follows from.

While nothing is known from an earlier build, and where nothing is kept, everything is computed.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from itertools import accumulate
from typing import Any, TypeVar, cast

from briefgen.cache.digests import Unknown, digest
from briefgen.cache.entries import KeptEntry, keep
from briefgen.cache.folder import Folder
from briefgen.cache.plain import Plain

Result = TypeVar("Result")


MOST = 8 * 2**20
"""Bytes of results that are kept of one project: those of its last builds."""


class ReadAsAsked(Mapping[str, Any]):
    """The results in an entry, each read when it is asked for. Raises ValueError where the entry was cut short."""

    def __init__(self, entry: KeptEntry) -> None:
        self._entry = entry

    def raw(self, key: str) -> bytes:
        """A result as it lies there."""
        return self._entry.piece(*self._entry.table[key])

    def __getitem__(self, key: str) -> Any:
        return json.loads(self.raw(key))

    def __iter__(self) -> Iterator[str]:
        return iter(self._entry.table)

    def __len__(self) -> int:
        return len(self._entry.table)


def keep_results(folder: Folder, name: str, asked: Mapping[str, Any], known: Mapping[str, Any]) -> None:
    """Keeps what a build asked for, and of what was known before as much as there is room for."""
    pieces = {key: json.dumps(one, separators=(",", ":")).encode() for key, one in asked.items()}
    left = MOST - sum(map(len, pieces.values()))
    for key in known:
        piece = known.raw(key) if isinstance(known, ReadAsAsked) and key not in pieces else b""
        left -= len(piece)
        if left < 0:
            break
        pieces |= {key: piece} if piece else {}
    begins = accumulate(map(len, pieces.values()), initial=0)
    table = {key: (begin, len(piece)) for (key, piece), begin in zip(pieces.items(), begins, strict=False)}
    keep(folder, name, table, pieces.values())


class KeptResults:
    """What was found for a build. `known` are those of earlier builds, as they were written.

    `program` is the digest of all that computes.
    """

    def __init__(self, known: Mapping[str, Any] | None = None, program: str = "", *, kept: bool = True) -> None:
        self._known, self._program, self.kept = known or {}, program, kept
        self.asked: dict[str, Any] = {}
        """What this build asked for, as it is to be kept."""

    def once(
        self, name: object, follows_from: Callable[[], str], plain: Plain, compute: Callable[[], Result]
    ) -> Result:
        """The result, computed unless it is known. `follows_from` is a digest; it raises Unknown where none can be."""
        if not self.kept:
            return compute()
        try:
            key = digest((self._program, name, follows_from()))
        except Unknown:
            return compute()
        for known in (self.asked, self._known):
            if key in known:
                with suppress(OSError, ValueError, TypeError, KeyError):
                    written = known[key]
                    found = plain.read(written)
                    self.asked[key] = written
                    return cast(Result, found)
        result = compute()
        with suppress(Unknown, TypeError):
            self.asked[key] = plain.written(result)
        return result


NO_RESULTS = KeptResults(kept=False)
