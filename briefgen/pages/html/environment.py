"""How templates become HTML: everything is escaped, and a misspelt name stops the build. Alone knows Jinja."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from hashlib import sha1
from types import SimpleNamespace
from typing import Any

import jinja2
from jinja2 import BytecodeCache, Environment, PackageLoader, StrictUndefined
from jinja2.bccache import Bucket

from briefgen.compiled import keep, recall
from briefgen.pages.html.texts import Texts
from briefgen.pages.links import ROOT


class Compiled(BytecodeCache):
    """Compiled templates, kept for the next site of this process and of the next: none is compiled twice."""

    def __init__(self) -> None:
        self._code: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fills the bucket where its template was compiled before; the bucket itself checks that it is the same."""
        code = self._code.get(bucket.key) or recall(_name(bucket))
        if code:
            bucket.bytecode_from_string(code)
            self._code[bucket.key] = code

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keeps a template that has just been compiled."""
        self._code[bucket.key] = bucket.bytecode_to_string()
        keep(_name(bucket), self._code[bucket.key])


def _name(bucket: Bucket) -> str:
    """By which a template is kept: others are compiled where Jinja is another or knows other words."""
    its = bucket.environment
    words = (bucket.key, jinja2.__version__, *sorted(its.extensions), its.trim_blocks, its.autoescape)
    return f"template-{sha1(repr(words).encode(), usedforsecurity=False).hexdigest()}"


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
            optimized=False,  # a filter's answer depends on the site, and compiled templates are those of all sites
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
