"""`briefgen record`: a version of the content, kept in one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from briefgen.commands.arguments import Commands, add_folder, add_to
from briefgen.commands.output import SOUND, write
from briefgen.files import write_whole
from briefgen.refusals import CannotRun
from briefgen.versions import record_of


def add(commands: Commands) -> None:
    """Describes the verb."""
    record = commands.add_parser("record", help="keep this version of the content in one file")
    add_folder(record)
    add_to(record)
    record.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Writes the record, or prints it where no file is named. Raises CannotRun."""
    write(_kept(options.folder, options.to), commands=options.to is None)
    return SOUND


def _kept(folder: Path, file: Path | None) -> str:
    """Writes the record into a new file, or returns it where no file is named. Returns what to print.

    A record is never written over: what was briefed then must stay to be compared with.
    """
    text = record_of(folder)
    if file is None:
        return text
    if file.is_file() and file.read_bytes() == text.encode("utf-8"):
        return f"{file} holds this version already.\n"
    if file.exists() or file.is_symlink():
        raise CannotRun(
            f"“{file}” is there already and holds something else. It was not touched: name another file, or take "
            "that one away first."
        )
    write_whole(file, text)
    return f"{file}\n"
