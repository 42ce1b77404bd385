"""Figures with their numbered callouts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from briefgen.model.figures import Callout, Figure
from briefgen.model.library import SINGULAR
from briefgen.pages.context import PageContext
from briefgen.pages.links import callout_anchor
from briefgen.pages.rows import Link
from briefgen.pages.things.clips import ClipRow, Lit, clip_row, lit_of
from briefgen.pages.things.leaders import PAGE, sides
from briefgen.source import Ref
from briefgen.units import show_number


@dataclass(frozen=True)
class CalloutRow:
    """A number on a picture, at the `side` of its point on which it covers least."""

    anchor: str
    pin: str
    number: int
    x: str
    y: str
    side: str
    shows: Link
    used: tuple[Link, ...]
    lit: Lit | None = None


@dataclass(frozen=True)
class FigureRow:
    """A picture with everything that stands under it."""

    anchor: str
    title: Link
    source: str
    alt: str
    width: int
    height: int
    caption: str
    credit: str
    callouts: tuple[CalloutRow, ...]
    clip: ClipRow | None = None


def figure_row(context: PageContext, identifier: str, own_page: bool = False) -> FigureRow:
    """A figure; on its own page its title leads nowhere."""
    record = context.library.figures[identifier]
    size = context.pictures.size(str(record.file))
    title = context.link("figure", identifier)
    return FigureRow(
        identifier,
        Link(title.words) if own_page else title,
        context.links.picture(record.still),
        context.texts.plain(record.alt),
        size.width,
        size.height,
        str(record.caption or record.label_text),
        str(record.credit or ""),
        tuple(_callouts(context, identifier, record)),
        clip_row(context, record),
    )


def _callouts(context: PageContext, identifier: str, record: Figure) -> Iterable[CalloutRow]:
    users = _users(context, identifier)
    rings = zip(record.callouts.items(), placed(record.callouts.values()), strict=True)
    for number, ((name, callout), (x, y, side)) in enumerate(rings, start=1):
        anchor = callout_anchor(identifier, str(name))
        used = tuple(users.get(str(name), ()))
        link, lit = shown(context, str(callout.shows)), lit_of(callout) if record.is_clip else None
        yield CalloutRow(anchor, f"{anchor}-pin", number, x, y, side, link, used, lit)


def placed(callouts: Iterable[Callout]) -> Iterator[tuple[str, str, str]]:
    """For each callout of one picture: where its ring is, as CSS takes it, and on which side its sign stands."""
    points = [one.at for one in callouts]
    chosen = sides(PAGE, [(float(x) * PAGE.wide, float(y) * PAGE.high) for x, y in points])
    for (x, y), side in zip(points, chosen, strict=True):
        yield f"{show_number(100 * x, 2)}%", f"{show_number(100 * y, 2)}%", side


def _users(context: PageContext, figure: str) -> Mapping[str, list[Link]]:
    """The steps that use each callout; a task is named with the first of its steps."""
    users: dict[str, list[Link]] = {}
    named: set[tuple[str, str]] = set()
    for use in context.uses.get(("figure", figure), ()):
        step = context.links.step(use.identifier, use.part) if use.kind == "task" and use.callout else None
        if step:
            words = f"step {context.number(context.library.tasks[use.identifier], step)}"
            if (use.callout, use.identifier) not in named:
                words = f"{context.label('task', use.identifier)}, {words}"
            named.add((use.callout, use.identifier))
            users.setdefault(use.callout, []).append(
                Link(words, context.links.target("task", use.identifier, use.part))
            )
    return users


def shown(context: PageContext, words: str) -> Link:
    """What a callout shows: a record by its name, or words."""
    kind, colon, rest = words.partition(":")
    identifier, _, part = rest.partition("#")
    if colon and kind in SINGULAR and context.links.leads_somewhere(kind, identifier, part):
        return context.link(kind, identifier, part)
    return Link(context.texts.plain(words))


def figures_on(context: PageContext, refs: Iterable[Ref]) -> tuple[FigureRow, ...]:
    """Each figure that is named, once."""
    return tuple(figure_row(context, name) for name in dict.fromkeys(map(str, refs)))


def figures_about(context: PageContext, refs: Iterable[Ref], kind: str, identifier: str) -> tuple[FigureRow, ...]:
    """Each figure with the callouts that show one record, without who uses them; all callouts where none shows it."""
    return tuple(_about(context, row, f"{kind}:{identifier}") for row in figures_on(context, refs))


def _about(context: PageContext, row: FigureRow, record: str) -> FigureRow:
    shows = (str(callout.shows).partition("#")[0] for callout in context.library.figures[row.anchor].callouts.values())
    own = tuple(callout for callout, what in zip(row.callouts, shows, strict=True) if what == record)
    return replace(row, callouts=tuple(replace(callout, used=()) for callout in own or row.callouts))
