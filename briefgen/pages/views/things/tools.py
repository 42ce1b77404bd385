"""Tools and bags: the list, and a page for each with its settings, its contents and everything that uses it."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import capital, count, kilograms
from briefgen.model.things import Bag, Setting, Thing, Tool
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Group, Item, Key
from briefgen.pages.things.records import record_page
from briefgen.tables.table import Cell, Table, headed


def pages(context: PageContext) -> Iterator[Page]:
    """The list, each tool, each bag."""
    bags, tools = context.library.bags, context.library.tools
    yield Page(
        uri="tools/index",
        title="Tools and bags",
        section="tools",
        template="index.html",
        icon="tool",
        order=(0,),
        rows={
            "title": "Tools and bags",
            "icon": "tool",
            "lead": "What is carried, and where it begins.",
            "groups": (
                Group("Bags", "_bags", tuple(_item(context, "bag", bag) for bag in bags.values())),
                Group("Tools", "_tools", tuple(_item(context, "tool", tool) for tool in tools.values())),
            ),
        },
    )
    for number, bag in enumerate(bags.values()):
        yield _bag(context, bag, number)
    for number, tool in enumerate(tools.values()):
        yield _tool(context, tool, number)


def _item(context: PageContext, kind: str, thing: Thing) -> Item:
    meta = (kilograms(thing.mass),) if thing.mass is not None else ()
    badges = tuple(_badges(thing)) if isinstance(thing, Tool) else ()
    return Item(
        context.link(kind, str(thing.id)), str(thing.note or ""), icon=kind, badges=badges, meta=meta,
        chips=(context.spot(str(thing.stowed)),),
    )  # fmt: skip


def _badges(tool: Tool) -> Iterator[Badge]:
    if tool.consumable:
        yield Badge("Consumable", "kind", "consumable")


def _tool(context: PageContext, tool: Tool, number: int) -> Page:
    return record_page(
        context, "tool", tool, "tools", (2, number), head="Tool", index="tools/index", badges=_badges(tool),
        keys=_keys(context, tool), tables=[_settings(tool)] if tool.settings else [],
    )  # fmt: skip


def _keys(context: PageContext, thing: Thing) -> Iterator[Key]:
    if thing.mass is not None:
        yield Key("Mass", kilograms(thing.mass))
    if isinstance(thing, Tool) and thing.consumable:
        yield Key("Count", count(thing.count, "piece"))
    head = "Begins at" if thing.stowed in context.library.places else "Begins in"
    yield Key(head, chips=(context.spot(str(thing.stowed)),))
    if isinstance(thing, Tool) and thing.fitted_as:
        fitted = (context.chip("equipment", str(name), str(state)) for name, state in thing.fitted_as.items())
        yield Key("Fitted while", chips=tuple(fitted))
    if thing.ends:
        yield Key("May end at", chips=tuple(context.spot(str(end)) for end in thing.ends))


def _settings(tool: Tool) -> Table:
    head = headed("Setting", "Turns", "Torque", "Turning", "Note", figures={1, 2})
    rows = tuple(_setting(name, setting) for name, setting in tool.settings.items())
    return Table("settings", "Settings", head, rows)


def _setting(name: str, setting: Setting) -> tuple[Cell, ...]:
    return (
        Cell(capital(name.replace("-", " "))),
        Cell(setting.turns.written if setting.turns is not None else ""),
        Cell(setting.torque.written if setting.torque is not None else ""),
        Cell(setting.turning or ""),
        Cell(str(setting.note or "")),
    )


def _bag(context: PageContext, bag: Bag, number: int) -> Page:
    return record_page(
        context, "bag", bag, "tools", (1, number), head="Bag", index="tools/index", keys=_keys(context, bag),
        tables=list(_contents(context, bag)),
    )  # fmt: skip


def _contents(context: PageContext, bag: Bag) -> Iterator[Table]:
    """What is in the bag at the beginning of the first sortie, bags in it with theirs, and what all of it weighs."""
    inside = list(_inside(context, str(bag.id), ()))
    if not inside:
        return
    total = sum((thing.mass or 0.0) for thing, _ in inside) + (bag.mass or 0.0)
    head = headed("What", "In", "How many", "Mass", figures={2, 3})
    rows = [_content(context, thing, path) for thing, path in inside]
    rows.append((Cell("All, with the bag"), Cell(""), Cell(""), Cell(kilograms(total))))
    yield Table("contents", "In it at the beginning", head, tuple(rows))


def _inside(context: PageContext, bag: str, path: tuple[str, ...]) -> Iterator[tuple[Thing, tuple[str, ...]]]:
    for tool in context.library.tools.values():
        if tool.stowed == bag:
            yield tool, path
    for inner in context.library.bags.values():
        if inner.stowed == bag and inner.id not in path:
            yield inner, path
            yield from _inside(context, str(inner.id), (*path, str(inner.id)))


def _content(context: PageContext, thing: Thing, path: tuple[str, ...]) -> tuple[Cell, ...]:
    kind = "tool" if isinstance(thing, Tool) else "bag"
    link = context.link(kind, str(thing.id))
    pieces = count(thing.count, "piece") if isinstance(thing, Tool) else "1 bag"
    where = context.link("bag", path[-1]) if path else None
    mass = kilograms(thing.mass) if thing.mass is not None else ""
    return (
        Cell(link.words, link.target),
        Cell(where.words, where.target) if where else Cell(""),
        Cell(pieces),
        Cell(mass),
    )
