"""Marks the glossary's terms where they are used: the first use in a text links to the meaning."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape, unescape

from briefgen.language.spotting import Spotter
from briefgen.model.learning import Term
from briefgen.pages.links import Links

# What is already a link, code or a mark of its own keeps its words.
_PIECES = re.compile(r"(<a\b.*?</a>|<code\b.*?</code>|<pre\b.*?</pre>|<h1\b.*?</h1>|<[^>]*>)", re.DOTALL)


class Terms:
    """The terms of a library, ready to be found in HTML."""

    def __init__(self, terms: Mapping[str, Term], links: Links) -> None:
        self._marks = {
            _key(str(term.short)): _mark(term, links.target("term", identifier)) for identifier, term in terms.items()
        }
        self._spotter = Spotter(spelling for term in terms.values() for spelling in _spellings(str(term.short)))

    def mark(self, html: str) -> str:
        """The HTML with each term's first use marked. Linear in the text's length, however many terms there are."""
        if not self._marks:
            return html
        seen: set[str] = set()
        pieces = _PIECES.split(html)
        pieces[::2] = [self._marked(piece, seen) for piece in pieces[::2]]
        return "".join(pieces)

    def _marked(self, piece: str, seen: set[str]) -> str:
        """Words between two tags with terms marked: they are sought in what a reader sees, not in `&amp;`."""
        words, done, out = unescape(piece), 0, []
        for start, end, short in self._spotter.spots(words):
            key = _key(short)
            if key not in seen:
                seen.add(key)
                head, tail = self._marks[key]
                out += [escape(words[done:start], quote=False), head, escape(words[start:end], quote=False), tail]
                done = end
        return "".join([*out, escape(words[done:], quote=False)]) if out else piece


def _spellings(short: str) -> tuple[str, ...]:
    """A word may begin a sentence; an abbreviation is spelt one way."""
    return (short, short[:1].upper() + short[1:]) if short[:1].islower() else (short,)


def _key(short: str) -> str:
    return short[:1].lower() + short[1:]


def _mark(term: Term, target: str) -> tuple[str, str]:
    if term.long:
        title = escape(str(term.long))
        return f'<a class="bg-termlink" href="{target}"><abbr title="{title}">', "</abbr></a>"
    return f'<a class="bg-termlink" href="{target}">', "</a>"
