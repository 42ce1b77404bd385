"""Finished HTML that waits on the disk until a frame is put around it: memory does not grow with the pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryFile
from weakref import finalize


class Spool(Mapping[str, str]):
    """The inside of pages by uri, in one file without a name: whatever ends the process, nothing of it is left.

    `folder` is where it lies; raises OSError where nothing can be written there.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._file = TemporaryFile(dir=folder, buffering=0)  # noqa: SIM115 (closed with the spool)
        self._places: dict[str, tuple[int, int]] = {}
        finalize(self, self._file.close)

    def put(self, uri: str, html: str) -> None:
        """Adds a page. Raises OSError where the disk is full."""
        content = html.encode("utf-8", "surrogatepass")
        begin, left = self._file.seek(0, 2), memoryview(content)
        while left:
            left = left[self._file.write(left) :]
        self._places[uri] = (begin, len(content))

    def __getitem__(self, uri: str) -> str:
        begin, length = self._places[uri]
        self._file.seek(begin)
        return self._file.read(length).decode("utf-8", "surrogatepass")

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)
