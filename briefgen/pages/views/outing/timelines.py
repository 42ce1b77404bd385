"""The timeline of each sortie: the chart with its table, and what there is to spare."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.views.outing.overview import sortie_keys
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kinds.light import light_tables
from briefgen.tables.kinds.margins import home_table
from briefgen.tables.kinds.supplies import supplies_table


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Timeline: {context.short(identifier)}"
    return Page(
        uri=context.links.record_uri("timeline", identifier),
        title=title,
        section="sorties",
        template="outing/timeline.html",
        icon="timeline",
        order=(1, number, 0),
        about="Who does what, when, and what there is to spare.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "keys": sortie_keys(proved),
            "charts": (context.plots.draw("timeline", proved),),
            "spare_charts": tuple(_spare(context, proved)),
            "tables": context.tables(home_table(proved), supplies_table(proved), *light_tables(proved)),
        },
    )


def _spare(context: PageContext, proved: SortieEvidence) -> Iterator[Markup]:
    """The curves of what runs short: the way home, and the suits' supplies."""
    if proved.time_home:
        yield context.plots.draw("homeward", proved)
    if any(proved.supplies.runs.values()):
        yield context.plots.draw("supplies", proved)
