"""Every reference that a record makes, in its fields and in its texts, each with its own place."""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.model.fields.base import Record
from briefgen.source import NOWHERE, Address, Lines, Position, Ref, StepRef, Text

# An address in brackets behind a link's words, with a title or without, or behind the colon of a link that is
# defined once for many.
_ADDRESS = re.compile(r"\](?:\(|:)\s*<?([A-Za-z]+):([^\s#<>()]+)(?:#([^\s<>()]+))?>?")
# What stands between fences or back-ticks is shown, not followed.
_CODE = re.compile(r"^(?P<fence>```+|~~~+).*?^(?P=fence)[`~]*\s*$|(?P<ticks>`+)(?!`).*?(?<!`)(?P=ticks)(?!`)",
                   re.DOTALL | re.MULTILINE)  # fmt: skip
OF_THE_WEB = frozenset({"http", "https", "mailto", "tel", "sms"})
"""What the addresses of an author's page may begin with, besides the kinds of records."""


def references_of(record: Record) -> Iterator[Ref]:
    """The references in a record's fields."""
    return (value for value in record.values if isinstance(value, Ref))


def step_references_of(record: Record) -> Iterator[StepRef]:
    """The steps (and, in flows, tasks) that a record names."""
    return (value for value in record.values if isinstance(value, StepRef))


def texts_of(record: Record) -> Iterator[Text]:
    """Every text of a record: names, titles, instructions, notes; ids and references are none."""
    return (value for value in record.values if type(value) is Text)


def text_links_of(record: Record) -> Iterator[Address]:
    """The records that a record's own texts link to."""
    for text in texts_of(record):
        if "](" in text or "]:" in text:
            yield from links_in(text, text.position)


def links_in(text: str, start: Position = NOWHERE) -> Iterator[Address]:
    """What a Markdown text links to as `[words](kind:id)`, be there such a record or not; addresses of the web apart.

    Places are right where the text stands in the file as it is here.

    >>> [(one.kind, str(one), one.part) for one in links_in('[it](tool:driver "A title"), [that](task:open#Lid)')]
    [('tool', 'driver', ''), ('task', 'open', 'Lid')]
    >>> [*links_in("[there](https://example.org), `[so](tool:driver)`")]
    []
    """
    places = Lines(text, start)
    for found in _ADDRESS.finditer(without_code(text)):
        if found[1].lower() not in OF_THE_WEB:
            yield Address(found[2], places[found.start(1)], (found[1],), found[3] or "")


def without_code(text: str) -> str:
    """A Markdown text with its code blanked, every other character in its place."""
    return _CODE.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text) if "`" in text or "~~~" in text else text
