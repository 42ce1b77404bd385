"""The file in which a browser looks: a script, so that a page opened from a folder can load it, too.

A row is [kind, name, page, anchor, where, other names, words]; what repeats stands once and is named by its number.
Rows hold text only; `find.js` of the frame shows it as text.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from types import MappingProxyType

from briefgen.pages.finding.entries import SearchEntry

FILE = "find-names.js"
"""Its name in the folder of scripts."""

KINDS = MappingProxyType(
    {
        "person": ("Person", 0),
        "place": ("Place", 0),
        "equipment": ("Equipment", 0),
        "tool": ("Tool", 0),
        "bag": ("Bag", 0),
        "suit": ("Suit", 0),
        "callout": ("In a figure", 0),
        "task": ("Task", 1),
        "sortie": ("Sortie", 1),
        "hazard": ("Hazard", 1),
        "term": ("Term", 1),
        "figure": ("Figure", 1),
        "route": ("Route", 1),
        "outcome": ("Outcome", 1),
        "step": ("Step", 2),
        "back": ("Step", 2),
        "page": ("Page", 2),
        "rule": ("Rule", 3),
    }
)
"""What each kind is called, and how late it comes among equals: people and things, tasks, steps, the rest."""


def script(entries: Iterable[SearchEntry]) -> str:
    """The file's text."""
    kinds, pages, places = (_Numbers() for _ in range(3))
    rows = []
    for entry in entries:
        page, _, anchor = entry.target.partition("#")
        kind, also = kinds[KINDS[entry.kind]], "|".join(entry.also)
        row = [kind, entry.name, pages[page], anchor, places[entry.where], also, entry.words]
        while row[-1] == "":
            row.pop()
        rows.append(row)
    data = {"kinds": [*kinds], "pages": [*pages], "places": [*places], "rows": rows}
    return f"window.briefgenNames={json.dumps(data, ensure_ascii=False, separators=(',', ':'))}\n"


class _Numbers(dict[object, int]):
    """Numbers things in the order in which they are asked for."""

    def __missing__(self, key: object) -> int:
        self[key] = len(self)
        return self[key]
