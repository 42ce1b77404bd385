"""`briefgen plan`: a sortie as tables."""

from __future__ import annotations

import argparse

from briefgen.commands.arguments import Commands, add_folder, add_sortie, add_to, proved_sorties
from briefgen.commands.output import SOUND, width, write
from briefgen.export.sheet import tables_as_csv
from briefgen.tables.registry import tables
from briefgen.terminal.plan import plan_text


def add(commands: Commands) -> None:
    """Describes the verb."""
    plan = commands.add_parser("plan", help="show timeline, margins, supplies, stops, chances and more as tables")
    add_folder(plan)
    add_sortie(plan)
    plan.add_argument(
        "--table", action="append", choices=list(tables()), default=[], help="only this one; may be repeated"
    )
    plan.add_argument("--csv", action="store_true", help="the same rows for a spreadsheet (RFC 4180)")
    add_to(plan)
    plan.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Prints the tables asked for (all, where none is) of each sortie asked for. Raises CannotRun."""
    names = tuple(options.table or tables())
    if options.csv:
        write(tables_as_csv(proved_sorties(options), names), options.to, commands=True)
    else:
        write("\n".join(plan_text(proved, names, width()) for proved in proved_sorties(options)), options.to)
    return SOUND
