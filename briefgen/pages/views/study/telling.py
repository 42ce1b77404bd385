"""Each sortie told: scene after scene over the pictures, for the briefer to tell and for everybody to read up."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.studying.telling import minutes_words, scene_rows
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"Told: {desk.short(identifier)}"
    scenes = scene_rows(desk, case)
    return Page(
        uri=desk.links.record_uri("telling", identifier),
        title=title,
        section="sorties",
        template="study/telling.html",
        icon="say",
        order=(1, number, 2),
        about="The sortie told scene by scene: pictures, ways on the map, and what the briefer says.",
        rows={
            "title": title,
            "name": desk.label("sortie", identifier),
            "sortie": desk.link("sortie", identifier),
            "play": desk.links.page(desk.links.record_uri("play", identifier)),
            "scenes": scenes,
            "whole": minutes_words(scenes[-1].until) if scenes else "",
        },
    )
