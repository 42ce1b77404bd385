"""Each sortie played: everybody on the map along the computed times, with the script for the briefer."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Play: {context.short(identifier)}"
    return Page(
        uri=context.links.record_uri("play", identifier),
        title=title,
        section="sorties",
        template="outing/play.html",
        icon="play",
        order=(1, number, 1),
        about="Everybody on the map along the computed times, with the script for the briefer.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "player": context.plots.draw("player", proved),
        },
    )
