"""`briefgen results`: who has learned what."""

from __future__ import annotations

import argparse
from pathlib import Path

from briefgen.commands.arguments import Commands
from briefgen.commands.output import SOUND, width, write
from briefgen.terminal.results import results_text


def add(commands: Commands) -> None:
    """Describes the verb."""
    results = commands.add_parser("results", help="show who has learned what, and rehearsals, from saved files")
    results.add_argument(
        "files", type=Path, nargs="+", metavar="FILE", help="what a learner or an instructor saved as JSON"
    )
    results.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Prints a table by person and outcome. Raises NoResults."""
    write(results_text(options.files, width()))
    return SOUND
