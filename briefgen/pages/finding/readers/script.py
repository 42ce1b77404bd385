"""The file from which the bar of every page learns who reads, and what is theirs: a script, so that folders serve it.

A reader is [key, name, ways]; a way is [sortie, its name, [[word, page], …]], the reader's own page first.
Pages are counted from the site's root.
"""

from __future__ import annotations

import json

from briefgen.pages.context import PageContext
from briefgen.pages.finding.readers.ways import Reader, readers
from briefgen.pages.links import ROOT

FILE = "readers.js"
"""Its name in the folder of scripts."""


def script(context: PageContext) -> str:
    """The file's text."""
    rows = [_row(reader) for reader in readers(context)]
    return f"window.briefgenReaders={json.dumps(rows, ensure_ascii=False, separators=(',', ':'))}\n"


def _row(reader: Reader) -> list[object]:
    ways = [
        [one.sortie, one.label, [[link.words, link.target.removeprefix(ROOT)] for link in (one.own, *one.rest)]]
        for one in reader.ways
    ]
    return [reader.key, reader.name, ways]
