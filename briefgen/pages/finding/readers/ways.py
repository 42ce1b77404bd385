"""The few pages that somebody comes back to in a sortie, under the same words on every page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.pages.context import PageContext
from briefgen.pages.rows import Link, MarkChip
from briefgen.pages.studying.glance import glance_of
from briefgen.pages.studying.practice import practice_uri
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.stopping.stretches import worst

INSTRUCTOR = "instructor-"
"""What a browser keeps for the instructor; no person's id ends with a hyphen."""


@dataclass(frozen=True)
class Ways:
    """A reader's pages in one sortie; the first is their own, `rest` are the others in order."""

    sortie: str
    label: str
    own: Link
    rest: tuple[Link, ...]


@dataclass(frozen=True)
class Reader:
    """Somebody who reads: a person of the briefing, with a mark, or the instructor, without one."""

    key: str
    name: str
    mark: MarkChip | None
    ways: tuple[Ways, ...]


def own_uri(context: PageContext, proved: SortieEvidence, person: str) -> str:
    """Where a person's own page for a sortie lies; that of all, for the instructor, where no person is named."""
    sortie = context.links.record_uri("sortie", str(proved.sortie.id)).rpartition("/")[2]
    if not person:
        return f"instructing/{sortie}"
    return f"mine/{sortie}/{context.links.record_uri('person', person).rpartition('/')[2]}"


def readers(context: PageContext) -> tuple[Reader, ...]:
    """Everybody who has something to do in a sortie, then the instructor, who has all of them."""
    return context.once("readers", lambda: tuple(_readers(context)))


def _readers(context: PageContext) -> Iterator[Reader]:
    for person in context.library.people:
        ways = tuple(_ways(context, proved, person) for proved in context.sorties if proved.plan.flows.get(person))
        if ways:
            yield Reader(person, context.callsign(person), context.mark(person), ways)
    every = tuple(_ways(context, proved, "") for proved in context.sorties if proved.plan.steps)
    if every:
        yield Reader(INSTRUCTOR, "Instructor", None, every)


def _ways(context: PageContext, proved: SortieEvidence, person: str) -> Ways:
    identifier = str(proved.sortie.id)
    own = Link("My sortie" if person else "Sortie", context.links.page(own_uri(context, proved, person)))
    return Ways(identifier, context.short(identifier), own, tuple(_rest(context, proved, person)))


def _rest(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[Link]:
    identifier, links = str(proved.sortie.id), context.links
    if not person:
        yield Link("Tell", links.target("telling", identifier))
    drawn = glance_of(context, proved).picture is not None
    yield Link("Map", links.target("sortie", identifier) if drawn else links.page("places/index"))
    if worst(proved.stops) is not None:
        yield Link("Stop", links.target("stopping", identifier))
    yield Link("Late", links.target("deciding", identifier))
    if not person:
        yield Link("Day", links.target("underway", identifier))
    yield Link("Learn", links.page(practice_uri(context, "practice", proved, person) if person else "practice/index"))
