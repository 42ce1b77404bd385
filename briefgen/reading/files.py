"""Reading the files of strangers: only ordinary ones of a bounded size, and none that lies elsewhere.

A pipe, a device or a loop of links never makes anybody wait.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO


class Unreadable(Exception):
    """A file can't be read; the message says why, as the end of a sentence."""


def inside(root: Path, path: Path) -> bool:
    """Whether a path leads to something below `root`, also behind links. Raises Unreadable for a path that can't."""
    try:
        return path.resolve().is_relative_to(root.resolve())
    except (OSError, RuntimeError, ValueError) as error:
        raise Unreadable(_reason(error)) from None


def bytes_of(path: Path, most: int) -> bytes:
    """An ordinary file's bytes. Raises Unreadable for anything else, and for a file of more than `most` bytes."""
    with ordinary(path) as (stream, size):
        if size > most:
            raise Unreadable(f"it is larger than {most // 1_000_000} MB")
        return stream.read(most)


@contextmanager
def ordinary(path: Path) -> Iterator[tuple[BinaryIO, int]]:
    """An ordinary file, open, and how many bytes it has. Raises Unreadable for anything else."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise Unreadable("it is no ordinary file")
        # Should it become a pipe by now, opening it does not wait either.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with open(handle, "rb") as stream:
            yield stream, found.st_size
    except (OSError, RuntimeError, ValueError) as error:
        raise Unreadable(_reason(error)) from None


def is_ordinary(path: Path) -> bool:
    """Whether there is an ordinary file at a path, whatever that path looks like."""
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except (OSError, RuntimeError, ValueError):
        return False


def _reason(error: Exception) -> str:
    if isinstance(error, RuntimeError):
        return "it is a link that leads round in a circle"
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.lower()
    return "there can be no such path"
