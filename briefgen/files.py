"""Files written whole: whoever reads one finds what was there before or all that is new, whatever happens meanwhile."""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import NamedTemporaryFile


def write_whole(file: Path, text: str) -> None:
    """Writes a file beside its place and moves it there (POSIX `rename`). Raises OSError, which names `file`.

    A link stays a link: what it leads to is written. What is no plain file (a terminal, a pipe) is written directly.
    """
    target = Path(os.path.realpath(file))
    try:
        if target.exists() and not target.is_file():
            target.write_text(text, encoding="utf-8", newline="")
            return
        with NamedTemporaryFile("wb", dir=target.parent, prefix=f".{target.name[:40]}.", delete=False) as fresh:
            beside = Path(fresh.name)
            try:
                fresh.write(text.encode("utf-8"))
                fresh.flush()
                os.fsync(fresh.fileno())
                beside.chmod(target.stat().st_mode & 0o7777 if target.exists() else 0o666 & ~_umask())
                beside.replace(target)
            except BaseException:
                beside.unlink(missing_ok=True)
                raise
    except OSError as error:
        raise type(error)(error.errno, error.strerror, str(file)) from None


def _umask() -> int:
    """The process's mask for new files; it can only be read by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
