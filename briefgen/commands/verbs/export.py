"""`briefgen export`: a sortie's timeline for other programs."""

from __future__ import annotations

import argparse

from briefgen.commands.arguments import Commands, add_folder, add_sortie, add_to, proved_sorties
from briefgen.commands.output import SOUND, write
from briefgen.export.calendar import as_calendar
from briefgen.export.document import as_json
from briefgen.export.sheet import as_csv

_FORMATS = {"csv": as_csv, "json": as_json, "calendar": as_calendar}


def add(commands: Commands) -> None:
    """Describes the verb."""
    export = commands.add_parser("export", help="write the timeline for other programs")
    add_folder(export)
    add_sortie(export)
    export.add_argument("--format", choices=list(_FORMATS), required=True, help="calendar is iCalendar (RFC 5545)")
    add_to(export)
    export.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Writes the sorties asked for. Raises CannotRun and NoStart."""
    write(_FORMATS[options.format](proved_sorties(options)), options.to, commands=True)
    return SOUND
