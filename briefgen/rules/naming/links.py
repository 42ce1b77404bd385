"""Links in texts and callouts of pictures lead somewhere."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.model.fields.references import links_in, text_links_of
from briefgen.model.library import KINDS, SINGULAR
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lookup import dead_address
from briefgen.source import Address, Position

_ID = re.compile(r"[a-z0-9-]+")


@rule(
    "broken-link", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: Look through [the driver's window](▸tool:drivr).
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: Look through [the driver's window](tool:driver).
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def broken_link(evidence: Evidence) -> Iterator[Trouble]:
    """Every `kind:id` link in a text, and in your own Markdown pages, leads to a record, a step or a callout.

    A link that leads nowhere costs the reader's trust in all the others.
    """
    for _, record in evidence.written.every():
        seen: Counter[str] = Counter()
        for link in text_links_of(record):
            words = f"{link.kind}:{link}"
            start = evidence.place_of_words(words, record.id.position, seen[words])
            seen[words] += 1
            yield from dead_address(evidence, Address(link, start, (link.kind,), link.part))
    for file, text in evidence.prose.items():
        for link in filter(_ours, links_in(text, Position(file))):
            yield from dead_address(evidence, link)


def _ours(link: Address) -> bool:
    """What is no kind of ours may be an address of the web in a Markdown page, unless it looks like a misspelt kind."""
    return link.kind in SINGULAR or _ID.fullmatch(link) is not None


@rule(
    "broken-callout", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    figures:
      front: {file: front.svg, alt: The front., callouts: {one: {at: [10 %, 20 %], shows: ▸tool:drivr}}}
    """,
    right="""
    figures:
      front: {file: front.svg, alt: The front., callouts: {one: {at: [10 %, 20 %], shows: tool:driver}}}
    """,
)  # fmt: skip
def broken_callout(evidence: Evidence) -> Iterator[Trouble]:
    """A callout that shows a record (`kind:id`) shows one that exists, and lies on the picture.

    A number that points at nothing, or next to the picture, teaches the wrong thing.
    """
    for figure in evidence.library.figures.values():
        for name, callout in figure.callouts.items():
            kind, colon, rest = callout.shows.partition(":")
            if colon and kind in {*SINGULAR, *KINDS} and " " not in rest:
                identifier, _, part = rest.partition("#")
                yield from dead_address(evidence, Address(identifier, callout.shows.position, (kind,), part))
            if not all(0 <= share <= 1 for share in callout.at):
                yield Trouble(
                    name.position,
                    f"Callout “{name}” lies off the picture “{figure.label_text}”: "
                    "both numbers of “at” run from 0 % to 100 %.",
                )
