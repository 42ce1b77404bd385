"""A rule's page in the terminal, and the list of all rules."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import fill, indent

from briefgen.reference.rules import RulePage
from briefgen.tables.table import Column, Table, cells
from briefgen.terminal.table import draw


def rule_text(page: RulePage, width: int) -> str:
    """What the rule checks, why it matters outside, and its examples."""
    paragraphs = [
        f"{page.name} ({page.level}, about {page.family})",
        *(fill(words, min(width, 100)) for words in (page.says, *page.why)),
    ]
    if page.wrong.strip():  # what a whole file is wrong about can't be shown in a few lines
        paragraphs += ["Wrong:", indent(page.wrong, "    ")]
        paragraphs.append(f"The finding points at line {page.line}, column {page.column}.")
    paragraphs += ["Right:", indent(page.right, "    ")]
    return "\n\n".join(paragraphs) + "\n"


def list_text(pages: Iterable[RulePage], width: int) -> str:
    """Every rule in one line."""
    columns = (Column("About"), Column("Rule"), Column("Level"), Column("What must hold", wide=True))
    rows = tuple(cells(page.family, page.name, page.level.value, page.says) for page in pages)
    return draw(Table("rules", "Rules", columns, rows), width)
