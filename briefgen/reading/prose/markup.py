"""What stands in an author's page and does not go into the site: HTML that runs, loads or hides.

Only a warning: whatever is said here, the pages themselves are cut to what is allowed when they are made.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

from briefgen.findings import Finding, Level
from briefgen.model.fields.references import OF_THE_WEB, without_code
from briefgen.model.library import SINGULAR
from briefgen.reading.prose.head import head_of
from briefgen.source import Lines, Position

_SHOWN = """
    a abbr b bdi blockquote br caption cite code col colgroup dd del details dfn div dl dt em figcaption figure h1 h2
    h3 h4 h5 h6 hr i img input ins kbd label li mark ol p picture pre q rp rt ruby s samp section small source span
    strong sub summary sup table tbody td tfoot th thead time tr track u ul var video wbr"""
ELEMENTS = frozenset(_SHOWN.split())
"""HTML (WHATWG living standard): what says or shows something, without forms, frames, scripts, styles and drawings."""
_ELEMENT = re.compile(r"(?<!\]\()(?<!\]: )<([A-Za-z][^\s<>/@:]*+)(?=[\s/>])([^<>]*+)>")
_HANDLER = re.compile(r"[\s/\"'](on[a-z]+|style|srcdoc)\s*=", re.IGNORECASE)
_LOADED = re.compile(r"[\s/\"'](?:src|srcset|poster)\s*=\s*[\"']?([^\s\"'>]*)", re.IGNORECASE)
_LINKED = re.compile(r"[\s/\"']href\s*=\s*(\"[^\"]*\"|'[^']*'|[^\s\"'>]+)", re.IGNORECASE)
_SCHEME = re.compile(r"([a-z][a-z0-9+.-]*):", re.IGNORECASE)
_PICTURE = re.compile(r"!\[[^\[\]\n]*+\]\(\s*<?([^\s()<>]*)")
_ELSEWHERE = re.compile(r"\s*(?:[a-z][a-z0-9+.-]*:|[/\\]{2})", re.IGNORECASE)
_SKIPPED = re.compile(r"[\t\n\r]")


def from_elsewhere(address: str) -> bool:
    """Whether an address begins with a scheme or another host.

    A browser takes both kinds of strokes for the same, and skips tabs and ends of lines (WHATWG URL, from memory).

    >>> [from_elsewhere(one) for one in ("a.png", "../a.png", "https://example.org/a.png", "/\\t\\\\example.org")]
    [False, False, True, True]
    """
    return _ELSEWHERE.match(_SKIPPED.sub("", address)) is not None


def markup_findings(text: str, file: str) -> Iterator[Finding]:
    """What of a page is left out of the site, each at its place."""
    places = Lines(text, Position(file))
    for at, sentence in _left_out(text):
        yield Finding("page-html", Level.WARNING, places[at], sentence)


def _left_out(text: str) -> Iterator[tuple[int, str]]:
    head = len(head_of(text))
    shown = " " * head + without_code(text)[head:]
    for found in _ELEMENT.finditer(shown):
        reason = _refused(found[1].lower(), f" {found[2]}")
        if reason:
            yield found.start(), f"{reason} does not go into the site: write it in Markdown, or leave it out."
    for found in _PICTURE.finditer(shown):
        if from_elsewhere(found[1]):
            yield found.start(1), f"{_OUTSIDE} does not go into the site: put the picture beside the page."


_OUTSIDE = "What is loaded from another place"


def _refused(element: str, attributes: str) -> str:
    """What of an element is left out, if anything is."""
    if element not in ELEMENTS:
        return f"“<{element}>”"
    handler = _HANDLER.search(attributes)
    if handler:
        return f"“{handler[1]}” of “<{element}>”"
    if not all(map(_leads, _LINKED.findall(attributes))):
        return f"The address of “<{element}>”"
    return _OUTSIDE if any(map(from_elsewhere, _LOADED.findall(attributes))) else ""


def _leads(written: str) -> bool:
    """Whether an address, as written in HTML, leads to a page or a record."""
    scheme = _SCHEME.match("".join(unescape(written).strip("\"'").split()))
    return scheme is None or scheme[1].lower() in {*OF_THE_WEB, *SINGULAR}
