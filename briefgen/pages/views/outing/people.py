"""People: the list, each person's way through every sortie, and the suits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import capital, count, hours
from briefgen.model.people import Person, Supply
from briefgen.pages.carrying.addresses import person_card_uri
from briefgen.pages.desk import Desk
from briefgen.pages.doing.flows import FlowTask, flow
from briefgen.pages.doing.moments import HoldLine, holds
from briefgen.pages.planning import margins
from briefgen.pages.planning.revisions import changes_link
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Group, Item, Link
from briefgen.pages.studying.practice import practice_uri
from briefgen.pages.things.records import record_page
from briefgen.pages.things.usedby import used_by
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_duration, show_elapsed


@dataclass(frozen=True)
class HoldRow:
    """A hold of a person's: before which step, and what ends it; `clock` is when the step begins as planned."""

    clock: str
    before: Link
    hold: HoldLine


@dataclass(frozen=True)
class PersonSortie:
    """A person's part in one sortie."""

    anchor: str
    link: Link
    timeline: str
    card: str
    practice: str
    changes: Link | None
    sums: tuple[tuple[str, str], ...]
    holds: tuple[HoldRow, ...]
    tasks: tuple[FlowTask, ...]


def pages(desk: Desk) -> Iterator[Page]:
    """The list, each person, each suit."""
    yield Page(
        uri="people/index",
        title="People",
        section="people",
        template="index.html",
        icon="person",
        order=(0,),
        rows={
            "title": "People",
            "icon": "person",
            "lead": "Who acts, and each person's own way through the sorties.",
            "groups": (
                Group("", "", tuple(_item(desk, person) for person in desk.library.people)),
                *([_suits(desk)] if desk.library.suits else []),
            ),
        },
    )
    for number, person in enumerate(desk.library.people):
        yield _page(desk, person, number)
    for number, suit in enumerate(desk.library.suits):
        yield _suit(desk, suit, number)


def _item(desk: Desk, person: str) -> Item:
    record = desk.library.people[person]
    steps = sum(len(case.plan.flows.get(person, ())) for case in desk.cases)
    return Item(
        Link(capital(str(record.name or record.label)), desk.links.target("person", person)),
        str(record.note or ""),
        icon="person",
        marks=(desk.mark(person),),
        badges=(Badge(capital(record.post), "post", record.post),),
        meta=(count(steps, "step"),),
    )


def _carries(person: Person) -> str:
    """`6 items, 80 kg`, or nothing."""
    limit = person.carries
    if limit is None:
        return ""
    items = [count(limit.items, "item")] if limit.items is not None else []
    return ", ".join([*items, *([limit.mass.written] if limit.mass is not None else [])])


def _suits(desk: Desk) -> Group:
    suits = desk.library.suits.items()
    items = tuple(Item(desk.link("suit", name), str(suit.note or ""), icon="suit") for name, suit in suits)
    return Group("Suits", "_suits", items)


def _page(desk: Desk, person: str, number: int) -> Page:
    record = desk.library.people[person]
    mark = desk.mark(person)
    title = f"{mark.name} ({record.label})" if record.callsign else str(record.label)
    return Page(
        uri=desk.links.record_uri("person", person),
        title=title,
        section="people",
        template="outing/person.html",
        icon="person",
        order=(1, number),
        about=f"{title}: the way through every sortie, step by step.",
        rows={
            "title": title,
            "mark": mark,
            "person": record,
            "post": Badge(capital(record.post), "post", record.post),
            "suit": desk.link("suit", str(record.suit)) if record.suit else None,
            "carries": _carries(record),
            "sorties": tuple(_sortie(desk, case, person) for case in desk.cases if person in case.plan.flows),
            "uses": used_by(desk, "person", person),
        },
    )


def _sortie(desk: Desk, case: SortieEvidence, person: str) -> PersonSortie:
    sums = case.timeline.sums(person)
    names = (("work", "At work"), ("way", "On the way"), ("waiting", "Waiting"), ("after", "After the last step"))
    return PersonSortie(
        f"_{case.sortie.id}",
        desk.link("sortie", str(case.sortie.id)),
        desk.links.target("timeline", str(case.sortie.id)),
        desk.links.page(person_card_uri(desk, str(case.sortie.id), person)),
        desk.links.page(practice_uri(desk, "practice", case, person)),
        changes_link(desk, str(case.sortie.id), person),
        (
            *((name, show_duration(sums[part])) for part, name in names),
            ("Planned", f"{hours(case.timeline.finish)} h"),
            *margins.of_person(case, person),
        ),
        tuple(_holds(desk, case, person)),
        flow(desk, case, person),
    )


def _holds(desk: Desk, case: SortieEvidence, person: str) -> Iterator[HoldRow]:
    for index in case.plan.flows[person]:
        step = case.plan.steps[index]
        for hold in holds(desk, case, step, person):
            yield HoldRow(show_elapsed(case.timeline.times[index].start), desk.planned(step), hold)


def _suit(desk: Desk, suit: str, number: int) -> Page:
    record = desk.library.suits[suit]
    head = headed("Supply", "Holds", "Reserve", "Use per hour", "Use per megajoule of work", figures={1, 2, 3, 4})
    rows = tuple(_supply(name, supply) for name, supply in record.supplies.items())
    tables = [Table("supplies", "Supplies", head, rows)] if rows else []
    return record_page(desk, "suit", record, "people", (2, number), head="Suit", index="people/index", tables=tables)


def _supply(name: str, supply: Supply) -> tuple[Cell, ...]:
    hourly = f"{supply.per_hour.written}" if supply.per_hour else "none"
    work = f"{supply.per_megajoule.written}" if supply.per_megajoule else "none"
    return (
        Cell(capital(name.replace("-", " "))),
        Cell(supply.holds.written),
        Cell(supply.keeps.written),
        Cell(hourly),
        Cell(work),
    )
