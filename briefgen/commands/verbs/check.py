"""`briefgen check`: everything that is wrong with a content folder."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from shutil import get_terminal_size

from briefgen.build import ALONE, Beside, Examination, examine
from briefgen.commands.arguments import Commands, add_folder, add_to
from briefgen.commands.output import SOUND, WRONG, write
from briefgen.findings import Level, count
from briefgen.levels import read_levels
from briefgen.pages.publishing.pages_made import pages_made
from briefgen.reading.project import project_of
from briefgen.recorded import NoVersion
from briefgen.reporters.annotations import Service, as_annotations, service_in
from briefgen.reporters.colour import wants_colour
from briefgen.reporters.machine import as_json
from briefgen.reporters.pages import no_site, rule_addresses
from briefgen.reporters.places import prefix_of
from briefgen.reporters.sarif import as_sarif
from briefgen.reporters.text import as_text, summary
from briefgen.rules.registry import all_rules


def add(commands: Commands) -> None:
    """Describes the verb."""
    check = commands.add_parser("check", help="say everything that is wrong with a content folder")
    add_folder(check)
    check.add_argument("--strict", action="store_true", help="let warnings fail, too")
    check.add_argument(
        "--format", choices=("text", "json", "sarif", "annotations"), default="text", help="how findings are written"
    )
    check.add_argument(
        "--service", type=Service, choices=list(Service), help="for annotations: whose; else the one this runs in"
    )
    check.add_argument(
        "--level", action="append", default=[], metavar="RULE=LEVEL",
        help="give a rule another level: error, warning, advice or off; may be repeated",
    )  # fmt: skip
    check.add_argument(
        "--site", metavar="ADDRESS", help="where the built site is (an address or a folder): findings link to its rules"
    )
    check.add_argument(
        "--alone", action="store_true",
        help="only this folder: not the pages, the levels and the earlier revision that mkdocs.yml above it names",
    )  # fmt: skip
    add_to(check)
    check.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Examines the folder as a build would, and reports."""
    project = None if options.alone or not options.folder.is_dir() else project_of(options.folder)
    settings = [(name, level) for name, _, level in (setting.partition("=") for setting in options.level)]
    levels = read_levels([*(project.levels.items() if project else ()), *settings])
    beside = Beside(project.pages, project.since, pages_made) if project else ALONE
    examination = examine(options.folder, levels, beside)
    plain = options.format == "text"
    write(_report(examination, options), options.to, coloured=_in_colour(options), commands=not plain)
    if examination.unreadable:
        raise NoVersion(examination.unreadable)
    tally = count(examination.findings)
    return WRONG if tally[Level.ERROR] or (options.strict and tally[Level.WARNING]) else SOUND


def _report(examination: Examination, options: argparse.Namespace) -> str:
    findings, sources = examination.findings, examination.sources
    prefix = prefix_of(options.folder, Path.cwd())
    page = rule_addresses(options.site) if options.site else no_site
    match options.format:
        case "json":
            return as_json(findings, page) + "\n"
        case "sarif":
            return as_sarif(findings, sources, all_rules(), prefix, page) + "\n"
        case "annotations":
            lines = as_annotations(findings, options.service or service_in(os.environ), prefix, page)
            return f"{lines}\n" if lines else ""
    width = get_terminal_size().columns if options.to is None and sys.stdout.isatty() else None
    text = as_text(findings, sources, _in_colour(options), width)
    return "\n".join(filter(None, [text, _closing(examination)])) + "\n"


def _in_colour(options: argparse.Namespace) -> bool:
    return options.format == "text" and options.to is None and wants_colour(sys.stdout, os.environ)


def _closing(examination: Examination) -> str:
    lines = [summary(examination.findings)]
    if examination.accepted:
        lines.append(f"Accepted by the author: {len(examination.accepted)}.")
    if not examination.proved:
        lines.append("The plan itself was not examined: mend the errors first.")
    return "\n".join(lines)
