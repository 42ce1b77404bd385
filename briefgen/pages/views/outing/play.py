"""Each sortie played: everybody on the map along the computed times, with the script for the briefer."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"Play: {desk.short(identifier)}"
    return Page(
        uri=desk.links.record_uri("play", identifier),
        title=title,
        section="sorties",
        template="outing/play.html",
        icon="play",
        order=(1, number, 1),
        about="Everybody on the map along the computed times, with the script for the briefer.",
        rows={"title": title, "sortie": desk.link("sortie", identifier), "player": desk.plots.draw("player", case)},
    )
