"""The states of each sortie: how each item of equipment is found, changed and left, and what the controls rest on."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.things.conditions import guards, histories
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"States: {context.short(identifier)}"
    return Page(
        uri=context.links.record_uri("states", identifier),
        title=title,
        section="findings",
        template="planning/states.html",
        icon="equipment",
        order=(1, number, 3),
        about="How each item of equipment is found, changed and left.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "charts": (context.plots.draw("states", proved),),
            "guards": guards(context, proved),
            "histories": histories(context, proved),
        },
    )
