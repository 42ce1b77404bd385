"""The timeline of each sortie: the chart with its table, and what there is to spare."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.views.outing.overview import sortie_keys
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kinds.light import light_tables
from briefgen.tables.kinds.margins import home_table
from briefgen.tables.kinds.supplies import supplies_table


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"Timeline: {desk.short(identifier)}"
    return Page(
        uri=desk.links.record_uri("timeline", identifier),
        title=title,
        section="sorties",
        template="outing/timeline.html",
        icon="timeline",
        order=(1, number, 0),
        about="Who does what, when, and what there is to spare.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "keys": sortie_keys(case),
            "charts": (desk.plots.draw("timeline", case),),
            "spare_charts": tuple(_spare(desk, case)),
            "tables": desk.tables(home_table(case), supplies_table(case), *light_tables(case)),
        },
    )


def _spare(desk: Desk, case: SortieEvidence) -> Iterator[Markup]:
    """The curves of what runs short: the way home, and the suits' supplies."""
    if case.time_home:
        yield desk.plots.draw("homeward", case)
    if any(case.supplies.runs.values()):
        yield desk.plots.draw("supplies", case)
