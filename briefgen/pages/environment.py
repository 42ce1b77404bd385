"""How templates become HTML: everything is escaped, and a misspelt name stops the build. Alone knows Jinja."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import SimpleNamespace
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from briefgen.pages.links import ROOT
from briefgen.pages.texts import Texts


class Printer:
    """Prints pages from the package's templates.

    Filters for an author's text: `block` (paragraphs), `inline` (one line) and `plain` (the bare words). The small
    pieces of `parts.html` are at hand everywhere as `parts`; the same row is printed once, whatever page it stands on.
    """

    def __init__(self, texts: Texts) -> None:
        self._environment = Environment(
            loader=PackageLoader("briefgen"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
        )
        self._environment.filters |= {"block": texts.block, "inline": texts.inline, "plain": texts.plain}
        parts = SimpleNamespace()
        self._environment.globals |= {"root": ROOT, "parts": parts}
        pieces = self._environment.get_template("parts.html").module
        for name, macro in vars(pieces).items():
            if callable(macro):
                setattr(parts, name, lru_cache(maxsize=None)(macro))

    def print(self, template: str, rows: Mapping[str, Any]) -> str:
        """The inside of a page's article."""
        return self._environment.get_template(template).render(rows)
