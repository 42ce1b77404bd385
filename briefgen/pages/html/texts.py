"""The author's texts as HTML: Markdown with raw HTML shown as text, `kind:id` links resolved, terms marked.

The only module that knows Markdown. Every text is rendered once; links are written from the site's root.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.treeprocessors import Treeprocessor
from markupsafe import Markup

from briefgen.model.library import SINGULAR
from briefgen.pages.html.cleaning import cleaned
from briefgen.pages.html.terms import Terms
from briefgen.pages.links import ROOT, Links

# Nothing in it that Markdown could mean: such a text, most of them, needs no parser.
_PLAIN = re.compile(r"[^\W\d_][^*_`\[\]<>&\\#!~|\x00-\x1f\x7f-\x9f]*")
_RECORD_LINK = re.compile(r"([a-z]+):([a-z0-9-]+)(?:#([a-z0-9-]+))?")
_SAFE_LINK = re.compile(r"(?:https?|mailto):", re.IGNORECASE)
_TAGS = re.compile(r"<[^>]*>")
_ONE_PARAGRAPH = re.compile(r"<p>((?:(?!</?p>).)*)</p>", re.DOTALL)


class Texts:
    """Renders the texts of one site."""

    def __init__(self, links: Links, terms: Terms) -> None:
        self._links = links
        self._terms = terms
        self._markdown = _markdown(links)
        self.block = lru_cache(maxsize=None)(self._block)
        self.inline = lru_cache(maxsize=None)(self._inline)
        self.plain = lru_cache(maxsize=None)(self._plain)

    def _block(self, text: str) -> Markup:
        return Markup(self._terms.mark(self._html(text)))

    def _inline(self, text: str) -> Markup:
        """The text for a line of its own: without the paragraph around it, where it is only one."""
        return Markup(self._terms.mark(self._line(text)))

    def _plain(self, text: str) -> str:
        """The words alone, for titles and labels."""
        return Markup(_TAGS.sub("", self._line(text))).unescape()

    def _line(self, text: str) -> str:
        html = self._html(text)
        only = _ONE_PARAGRAPH.fullmatch(html)
        return only[1] if only else html

    def _html(self, text: str) -> str:
        words = text.strip().replace(ROOT, "")
        if _PLAIN.fullmatch(words):
            return f"<p>{escape(words, quote=False)}</p>"
        self._markdown.reset()
        return str(self._markdown.convert(words))

    def prose(self, html: str) -> str:
        """A rendered page of the author's, cut to what may stand there, its links resolved and its terms marked."""
        return self._terms.mark(_HREF.sub(lambda found: _resolved(found, self._links), cleaned(html)))


_HREF = re.compile(r'href="([a-z]+):([a-z0-9-]+)(?:#([a-z0-9-]+))?"')


def _resolved(found: re.Match[str], links: Links) -> str:
    kind, identifier, part = found[1], found[2], found[3] or ""
    if kind not in SINGULAR:
        return found[0]
    if not links.leads_somewhere(kind, identifier, part):
        return ""
    return f'href="{links.target(kind, identifier, part)}"'


def _markdown(links: Links) -> Markdown:
    """Markdown without raw HTML and without pictures: a text can load nothing and run nothing."""
    parser = Markdown(output_format="html")
    parser.preprocessors.deregister("html_block")
    for name in ("html", "image_link", "image_reference", "short_image_ref"):
        parser.inlinePatterns.deregister(name)
    parser.treeprocessors.register(_Resolver(parser, links), "briefgen-links", 5)
    return parser


class _Resolver(Treeprocessor):
    """Turns `kind:id` into addresses and takes the address from links that are none of ours nor the web's."""

    def __init__(self, parser: Markdown, links: Links) -> None:
        super().__init__(parser)
        self._links = links

    def run(self, root: Element) -> None:
        for link in root.iter("a"):
            address = link.get("href", "")
            record = _RECORD_LINK.fullmatch(address)
            if record and record[1] in SINGULAR:
                kind, identifier, part = record[1], record[2], record[3] or ""
                if self._links.leads_somewhere(kind, identifier, part):
                    link.set("href", self._links.target(kind, identifier, part))
                    continue
            elif _SAFE_LINK.match(address):
                continue
            link.tag = "span"
            link.attrib.clear()
