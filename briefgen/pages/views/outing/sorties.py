"""Sorties: the list, and an overview of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import count, hours
from briefgen.pages.carrying.addresses import sortie_cards_uri
from briefgen.pages.desk import Desk
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


def pages(desk: Desk) -> Iterator[Page]:
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
            "groups": (Group("", "", tuple(_item(desk, case) for case in desk.cases)), *_not_run(desk)),
        },
    )
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _item(desk: Desk, case: SortieEvidence) -> Item:
    return Item(
        desk.link("sortie", str(case.sortie.id)),
        str(case.sortie.note or ""),
        icon="sortie",
        marks=desk.marks(case.plan.flows),
        meta=(f"{hours(case.timeline.finish)} h planned", f"{len(case.plan.steps)} steps"),
    )


def _not_run(desk: Desk) -> Iterator[Group]:
    """Sorties that the programme does not name have no plan to show."""
    run = {str(case.sortie.id) for case in desk.cases}
    rest = [name for name in desk.library.sorties if name not in run]
    for name in rest:
        yield Group(desk.label("sortie", name), name, (Item(Link("Not in the programme"), ""),))


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = desk.label("sortie", identifier)
    return Page(
        uri=desk.links.record_uri("sortie", identifier),
        title=title,
        section="sorties",
        template="outing/sortie.html",
        icon="sortie",
        order=(1, number),
        rows={
            "title": title,
            "sortie": case.sortie,
            "changes": changes_link(desk, identifier),
            "keys": sortie_keys(case),
            "glance": glance_of(desk, case),
            "limits": tuple(_limits(desk, case)),
            "tiles": _tiles(desk, identifier),
            "tasks": task_lines(desk, case),
            "people": tuple(_sums(desk, case, person) for person in case.plan.flows),
            "flows": tuple(
                (desk.mark(person), desk.links.page(desk.links.record_uri("person", person), f"_{identifier}"))
                for person in case.plan.flows
            ),
            "get_aheads": tuple(_get_ahead(desk, str(name)) for name in case.sortie.get_aheads),
            "ends": tuple(
                desk.chip("equipment", str(name), " or ".join(map(str, states)))
                for name, states in case.sortie.ends.items()
            ),
            "carried": tuple(_carried(desk, str(name), str(spot)) for name, spot in case.sortie.carries_over.items()),
        },
    )


def _tiles(desk: Desk, identifier: str) -> tuple[Tile, ...]:
    target = desk.links.target
    return (
        Tile(
            Link("Timeline", target("timeline", identifier)), "timeline", "Who does what, when, and what is to spare."
        ),
        Tile(
            Link("Cue cards", desk.links.page(sortie_cards_uri(desk, identifier))),
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
            "ToldScene by scene over the pictures, to tell and to read up.",
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


def _limits(desk: Desk, case: SortieEvidence) -> Iterator[Key]:
    limits, orbit = case.sortie.limits, case.sortie.orbit
    if starts(case.sortie):
        yield Key("Starts", starts(case.sortie))
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
    if case.plan.home:
        yield Key("Home", chips=(desk.chip("place", case.plan.home),))


def _sums(desk: Desk, case: SortieEvidence, person: str) -> PersonSums:
    sums = case.timeline.sums(person)
    work, way, waiting, after = (show_duration(sums[part]) for part in ("work", "way", "waiting", "after"))
    return PersonSums(desk.mark(person), work, way, waiting, after, show_duration(case.timeline.finish))


def _get_ahead(desk: Desk, name: str) -> Item:
    task = desk.library.tasks[name]
    meta = (count(len(task.steps), "step"), f"{show_duration(likely_work(desk, task))} of work, without the ways")
    return Item(desk.link("task", name), str(task.purpose), icon="task", badges=desk.unless_required(task), meta=meta)


def _carried(desk: Desk, name: str, spot: str) -> Chip:
    if name in desk.library.equipment:
        return desk.chip("equipment", name, spot)
    where = desk.label("place" if spot in desk.library.places else "bag", spot)
    return desk.thing(name, f"at {where}" if spot in desk.library.places else f"in {where}")
