"""The rows of the rules' pages: what a rule checks, why that matters, and its two examples."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from briefgen.findings import Level
from briefgen.rules.registry import Rule

MARK = "▸"


@dataclass(frozen=True)
class RulePage:
    """One rule's page. `wrong` and `right` are YAML; `line` and `column` are where the finding points in `wrong`."""

    name: str
    level: Level
    family: str
    says: str
    why: tuple[str, ...]
    wrong: str
    right: str
    line: int
    column: int


def rule_pages(rules: Iterable[Rule]) -> tuple[RulePage, ...]:
    """A page for each rule, by family and name."""
    return tuple(sorted((_page(rule) for rule in rules), key=lambda page: (page.family, page.name)))


def _page(rule: Rule) -> RulePage:
    head, *paragraphs = (" ".join(paragraph.split()) for paragraph in rule.text.split("\n\n"))
    before = rule.wrong.partition(MARK)[0]
    return RulePage(
        rule.name,
        rule.level,
        rule.family,
        head,
        tuple(paragraphs),
        rule.wrong.replace(MARK, ""),
        rule.right,
        before.count("\n") + 1,
        len(before) - (before.rfind("\n") + 1) + 1,
    )
