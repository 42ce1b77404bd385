"""For authors, where the site asks for it: every key of the format, and every rule with its two examples."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.page import Page
from briefgen.pages.words import capital
from briefgen.reference.rows import sections
from briefgen.reference.rules import RulePage, rule_pages
from briefgen.rules.registry import all_rules


def pages(desk: Desk) -> Iterator[Page]:
    """The two pages."""
    if not desk.reference:
        return
    yield Page(
        uri="reference/format",
        title="The format",
        section="reference",
        template="format.html",
        icon="table",
        order=(0,),
        about="Every key of every record, what it means, and an example.",
        rows={
            "title": "The format",
            "sections": sections(),
            "rules": desk.links.page("reference/rules"),
        },
    )
    yield Page(
        uri="reference/rules",
        title="The rules",
        section="reference",
        template="rules.html",
        icon="findings",
        order=(1,),
        about="What is checked, why, and how it is put right.",
        rows={"title": "The rules", "families": _families()},
    )


def _families() -> tuple[tuple[str, str, tuple[RulePage, ...]], ...]:
    """The rules by family: an anchor, a heading, the rules."""
    found: dict[str, list[RulePage]] = {}
    for page in rule_pages(all_rules().values()):
        found.setdefault(page.family, []).append(page)
    return tuple((f"_{name.replace(' ', '-')}", capital(name), tuple(rules)) for name, rules in found.items())
