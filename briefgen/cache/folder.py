"""Where entries lie: a folder of this user's alone, which nobody else can write to, or none at all.

The user's own folder for what can be made again (XDG Base Directory Specification: `XDG_CACHE_HOME`, or `~/.cache`),
not one beside the content: what came along with somebody's content is never taken for our own work. All is done within
the opened folder, so that whoever changes the way to it changes nothing. Where anything is odd, nothing is kept.
"""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex
from typing import BinaryIO

NAME = "briefgen"
LIMIT = 512 * 2**20
"""Bytes of all entries together; those that were used least lately go first."""
_UNFINISHED = 3600.0
"""Seconds after which a file that was never finished is nobody's any more."""
_WAY = os.O_NOFOLLOW | os.O_CLOEXEC if hasattr(os, "O_NOFOLLOW") else 0


def home() -> Path | None:
    """The folder in which ours lies; None where there is none. `BRIEFGEN_CACHE` names another; empty, it names none."""
    own = os.environ.get("BRIEFGEN_CACHE")
    if own is not None:
        return Path(own) if Path(own).is_absolute() else None
    given = Path(os.environ.get("XDG_CACHE_HOME", ""))
    if given.is_absolute():
        return given
    try:
        return Path.home() / ".cache"
    except RuntimeError:
        return None


class Folder:
    """The opened folder. Entries are files with plain names."""

    def __init__(self, number: int) -> None:
        self._number = number

    @classmethod
    def opened(cls) -> Folder | None:
        """The folder, made if need be; None where it can't be made, is a link, or is not this user's alone."""
        place = home()
        if place is None or not _can():
            return None
        try:
            place.mkdir(mode=0o700, parents=True, exist_ok=True)
            with suppress(FileExistsError):
                (place / NAME).mkdir(mode=0o700)
            number = os.open(place / NAME, os.O_RDONLY | os.O_DIRECTORY | _WAY)
        except (OSError, ValueError):
            return None
        its = os.fstat(number)
        if its.st_uid != os.geteuid() or stat.S_IMODE(its.st_mode) & 0o022:
            os.close(number)
            return None
        return cls(number)

    def close(self) -> None:
        """No entry is read or written any more."""
        os.close(self._number)

    def read(self, name: str) -> BinaryIO | None:
        """An entry opened for reading; None where there is none. It counts as used now."""
        try:
            number = os.open(name, os.O_RDONLY | os.O_NONBLOCK | _WAY, dir_fd=self._number)
        except OSError:
            return None
        its = os.fstat(number)
        if not stat.S_ISREG(its.st_mode) or its.st_uid != os.geteuid():
            os.close(number)
            return None
        with suppress(OSError):
            os.utime(number)
        return os.fdopen(number, "rb")

    @contextmanager
    def written(self, name: str) -> Iterator[BinaryIO]:
        """A file that takes the place of the entry once it is whole. Raises OSError; then all is as it was."""
        fresh = f".{name}.{os.getpid()}.{token_hex(4)}"
        number = os.open(fresh, os.O_RDWR | os.O_CREAT | os.O_EXCL | _WAY, 0o600, dir_fd=self._number)
        try:
            with os.fdopen(number, "wb") as file:
                yield file
            os.rename(fresh, name, src_dir_fd=self._number, dst_dir_fd=self._number)
        except BaseException:
            with suppress(OSError):
                os.unlink(fresh, dir_fd=self._number)
            raise

    def trim(self, limit: int = LIMIT) -> None:
        """Drops what was used least lately until no more than `limit` bytes are left, and what was never finished."""
        found = []
        for name in os.listdir(self._number):
            with suppress(OSError):
                its = os.stat(name, dir_fd=self._number, follow_symlinks=False)
                lost = name.startswith(".") and its.st_mtime < time.time() - _UNFINISHED
                found.append((0.0 if lost else its.st_mtime, its.st_size, name))
        left = sum(size for _, size, _ in found)
        for used, size, name in sorted(found):
            if used and left <= limit:
                break
            left -= size
            with suppress(OSError):
                os.unlink(name, dir_fd=self._number)


def _can() -> bool:
    """Whether this system tells owners, and opens files within an opened folder."""
    return hasattr(os, "geteuid") and hasattr(os, "O_NOFOLLOW") and os.open in os.supports_dir_fd
