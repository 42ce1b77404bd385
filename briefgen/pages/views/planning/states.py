"""The states of each sortie: how each item of equipment is found, changed and left, and what the controls rest on."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.things.conditions import guards, histories
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"States: {desk.short(identifier)}"
    return Page(
        uri=desk.links.record_uri("states", identifier),
        title=title,
        section="findings",
        template="planning/states.html",
        icon="equipment",
        order=(1, number, 3),
        about="How each item of equipment is found, changed and left.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "charts": (desk.plots.draw("states", case),),
            "guards": guards(desk, case),
            "histories": histories(desk, case),
        },
    )
