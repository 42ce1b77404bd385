"""`briefgen start`: a small complete briefing in a new folder."""

from __future__ import annotations

import argparse
from pathlib import Path

from briefgen.commands.arguments import Commands
from briefgen.commands.output import SOUND, write
from briefgen.start.folder import start_folder


def add(commands: Commands) -> None:
    """Describes the verb."""
    start = commands.add_parser("start", help="write a small complete briefing into a new folder")
    start.add_argument("folder", type=Path, help="where to put it; nothing there is overwritten")
    start.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Writes the folder and says what to do next. Raises InTheWay."""
    written = start_folder(options.folder)
    write("".join(f"{path}\n" for path in written.files) + written.next_steps)
    return SOUND
