"""Sheets beside the cards: the reader's card, the arm sheet, and the booklet of a whole sortie."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from briefgen.pages.carrying.addresses import sortie_cards_uri
from briefgen.pages.carrying.arm import moves
from briefgen.pages.carrying.asides import carriers
from briefgen.pages.carrying.booklet import contents, drawings
from briefgen.pages.carrying.cards import card, nights, sums
from briefgen.pages.carrying.reading import reader_pieces
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Link
from briefgen.pages.things.pockets import loose, pockets
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """For each sortie the booklet and the reader's card, and the arm sheet where somebody is driven."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _booklet(context, proved, number)
        yield _page(
            context, proved, "reader", "Reader's card", (1, number, -2), {"pieces": reader_pieces(context, proved)}
        )
        if moves(context, proved):
            yield _page(context, proved, "arm", "Arm sheet", (1, number, -1), {"moves": moves(context, proved)})


def _booklet(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    rows = {
        "name": context.label("sortie", str(proved.sortie.id)),
        "purpose": str(proved.sortie.purpose or ""),
        "lines": (*sums(proved), *nights(proved)),
        "contents": contents(context, proved),
        "charts": (context.plots.draw("map"),),
        "drawings": drawings(context),
        "cards": tuple(card(context, proved, person) for person in carriers(proved)),
        "pieces": reader_pieces(context, proved),
        "moves": moves(context, proved),
        "pockets": (*pockets(context, proved), *loose(context, proved)),
    }
    return _page(context, proved, "booklet", "Booklet", (1, number, -3), rows)


def _page(
    context: PageContext, proved: SortieEvidence, kind: str, name: str, order: tuple[int, ...], rows: dict[str, Any]
) -> Page:  # fmt: skip
    sortie = str(proved.sortie.id)
    title = f"{name}: {context.short(sortie)}"
    return Page(
        uri=context.links.record_uri(kind, sortie),
        title=title,
        section="cards",
        template=f"{kind}.html",
        icon="card",
        order=order,
        about=f"{title}. For A4, A5 and letter paper.",
        rows={
            "title": title,
            "sortie": context.link("sortie", sortie),
            "short": context.short(sortie),
            "revision": str(proved.sortie.revision or ""),
            "elsewhere": (Link("Every card of this sortie", context.links.page(sortie_cards_uri(context, sortie))),),
            **rows,
        },
    )
