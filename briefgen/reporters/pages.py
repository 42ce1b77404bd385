"""Where a rule's page is: a site that is built `for_authors` has one for each rule."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

RuleAddress = Callable[[str], str]
"""From a rule's name to the address of its page; empty where no site is known."""


def no_site(rule: str) -> str:
    """Nobody said where the built site is."""
    return ""


def rule_addresses(site: str) -> RuleAddress:
    """The addresses in a site: an address of the web, or the folder into which the site was built.

    >>> rule_addresses("https://briefings.example/lamp")("not-held")
    'https://briefings.example/lamp/rules/not-held.html'
    """
    if "://" in site:
        return lambda rule: f"{site.rstrip('/')}/rules/{rule}.html"
    return lambda rule: _file(Path(site).resolve() / "rules", rule).as_uri()


def _file(folder: Path, rule: str) -> Path:
    """A page is a file, or a folder where a site has no endings in its addresses."""
    below = folder / rule / "index.html"
    return below if below.is_file() else folder / f"{rule}.html"
