"""A page for every rule, and the list of them all: what must hold, why that matters, a wrong and a right example."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from itertools import groupby

from markupsafe import Markup

from briefgen.language.wording import capital
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.reference.rules import RulePage, rule_pages
from briefgen.rules.registry import all_rules

_TYPED = re.compile(r"`([^`]+)`")


@dataclass(frozen=True)
class Example:
    """The wrong example's lines around the place at which the finding points."""

    before: str
    word: str
    after: str


@dataclass(frozen=True)
class RuleLine:
    """A rule in the list; `href` leads to its page."""

    name: str
    href: str
    level: str
    says: Markup


def pages(context: PageContext) -> Iterator[Page]:
    """The list, and a page for each rule; none in a site that is for the crew alone."""
    if not context.for_authors:
        return
    families = [
        (name, list(rules)) for name, rules in groupby(rule_pages(all_rules().values()), lambda one: one.family)
    ]
    yield _index(context, [(family, [_line(context, rule) for rule in rules]) for family, rules in families])
    for family, rules in families:
        for rule in rules:
            yield _page(context, family, rule)


def _index(context: PageContext, families: list[tuple[str, list[RuleLine]]]) -> Page:
    return Page(
        uri="rules/index",
        title="Rules",
        section="findings",
        template="planning/rules.html",
        icon="findings",
        about="What must hold in a briefing, and why it matters outside.",
        order=(2,),
        listed=False,
        rows={
            "title": "Rules",
            "families": [(capital(name), _anchor(name), lines) for name, lines in families],
            "findings": context.links.page("findings"),
        },
    )


def _line(context: PageContext, rule: RulePage) -> RuleLine:
    return RuleLine(rule.name, context.links.page(f"rules/{rule.name}"), rule.level.value, _with_keys(rule.says))


def _page(context: PageContext, family: str, rule: RulePage) -> Page:
    return Page(
        uri=f"rules/{rule.name}",
        title=rule.name,
        section="findings",
        template="planning/rule.html",
        icon="findings",
        about=rule.says.replace("`", ""),
        order=(3,),
        listed=False,
        rows={
            "title": rule.name,
            "level": rule.level.value,
            "word": capital(rule.level.value),
            "says": _with_keys(rule.says),
            "why": tuple(map(_with_keys, rule.why)),
            "wrong": _example(rule),
            "line": rule.line,
            "column": rule.column,
            "right": rule.right.rstrip(),
            "family": capital(family),
            "list": context.links.page("rules/index"),
            "in_list": context.links.page("rules/index", _anchor(family)),
        },
    )


def _example(rule: RulePage) -> Example | None:
    """The wrong example, parted at the word in question; None for a rule whose mistake can't be shown in a file."""
    if not rule.wrong.strip():
        return None
    lines = rule.wrong.rstrip().split("\n")
    at = sum(len(line) + 1 for line in lines[: rule.line - 1]) + rule.column - 1
    text = "\n".join(lines)
    end = at
    while end < len(text) and not text[end].isspace() and text[end] not in ",]}":
        end += 1
    return Example(text[:at], text[at:end].removesuffix(":"), text[at:][len(text[at:end].removesuffix(":")) :])


def _with_keys(words: str) -> Markup:
    """A rule's words, with what stands between back-ticks set as what is typed."""
    return Markup(_TYPED.sub(r"<code>\1</code>", escape(words, quote=False)))


def _anchor(family: str) -> str:
    return family.replace(" ", "-")
