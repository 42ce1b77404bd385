"""Links and pictures of an author's page that name a file: there is one, or a page that is made."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator
from urllib.parse import unquote

from briefgen.findings import Finding, Level
from briefgen.language.nearest import nearest
from briefgen.model.fields.references import without_code
from briefgen.reading.prose.markup import from_elsewhere
from briefgen.reading.prose.texts import Prose
from briefgen.source import Lines, Position

Made = Callable[[str], bool]
"""Whether the site has a page of ours at a path like `tasks/open-cover`."""

_TARGET = re.compile(r"\]\(\s*<?([^\s()<>]++)|^ {0,3}\[[^\[\]\n]++\]:\s*<?([^\s<>]++)", re.MULTILINE)


def link_findings(prose: Prose, made: Made) -> Iterator[Finding]:
    """Every address of a file, counted from the page's own folder, at which there is nothing."""
    there = {*prose.paths.values(), *prose.beside}
    for file, text in prose.texts.items():
        places = Lines(text, Position(file))
        for found in _TARGET.finditer(without_code(text)):
            group = 1 if found[1] else 2
            path = _file(prose.paths[file], found[group])
            if path and path not in there and not (path.endswith(".md") and made(path.removesuffix(".md"))):
                close = nearest(path, there)
                hint = f"Did you mean “{close}”?" if close else "Write the path from the page's own folder."
                sentence = f"There is no file “{path}” among the pages. {hint}"
                yield Finding("page-link", Level.WARNING, places[found.start(group)], sentence)


def _file(page: str, address: str) -> str:
    """The file that an address on a page names, counted from the folder of the pages; nothing where it names none."""
    path = unquote(address.partition("#")[0].partition("?")[0])
    if not path or from_elsewhere(path) or path.startswith("/") or "." not in posixpath.basename(path):
        return ""
    return posixpath.normpath(posixpath.join(posixpath.dirname(page), path))
