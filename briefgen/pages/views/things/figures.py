"""Figures: the list, and a page for each with its callouts and everything that uses it."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.studying.pictured import ways_on
from briefgen.pages.things.figures import figure_row
from briefgen.pages.things.usedby import used_by


def pages(context: PageContext) -> Iterator[Page]:
    """The list, then each figure."""
    figures = context.library.figures
    yield Page(
        uri="figures/index",
        title="Figures",
        section="figures",
        template="things/figures.html",
        icon="figure",
        order=(0,),
        rows={"title": "Figures", "figures": tuple(figure_row(context, name) for name in figures)},
    )
    for number, (name, record) in enumerate(figures.items()):
        title = context.label("figure", name)
        yield Page(
            uri=context.links.record_uri("figure", name),
            title=title,
            section="figures",
            template="things/figure.html",
            icon="figure",
            order=(1, number),
            about=context.texts.plain(record.alt),
            rows={
                "title": title,
                "note": str(record.note or ""),
                "figure": figure_row(context, name, own_page=True),
                "ways": tuple(ways_on(context, name)),
                "uses": used_by(context, "figure", name),
            },
        )
