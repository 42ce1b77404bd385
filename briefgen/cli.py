"""The command `briefgen`: options and hand-over only."""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from shutil import get_terminal_size

from briefgen import __version__
from briefgen.build import ALONE, Beside, Examination, examine
from briefgen.comparing import DIFFERS, SAME, add_commands, compared, comparison_of, keep
from briefgen.export.calendar import NoStart, as_calendar
from briefgen.export.document import as_json as as_document
from briefgen.export.sheet import as_csv
from briefgen.files import write_whole
from briefgen.findings import Level, count
from briefgen.language.printable import printable
from briefgen.levels import BadLevel, read_levels
from briefgen.proof.evidence import SortieEvidence
from briefgen.reading.folder import NoContent
from briefgen.reading.project import BadProject, project_of
from briefgen.recorded import NoVersion
from briefgen.reference.rules import rule_pages
from briefgen.reporters.annotations import Service, as_annotations, service_in
from briefgen.reporters.colour import wants_colour
from briefgen.reporters.machine import as_json
from briefgen.reporters.pages import no_site, rule_addresses
from briefgen.reporters.places import prefix_of
from briefgen.reporters.sarif import as_sarif
from briefgen.reporters.text import as_text, summary
from briefgen.rules.registry import all_rules
from briefgen.schema.content import schema_text
from briefgen.start.folder import InTheWay, start_folder
from briefgen.terminal.plan import TABLES, plan_text
from briefgen.terminal.results import NoResults, results_text
from briefgen.terminal.rule import list_text, rule_text

_SOUND, _WRONG, _COULD_NOT_RUN = 0, 1, 2
_STOPPED = 130
"""As shells say that a command was interrupted: 128 and the number of the signal."""
_TRACEBACK = "BRIEFGEN_TRACEBACK"
_EXPORTS = {"csv": as_csv, "json": as_document, "calendar": as_calendar}


class _CannotRun(Exception):
    """What was asked for can't be done; the message says why and what to do."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command; returns the exit code: 0 no error, 1 errors (or warnings under --strict), 2 could not run."""
    options = _parser().parse_args(arguments)
    try:
        code = int(options.run(options))
        sys.stdout.flush()
    except (NoContent, InTheWay, NoStart, BadLevel, BadProject, NoVersion, NoResults, _CannotRun) as reason:
        _complain(str(reason))
        return _COULD_NOT_RUN
    except OSError as error:
        return _output_gone() if isinstance(error, BrokenPipeError) else _no_file(error)
    except KeyboardInterrupt:
        return _STOPPED
    except Exception as error:
        return _own_mistake(error)
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="briefgen", description="Proves spacewalk briefings written in YAML.")
    parser.add_argument("--version", action="version", version=f"briefgen {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_check(commands)
    _add_plan(commands)
    _add_export(commands)
    add_commands(commands, _record, _compare)
    results = commands.add_parser("results", help="show who has learned what, from files that practice pages saved")
    results.add_argument("files", type=Path, nargs="+", metavar="FILE", help="what a learner saved")
    results.set_defaults(run=_results)
    start = commands.add_parser("start", help="write a small complete briefing into a new folder")
    start.add_argument("folder", type=Path, help="where to put it; nothing there is overwritten")
    start.set_defaults(run=_start)
    schema = commands.add_parser("schema", help="write the JSON Schema that makes editors help")
    schema.add_argument("file", type=Path, nargs="?", help="where to put it; without it, it is printed")
    schema.set_defaults(run=_schema)
    rule = commands.add_parser("rule", help="explain a rule, or list them all")
    rule.add_argument("name", nargs="?", help="the rule's name, as it stands in a finding")
    rule.set_defaults(run=_rule)
    return parser


def _add_check(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    check = commands.add_parser("check", help="say everything that is wrong with a content folder")
    _add_folder(check)
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
    _add_to(check)
    check.set_defaults(run=_check)


def _add_plan(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    plan = commands.add_parser("plan", help="show timeline, margins, supplies, stops, chances and more as tables")
    _add_folder(plan)
    _add_sortie(plan)
    plan.add_argument(
        "--table", action="append", choices=list(TABLES), default=[], help="only this one; may be repeated"
    )
    plan.set_defaults(run=_plan)


def _add_export(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    export = commands.add_parser("export", help="write the timeline for other programs")
    _add_folder(export)
    _add_sortie(export)
    export.add_argument("--format", choices=list(_EXPORTS), required=True, help="calendar is iCalendar (RFC 5545)")
    _add_to(export)
    export.set_defaults(run=_export)


def _add_folder(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", type=Path, help="the folder that holds the YAML files")


def _add_sortie(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--sortie", metavar="ID", help="only this sortie")


def _add_to(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--to", type=Path, metavar="FILE", help="write into this file instead of printing")


def _check(options: argparse.Namespace) -> int:
    project = None if options.alone or not options.folder.is_dir() else project_of(options.folder)
    settings = [(name, level) for name, _, level in (setting.partition("=") for setting in options.level)]
    levels = read_levels([*(project.levels.items() if project else ()), *settings])
    beside = Beside(project.pages, project.since) if project else ALONE
    examination = examine(options.folder, levels, beside)
    plain = options.format == "text"
    _write(_report(examination, options), options.to, coloured=_in_colour(options), commands=not plain)
    if examination.unreadable:
        raise NoVersion(examination.unreadable)
    tally = count(examination.findings)
    return _WRONG if tally[Level.ERROR] or (options.strict and tally[Level.WARNING]) else _SOUND


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


def _plan(options: argparse.Namespace) -> int:
    width = get_terminal_size((120, 40)).columns if sys.stdout.isatty() else 120
    texts = (plan_text(case, tuple(options.table), width) for case in _cases(options))
    _write("\n".join(texts), None)
    return _SOUND


def _export(options: argparse.Namespace) -> int:
    _write(_EXPORTS[options.format](_cases(options)), options.to, commands=True)
    return _SOUND


def _cases(options: argparse.Namespace) -> list[SortieEvidence]:
    """The sorties asked for, of a plan that holds together."""
    examination = examine(options.folder)
    if not examination.proved:
        errors = count(examination.findings)[Level.ERROR]
        raise _CannotRun(
            f"The plan can't be laid out: it has {errors} error{'' if errors == 1 else 's'}. "
            f"“briefgen check {options.folder}” shows what to mend."
        )
    sorties = examination.evidence.sorties
    if options.sortie is not None and options.sortie not in sorties:
        raise _CannotRun(f"There is no sortie “{options.sortie}”. There are: {', '.join(sorties) or 'none'}.")
    return [case for name, case in sorties.items() if options.sortie in (None, name)]


def _record(options: argparse.Namespace) -> int:
    _write(keep(options.folder, options.to), None, commands=options.to is None)
    return _SOUND


def _compare(options: argparse.Namespace) -> int:
    comparison = comparison_of(options)
    width = get_terminal_size((120, 40)).columns if options.to is None and sys.stdout.isatty() else 120
    _write(compared(comparison, options.format, width), options.to, commands=options.format != "text")
    return DIFFERS if comparison.changes else SAME


def _results(options: argparse.Namespace) -> int:
    width = get_terminal_size((120, 40)).columns if sys.stdout.isatty() else 120
    _write(results_text(options.files, width), None)
    return _SOUND


def _start(options: argparse.Namespace) -> int:
    written = start_folder(options.folder)
    _write("".join(f"{path}\n" for path in written.files) + written.next_steps, None)
    return _SOUND


def _schema(options: argparse.Namespace) -> int:
    _write(schema_text(), options.file, commands=True)
    return _SOUND


def _rule(options: argparse.Namespace) -> int:
    pages = {page.name: page for page in rule_pages(all_rules().values())}
    width = get_terminal_size((120, 40)).columns
    if options.name is None:
        _write(list_text(pages.values(), width), None)
        return _SOUND
    if options.name not in pages:
        raise _CannotRun(f"There is no rule “{options.name}”. “briefgen rule” lists them.")
    _write(rule_text(pages[options.name], width), None)
    return _SOUND


def _complain(sentence: str) -> None:
    print(printable(f"briefgen: {sentence}"), file=sys.stderr)


def _write(text: str, file: Path | None, *, coloured: bool = False, commands: bool = False) -> None:
    """Into a file, or to the terminal; line ends stay as they are. All that leaves goes through the printable filter.

    `coloured`: the text bears our colours; `commands`: its lines are for a CI service, or for programs.
    """
    text = printable(text, coloured=coloured, commands=commands or file is not None)
    if file is not None:
        write_whole(file, text)
    elif hasattr(sys.stdout, "buffer"):
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode(sys.stdout.encoding or "utf-8", errors="replace"))
    else:
        sys.stdout.write(text)


def _own_mistake(error: Exception) -> int:
    """Never a traceback, and never 1: that would say that the content was looked at."""
    if os.environ.get(_TRACEBACK):
        traceback.print_exception(error)
    _complain(
        f"This is a mistake in briefgen itself, not in your content: {type(error).__name__}: {error}. "
        f"Please report it; with {_TRACEBACK}=1 in the environment it says where."
    )
    return _COULD_NOT_RUN


def _no_file(error: OSError) -> int:
    _complain(f"“{error.filename}” can't be written: {error.strerror}.")
    return _COULD_NOT_RUN


def _output_gone() -> int:
    """Whoever read our output has stopped, as `head` does; nothing is left to say, not even at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return _SOUND
