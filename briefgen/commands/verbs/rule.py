"""`briefgen rule`: a rule explained, or the list of them all."""

from __future__ import annotations

import argparse
from shutil import get_terminal_size

from briefgen.commands.arguments import Commands
from briefgen.commands.output import SOUND, write
from briefgen.reference.rules import rule_pages
from briefgen.refusals import CannotRun
from briefgen.rules.registry import all_rules
from briefgen.terminal.rule import list_text, rule_text


def add(commands: Commands) -> None:
    """Describes the verb."""
    rule = commands.add_parser("rule", help="explain a rule, or list them all")
    rule.add_argument("name", nargs="?", help="the rule's name, as it stands in a finding")
    rule.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Prints one rule's page, or the list. Raises CannotRun."""
    pages = {page.name: page for page in rule_pages(all_rules().values())}
    columns = get_terminal_size((120, 40)).columns
    if options.name is None:
        write(list_text(pages.values(), columns))
        return SOUND
    if options.name not in pages:
        raise CannotRun(f"There is no rule “{options.name}”. “briefgen rule” lists them.")
    write(rule_text(pages[options.name], columns))
    return SOUND
