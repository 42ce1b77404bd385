"""Sorties: the list, and an overview of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import count, hours
from briefgen.pages.carrying.addresses import sortie_cards_uri
from briefgen.pages.context import PageContext
from briefgen.pages.planning.estimates import likely_work
from briefgen.pages.planning.revisions import changes_link
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Chip, Group, Item, Key, Link, MarkChip
from briefgen.pages.studying.glance import glance_of
from briefgen.pages.views.outing.overview import Tile, sortie_keys, starts, task_lines
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration


@dataclass(frozen=True)
class PersonSums:
    """How a person's time is spent; the four parts make the planned length."""

    mark: MarkChip
    work: str
    way: str
    waiting: str
    after: str
    total: str


def pages(context: PageContext) -> Iterator[Page]:
    """The list of sorties, then each."""
    yield Page(
        uri="sorties/index",
        title="Sorties",
        section="sorties",
        template="index.html",
        icon="sortie",
        order=(0,),
        rows={
            "title": "Sorties",
            "icon": "sortie",
            "lead": "Each trip outside, in the order in which they are run.",
            "groups": (Group("", "", tuple(_item(context, proved) for proved in context.sorties)), *_not_run(context)),
        },
    )
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _item(context: PageContext, proved: SortieEvidence) -> Item:
    return Item(
        context.link("sortie", str(proved.sortie.id)),
        str(proved.sortie.note or ""),
        icon="sortie",
        marks=context.marks(proved.plan.flows),
        meta=(f"{hours(proved.timeline.finish)} h planned", f"{len(proved.plan.steps)} steps"),
    )


def _not_run(context: PageContext) -> Iterator[Group]:
    """Sorties that the programme does not name have no plan to show."""
    run = {str(proved.sortie.id) for proved in context.sorties}
    rest = [name for name in context.library.sorties if name not in run]
    for name in rest:
        yield Group(context.label("sortie", name), name, (Item(Link("Not in the programme"), ""),))


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = context.label("sortie", identifier)
    return Page(
        uri=context.links.record_uri("sortie", identifier),
        title=title,
        section="sorties",
        template="outing/sortie.html",
        icon="sortie",
        order=(1, number),
        rows={
            "title": title,
            "sortie": proved.sortie,
            "changes": changes_link(context, identifier),
            "keys": sortie_keys(proved),
            "glance": glance_of(context, proved),
            "limits": tuple(_limits(context, proved)),
            "tiles": _tiles(context, identifier),
            "tasks": task_lines(context, proved),
            "people": tuple(_sums(context, proved, person) for person in proved.plan.flows),
            "flows": tuple(
                (context.mark(person), context.links.page(context.links.record_uri("person", person), f"_{identifier}"))
                for person in proved.plan.flows
            ),
            "get_aheads": tuple(_get_ahead(context, str(name)) for name in proved.sortie.get_aheads),
            "ends": tuple(
                context.chip("equipment", str(name), " or ".join(map(str, states)))
                for name, states in proved.sortie.ends.items()
            ),
            "carried": tuple(
                _carried(context, str(name), str(spot)) for name, spot in proved.sortie.carries_over.items()
            ),
        },
    )


def _tiles(context: PageContext, identifier: str) -> tuple[Tile, ...]:
    target = context.links.target
    return (
        Tile(
            Link("Timeline", target("timeline", identifier)), "timeline", "Who does what, when, and what is to spare."
        ),
        Tile(
            Link("Cue cards", context.links.page(sortie_cards_uri(context, identifier))),
            "print",
            "Everybody's steps in large type, on paper.",
        ),
        Tile(Link("Booklet", target("booklet", identifier)), "print", "The whole sortie on paper, in reading order."),
        Tile(
            Link("Play", target("play", identifier)), "play", "Everybody on the map, with the script for the briefer."
        ),
        Tile(
            Link("Told", target("telling", identifier)),
            "say",
            "Scene by scene over the pictures, to tell and to read up.",
        ),
        Tile(Link("Ledger", target("ledger", identifier)), "bag", "Where every tool and bag is."),
        Tile(Link("States", target("states", identifier)), "equipment", "How equipment is found, changed and left."),
        Tile(
            Link("Stopping", target("stopping", identifier)),
            "home",
            "What is open at any moment, and how it is closed.",
        ),
        Tile(Link("Deciding", target("deciding", identifier)), "sortie", "What now, when you are early or late."),
        Tile(Link("As it goes", target("underway", identifier)), "sortie", "For rehearsal: any clock, any last steps."),
    )


def _limits(context: PageContext, proved: SortieEvidence) -> Iterator[Key]:
    limits, orbit = proved.sortie.limits, proved.sortie.orbit
    if starts(proved.sortie):
        yield Key("Starts", starts(proved.sortie))
    yield Key("Length", show_duration(limits.length.likely))
    if limits.reserve:
        yield Key("Reserve at the end", show_duration(limits.reserve.likely))
    if limits.return_within:
        yield Key("Way home within", show_duration(limits.return_within.likely))
    if limits.tether:
        yield Key("Tether reach", limits.tether.written)
    if orbit:
        yield Key("Orbit", f"{orbit.altitude.written} high, beta angle {orbit.beta.written}")
        yield Key("First sunset", f"{show_duration(orbit.first_sunset.likely)} after the start")
    if proved.plan.home:
        yield Key("Home", chips=(context.chip("place", proved.plan.home),))


def _sums(context: PageContext, proved: SortieEvidence, person: str) -> PersonSums:
    sums = proved.timeline.sums(person)
    parts = (sums["work"], sums["way"], sums["waiting"] + sums.get("between", 0.0), sums["after"])
    work, way, waiting, after = map(show_duration, parts)
    return PersonSums(context.mark(person), work, way, waiting, after, show_duration(proved.timeline.finish))


def _get_ahead(context: PageContext, name: str) -> Item:
    task = context.library.tasks[name]
    meta = (count(len(task.steps), "step"), f"{show_duration(likely_work(context, task))} of work, without the ways")
    return Item(
        context.link("task", name), str(task.purpose), icon="task", badges=context.unless_required(task), meta=meta
    )


def _carried(context: PageContext, name: str, spot: str) -> Chip:
    if name in context.library.equipment:
        return context.chip("equipment", name, spot)
    where = context.label("place" if spot in context.library.places else "bag", spot)
    return context.thing(name, f"at {where}" if spot in context.library.places else f"in {where}")
