"""What leaves a command: through the printable filter, to the terminal or into a file; and what its exit codes mean."""

from __future__ import annotations

import sys
from pathlib import Path
from shutil import get_terminal_size

from briefgen.files import write_whole
from briefgen.language.printable import printable

SOUND, WRONG, COULD_NOT_RUN = 0, 1, 2
"""Exit codes: no error, errors (or warnings under --strict), could not run."""


def width() -> int:
    """Columns of the terminal; 120 where nobody looks at one."""
    return get_terminal_size((120, 40)).columns if sys.stdout.isatty() else 120


def write(text: str, file: Path | None = None, *, coloured: bool = False, commands: bool = False) -> None:
    """Into a file, or to the terminal; line ends stay as they are. All that leaves goes through the printable filter.

    `coloured`: the text bears our colours; `commands`: its lines are for a CI service, or for programs.
    """
    text = printable(text, coloured=coloured, commands=commands or file is not None)
    if file is not None:
        write_whole(file, text)
    elif hasattr(sys.stdout, "buffer"):
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode(sys.stdout.encoding or "utf-8", errors="replace"))
    else:
        sys.stdout.write(text)
