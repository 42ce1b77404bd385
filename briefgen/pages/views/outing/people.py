"""People: the list, each person's way through every sortie, and the suits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import capital, count, hours
from briefgen.model.people import Person, Supply
from briefgen.pages.carrying.addresses import person_card_uri
from briefgen.pages.context import PageContext
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


def pages(context: PageContext) -> Iterator[Page]:
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
                Group("", "", tuple(_item(context, person) for person in context.library.people)),
                *([_suits(context)] if context.library.suits else []),
            ),
        },
    )
    for number, person in enumerate(context.library.people):
        yield _page(context, person, number)
    for number, suit in enumerate(context.library.suits):
        yield _suit(context, suit, number)


def _item(context: PageContext, person: str) -> Item:
    record = context.library.people[person]
    steps = sum(len(proved.plan.flows.get(person, ())) for proved in context.sorties)
    return Item(
        Link(capital(str(record.name or record.label)), context.links.target("person", person)),
        str(record.note or ""),
        icon="person",
        marks=(context.mark(person),),
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


def _suits(context: PageContext) -> Group:
    suits = context.library.suits.items()
    items = tuple(Item(context.link("suit", name), str(suit.note or ""), icon="suit") for name, suit in suits)
    return Group("Suits", "_suits", items)


def _page(context: PageContext, person: str, number: int) -> Page:
    record = context.library.people[person]
    mark = context.mark(person)
    title = f"{mark.name} ({record.label})" if record.callsign else str(record.label)
    return Page(
        uri=context.links.record_uri("person", person),
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
            "suit": context.link("suit", str(record.suit)) if record.suit else None,
            "carries": _carries(record),
            "sorties": tuple(
                _sortie(context, proved, person) for proved in context.sorties if person in proved.plan.flows
            ),
            "uses": used_by(context, "person", person),
        },
    )


_BOUND = (("work", "At work"), ("way", "On the way"), ("waiting", "Waiting"), ("after", "After the last step"))
_FREE = (("work", "At work"), ("between", "Between steps"), ("after", "After the last step"))


def _sortie(context: PageContext, proved: SortieEvidence, person: str) -> PersonSortie:
    sums = proved.timeline.sums(person)
    names = _FREE if "between" in sums else _BOUND
    return PersonSortie(
        f"_{proved.sortie.id}",
        context.link("sortie", str(proved.sortie.id)),
        context.links.target("timeline", str(proved.sortie.id)),
        context.links.page(person_card_uri(context, str(proved.sortie.id), person)),
        context.links.page(practice_uri(context, "practice", proved, person)),
        changes_link(context, str(proved.sortie.id), person),
        (
            *((name, show_duration(sums[part])) for part, name in names),
            ("Planned", f"{hours(proved.timeline.finish)} h"),
            *margins.of_person(proved, person),
        ),
        tuple(_holds(context, proved, person)),
        flow(context, proved, person),
    )


def _holds(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[HoldRow]:
    for index in proved.plan.flows[person]:
        step = proved.plan.steps[index]
        for hold in holds(context, proved, step, person):
            yield HoldRow(show_elapsed(proved.timeline.times[index].start), context.planned(step), hold)


def _suit(context: PageContext, suit: str, number: int) -> Page:
    record = context.library.suits[suit]
    head = headed("Supply", "Holds", "Reserve", "Use per hour", "Use per megajoule of work", figures={1, 2, 3, 4})
    rows = tuple(_supply(name, supply) for name, supply in record.supplies.items())
    tables = [Table("supplies", "Supplies", head, rows)] if rows else []
    return record_page(context, "suit", record, "people", (2, number), head="Suit", index="people/index", tables=tables)


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
