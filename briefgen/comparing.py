"""The commands `record` and `compare`: options and hand-over only."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path

from briefgen.export.changes import as_json, as_markdown
from briefgen.files import write_whole
from briefgen.recorded import NoVersion
from briefgen.revision.comparison import Comparison
from briefgen.terminal.changes import changes_text
from briefgen.versions import record_of, version_at

SAME, DIFFERS = 0, 1
"""Exit codes, as those of `diff` (POSIX.1-2017): 2 is for what could not be compared."""

FORMATS: Mapping[str, Callable[[Comparison], str]] = {
    "json": lambda comparison: as_json(comparison) + "\n",
    "markdown": as_markdown,
}


Run = Callable[[argparse.Namespace], int]


def add_commands(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], record_by: Run, compare_by: Run
) -> None:
    """Adds both commands, each with what runs it."""
    record = commands.add_parser("record", help="keep this version of the content in one file")
    record.add_argument("folder", type=Path, help="the folder that holds the YAML files")
    record.add_argument("--to", type=Path, metavar="FILE", help="write into this file instead of printing")
    record.set_defaults(run=record_by)
    compare = commands.add_parser("compare", help="say what differs between two versions, in the plan's terms")
    compare.add_argument("old", type=Path, help="the earlier version: a content folder, or a record of one")
    compare.add_argument("new", type=Path, help="the later version: likewise")
    compare.add_argument("--format", choices=("text", *FORMATS), default="text", help="how differences are written")
    compare.add_argument("--to", type=Path, metavar="FILE", help="write into this file instead of printing")
    compare.set_defaults(run=compare_by)


def comparison_of(options: argparse.Namespace) -> Comparison:
    """The two versions that were named. Raises NoVersion and NoContent."""
    return Comparison(version_at(options.old), version_at(options.new))


def compared(comparison: Comparison, form: str, width: int) -> str:
    """What differs, in the format asked for."""
    return FORMATS[form](comparison) if form in FORMATS else changes_text(comparison, width)


def keep(folder: Path, file: Path | None) -> str:
    """Writes the record into a new file, or returns it where no file is named. Returns what to print.

    A record is never written over: what was briefed then must stay to be compared with. Raises NoVersion.
    """
    text = record_of(folder)
    if file is None:
        return text
    if file.is_file() and file.read_bytes() == text.encode("utf-8"):
        return f"{file} holds this version already.\n"
    if file.exists() or file.is_symlink():
        raise NoVersion(
            f"“{file}” is there already and holds something else. It was not touched: name another file, or take "
            "that one away first."
        )
    write_whole(file, text)
    return f"{file}\n"
