"""Equipment: the list, and a page for each with its states, its items and everything that uses it."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import capital, count, listing
from briefgen.model.things import Equipment
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Group, Item, Key
from briefgen.pages.things.records import record_page
from briefgen.tables.table import Cell, Table, headed


def pages(context: PageContext) -> Iterator[Page]:
    """The list by place, then each equipment."""
    equipment = context.library.equipment
    yield Page(
        uri="equipment/index",
        title="Equipment",
        section="equipment",
        template="index.html",
        icon="equipment",
        order=(0,),
        rows={
            "title": "Equipment",
            "icon": "equipment",
            "lead": "What is worked on, by place, and the states it can be in.",
            "groups": tuple(_groups(context)),
        },
    )
    for number, record in enumerate(equipment.values()):
        yield record_page(
            context, "equipment", record, "equipment", (1, number), head="Equipment", index="equipment/index",
            badges=_badges(record), keys=_keys(context, record), tables=list(_items(record)),
        )  # fmt: skip


def _groups(context: PageContext) -> Iterator[Group]:
    by_place: dict[str, list[Equipment]] = {}
    for record in context.library.equipment.values():
        by_place.setdefault(str(record.place or ""), []).append(record)
    for place, records in by_place.items():
        words = context.link("place", place).words if place else "Elsewhere"
        yield Group(words, f"_{place}", tuple(_item(context, record) for record in records))


def _item(context: PageContext, record: Equipment) -> Item:
    parts = (count(len(record.items), "item"),) if record.parts else ()
    return Item(
        context.link("equipment", str(record.id)), str(record.note or ""), icon="equipment",
        badges=tuple(_badges(record)), meta=(*parts, ", ".join(map(str, record.states))),
    )  # fmt: skip


def _badges(record: Equipment) -> Iterator[Badge]:
    if record.control:
        yield Badge("Control", "kind", "control")


def _keys(context: PageContext, record: Equipment) -> Iterator[Key]:
    if record.place:
        yield Key("Place", chips=(context.chip("place", str(record.place)),))
    yield Key("States", ", ".join(map(str, record.states)))
    yield Key("Begins", str(record.starts))
    yield Key("May end", "in any state" if "any" in record.ends else listing(list(record.allowed_ends), "or"))
    if record.parts:
        yield Key("Items", count(len(record.items), "item"))


def _items(record: Equipment) -> Iterator[Table]:
    """The parts that make its items."""
    if record.parts:
        rows = tuple((Cell(capital(part)), Cell(", ".join(names))) for part, names in record.parts.items())
        yield Table("items", "Items: every combination of these", headed("Part", "Names"), rows)
