"""The ledger of each sortie: what goes out, what comes home, what stays, and where everything is in between."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.things.ledger import packing, things
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"Ledger: {desk.short(identifier)}"
    rows = things(desk, case)
    return Page(
        uri=desk.links.record_uri("ledger", identifier),
        title=title,
        section="findings",
        template="planning/ledger.html",
        icon="bag",
        order=(1, number, 2),
        about="Where every tool and bag is, from the hatch and back.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "out": packing(desk, case, at_end=False),
            "back": packing(desk, case, at_end=True),
            "stays": tuple(row for row in rows if row.stays_out),
            "things": rows,
        },
    )
