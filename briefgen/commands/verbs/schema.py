"""`briefgen schema`: the JSON Schema that makes editors help."""

from __future__ import annotations

import argparse
from pathlib import Path

from briefgen.commands.arguments import Commands
from briefgen.commands.output import SOUND, write
from briefgen.schema.content import schema_text


def add(commands: Commands) -> None:
    """Describes the verb."""
    schema = commands.add_parser("schema", help="write the JSON Schema that makes editors help")
    schema.add_argument("file", type=Path, nargs="?", help="where to put it; without it, it is printed")
    schema.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Writes or prints the schema."""
    write(schema_text(), options.file, commands=True)
    return SOUND
