"""`briefgen compare`: what differs between two versions, in the plan's terms."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path

from briefgen.commands.arguments import Commands, add_to
from briefgen.commands.output import width, write
from briefgen.export.changes import as_json, as_markdown
from briefgen.revision.comparison import Comparison
from briefgen.terminal.changes import changes_text
from briefgen.versions import version_at

SAME, DIFFERS = 0, 1
"""Exit codes, as those of `diff` (POSIX.1-2017): 2 is for what could not be compared."""

_FORMATS: Mapping[str, Callable[[Comparison], str]] = {
    "json": lambda comparison: as_json(comparison) + "\n",
    "markdown": as_markdown,
}


def add(commands: Commands) -> None:
    """Describes the verb."""
    compare = commands.add_parser("compare", help="say what differs between two versions, in the plan's terms")
    compare.add_argument("old", type=Path, help="the earlier version: a content folder, or a record of one")
    compare.add_argument("new", type=Path, help="the later version: likewise")
    compare.add_argument("--format", choices=("text", *_FORMATS), default="text", help="how differences are written")
    add_to(compare)
    compare.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Writes what differs; the exit code says whether anything does. Raises NoVersion and NoContent."""
    comparison = Comparison(version_at(options.old), version_at(options.new))
    columns = width() if options.to is None else 120
    text = _FORMATS[options.format](comparison) if options.format in _FORMATS else changes_text(comparison, columns)
    write(text, options.to, commands=options.format != "text")
    return DIFFERS if comparison.changes else SAME
