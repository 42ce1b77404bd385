"""How templates become HTML: everything is escaped, and a misspelt name stops the build. Alone knows Jinja."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import SimpleNamespace
from typing import Any

from jinja2 import BytecodeCache, Environment, PackageLoader, StrictUndefined
from jinja2.bccache import Bucket

from briefgen.pages.html.texts import Texts
from briefgen.pages.links import ROOT


class Compiled(BytecodeCache):
    """Compiled templates, kept for the next site of the same process: a rebuild while serving compiles none."""

    def __init__(self) -> None:
        self._code: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fills the bucket where its template was compiled before; the bucket itself checks that it is the same."""
        if bucket.key in self._code:
            bucket.bytecode_from_string(self._code[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keeps a template that has just been compiled."""
        self._code[bucket.key] = bucket.bytecode_to_string()


_COMPILED = Compiled()


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
            bytecode_cache=_COMPILED,
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
