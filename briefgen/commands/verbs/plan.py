"""`briefgen plan`: a sortie as tables."""

from __future__ import annotations

import argparse

from briefgen.commands.arguments import Commands, add_folder, add_sortie, cases
from briefgen.commands.output import SOUND, width, write
from briefgen.terminal.plan import TABLES, plan_text


def add(commands: Commands) -> None:
    """Describes the verb."""
    plan = commands.add_parser("plan", help="show timeline, margins, supplies, stops, chances and more as tables")
    add_folder(plan)
    add_sortie(plan)
    plan.add_argument(
        "--table", action="append", choices=list(TABLES), default=[], help="only this one; may be repeated"
    )
    plan.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Prints the tables asked for of each sortie asked for."""
    write("\n".join(plan_text(case, tuple(options.table), width()) for case in cases(options)))
    return SOUND
