"""Who are you? Everybody's own pages on one page, and each person's sortie hour by hour."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.carrying.addresses import person_card_uri
from briefgen.pages.context import PageContext
from briefgen.pages.finding.readers.hours import hours_of
from briefgen.pages.finding.readers.ways import INSTRUCTOR, Reader, Ways, own_uri, readers
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Link


def pages(context: PageContext) -> Iterator[Page]:
    """The choice, then each person's own page in each sortie, and the instructor's."""
    if not readers(context):
        return
    yield Page(
        uri="mine/index",
        title="Who are you?",
        section="overview",
        template="outing/mine.html",
        icon="person",
        order=(2,),
        about="Everybody's own pages: the sortie hour by hour, the map, stopping, being late, learning.",
        rows={"title": "Who are you?", "readers": readers(context)},
    )
    for number, reader in enumerate(readers(context)):
        for place, ways in enumerate(reader.ways):
            yield _page(context, reader, ways, (3, number, place))


def _page(context: PageContext, reader: Reader, ways: Ways, order: tuple[int, ...]) -> Page:
    proved = context.evidence.sorties[ways.sortie]
    person = "" if reader.key == INSTRUCTOR else reader.key
    title = f"{reader.name}: {ways.label}" if person else f"{ways.label} for the instructor"
    return Page(
        uri=own_uri(context, proved, person),
        title=title,
        section="overview",
        template="outing/own.html",
        icon="person",
        order=order,
        about=f"{title}, hour by hour: where, what comes out of which bag, which holds.",
        listed=False,
        rows={
            "title": title,
            "mark": reader.mark,
            "choice": context.links.page("mine/index"),
            "sortie": context.link("sortie", ways.sortie),
            "whole": tuple(_whole(context, ways, person)),
            "ways": ways.rest,
            "hours": hours_of(context, proved, person),
        },
    )


def _whole(context: PageContext, ways: Ways, person: str) -> Iterator[Link]:
    """Where every step stands, with its hazards."""
    if not person:
        yield Link("the sortie's tasks", context.links.target("sortie", ways.sortie))
        return
    yield Link("your way, step by step", f"{context.links.target('person', person)}#_{ways.sortie}")
    yield Link("your cue card", context.links.page(person_card_uri(context, ways.sortie, person)))
