"""The headings of a finished page, for its table of contents and for search."""

from __future__ import annotations

import re
from typing import TypedDict

_HEADING = re.compile(r'<h([1-6])\b[^>]*?\bid="([^"]+)"[^>]*>(.*?)</h\1>', re.DOTALL)
_TAG = re.compile(r"<[^>]*>")
_SPACE = re.compile(r"\s+")


class Heading(TypedDict):
    """A heading with those below it. `name` and `html` are markup without tags, as MkDocs makes them."""

    level: int
    id: str
    name: str
    html: str
    children: list[Heading]


def headings(html: str) -> list[Heading]:
    """Every heading that has an id, as a tree.

    >>> [one] = headings('<h1 id="a">A</h1><h2 id="b">B</h2>')
    >>> one["id"], [below["name"] for below in one["children"]]
    ('a', ['B'])
    """
    roots: list[Heading] = []
    path: list[Heading] = []
    for found in _HEADING.finditer(html):
        name = _SPACE.sub(" ", _TAG.sub("", found[3])).strip()
        heading = Heading(level=int(found[1]), id=found[2], name=name, html=name, children=[])
        while path and path[-1]["level"] >= heading["level"]:
            path.pop()
        (path[-1]["children"] if path else roots).append(heading)
        path.append(heading)
    return roots
