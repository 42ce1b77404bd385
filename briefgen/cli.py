"""The command `briefgen`: options and hand-over only."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from briefgen.build import examine
from briefgen.findings import Level, count
from briefgen.reading.folder import NoContent
from briefgen.reporters.text import as_text


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command; returns the exit code: 0 no error, 1 errors (or warnings under --strict), 2 could not run."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except NoContent as reason:
        print(f"briefgen: {reason}", file=sys.stderr)
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="briefgen", description="Proves spacewalk briefings written in YAML.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    check = commands.add_parser("check", help="say everything that is wrong with a content folder")
    check.add_argument("folder", type=Path, help="the folder that holds the YAML files")
    check.add_argument("--strict", action="store_true", help="let warnings fail, too")
    check.set_defaults(run=_check)
    return parser


def _check(options: argparse.Namespace) -> int:
    examination = examine(options.folder)
    print(as_text(examination.findings, examination.reading.sources, colour=sys.stdout.isatty()))
    tally = count(examination.findings)
    return 1 if tally[Level.ERROR] or (options.strict and tally[Level.WARNING]) else 0
