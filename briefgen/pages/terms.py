"""Marks the glossary's terms where they are used: the first use in a text links to the meaning."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape

from briefgen.model.learning import Term
from briefgen.pages.links import Links

# What is already a link, code or a mark of its own keeps its words.
_PIECES = re.compile(r"(<a\b.*?</a>|<code\b.*?</code>|<pre\b.*?</pre>|<h1\b.*?</h1>|<[^>]*>)", re.DOTALL)


class Terms:
    """The terms of a library, ready to be found in HTML."""

    def __init__(self, terms: Mapping[str, Term], links: Links) -> None:
        self._marks = {
            _key(escape(str(term.short), quote=False)): _mark(term, links.target("term", identifier))
            for identifier, term in terms.items()
        }
        shorts = sorted((str(term.short) for term in terms.values()), key=lambda short: (-len(short), short))
        self._pattern = _pattern(shorts)

    def mark(self, html: str) -> str:
        """The HTML with each term's first use marked. Linear in the text's length."""
        if self._pattern is None or not self._pattern.search(html):
            return html
        seen: set[str] = set()
        pieces = _PIECES.split(html)
        pieces[::2] = [self._pattern.sub(lambda found: self._link(found, seen), piece) for piece in pieces[::2]]
        return "".join(pieces)

    def _link(self, found: re.Match[str], seen: set[str]) -> str:
        key = _key(found[1])
        if key in seen or key not in self._marks:
            return found[0]
        seen.add(key)
        head, tail = self._marks[key]
        return f"{head}{found[0]}{tail}"


def _pattern(shorts: list[str]) -> re.Pattern[str] | None:
    if not shorts:
        return None
    words = "|".join(_spelling(short) for short in shorts)
    return re.compile(rf"(?<![\w-])({words})(?:s)?(?![\w-])")


def _spelling(short: str) -> str:
    """A word may begin a sentence; an abbreviation is spelt one way."""
    word = re.escape(escape(short, quote=False))
    if short[:1].islower():
        return f"[{short[0].upper()}{short[0]}]{word[1:]}"
    return word


def _key(short: str) -> str:
    return short[:1].lower() + short[1:]


def _mark(term: Term, target: str) -> tuple[str, str]:
    if term.long:
        title = escape(str(term.long))
        return f'<a class="bg-termlink" href="{target}"><abbr title="{title}">', "</abbr></a>"
    return f'<a class="bg-termlink" href="{target}">', "</a>"
