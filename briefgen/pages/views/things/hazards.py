"""Hazards: all statements, the gravest first, and a page for each with the steps that carry it."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.doing.statements import statement, statements
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key
from briefgen.pages.things.records import record_page


def pages(context: PageContext) -> Iterator[Page]:
    """The list, then each hazard."""
    hazards = context.library.hazards
    yield Page(
        uri="hazards/index",
        title="Hazards",
        section="hazards",
        template="things/hazards.html",
        icon="hazard",
        order=(0,),
        rows={"title": "Hazards", "statements": statements(context, hazards)},
    )
    for number, record in enumerate(hazards.values()):
        controls = statement(context, str(record.id)).controls
        yield record_page(
            context, "hazard", record, "hazards", (1, number), head="Hazard", index="hazards/index",
            keys=[Key("Controlled by", chips=controls)] if controls else [], hazards=[str(record.id)],
        )  # fmt: skip
