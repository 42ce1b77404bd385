"""The ledger of each sortie: what goes out, what comes home, what stays, and where everything is in between."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.things.ledger import packing, things
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Ledger: {context.short(identifier)}"
    rows = things(context, proved)
    return Page(
        uri=context.links.record_uri("ledger", identifier),
        title=title,
        section="findings",
        template="planning/ledger.html",
        icon="bag",
        order=(1, number, 2),
        about="Where every tool and bag is, from the hatch and back.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "out": packing(context, proved, at_end=False),
            "back": packing(context, proved, at_end=True),
            "stays": tuple(row for row in rows if row.stays_out),
            "things": rows,
        },
    )
