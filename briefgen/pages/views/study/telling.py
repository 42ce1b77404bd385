"""Each sortie told: scene after scene over the pictures, for the briefer to tell and for everybody to read up."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.studying.telling import minutes_words, scene_rows
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Told: {context.short(identifier)}"
    scenes = scene_rows(context, proved)
    return Page(
        uri=context.links.record_uri("telling", identifier),
        title=title,
        section="sorties",
        template="study/telling.html",
        icon="say",
        order=(1, number, 2),
        about="The sortie told scene by scene: pictures, ways on the map, and what the briefer says.",
        rows={
            "title": title,
            "name": context.label("sortie", identifier),
            "sortie": context.link("sortie", identifier),
            "play": context.links.page(context.links.record_uri("play", identifier)),
            "scenes": scenes,
            "whole": minutes_words(scenes[-1].until) if scenes else "",
        },
    )
