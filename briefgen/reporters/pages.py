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

    Of a folder it can be seen which pages it has: a crew's site has none of rules, and no address is made up.

    >>> rule_addresses("https://briefings.example/lamp")("not-held")
    'https://briefings.example/lamp/rules/not-held.html'
    """
    if "://" in site:
        return lambda rule: f"{site.rstrip('/')}/rules/{rule}.html"
    return lambda rule: _in_folder(Path(site).resolve() / "rules", rule)


def _in_folder(folder: Path, rule: str) -> str:
    """A page is a file, or a folder where a site has no endings in its addresses; empty where it is not there."""
    pages = (folder / rule / "index.html", folder / f"{rule}.html")
    return next((page.as_uri() for page in pages if page.is_file()), "")
