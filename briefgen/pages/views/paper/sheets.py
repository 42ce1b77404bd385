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
from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Link
from briefgen.pages.things.pockets import loose, pockets
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """For each sortie the booklet and the reader's card, and the arm sheet where somebody is driven."""
    for number, case in enumerate(desk.cases, start=1):
        yield _booklet(desk, case, number)
        yield _page(desk, case, "reader", "Reader's card", (1, number, -2), {"pieces": reader_pieces(desk, case)})
        if moves(desk, case):
            yield _page(desk, case, "arm", "Arm sheet", (1, number, -1), {"moves": moves(desk, case)})


def _booklet(desk: Desk, case: SortieEvidence, number: int) -> Page:
    rows = {
        "name": desk.label("sortie", str(case.sortie.id)),
        "purpose": str(case.sortie.purpose or ""),
        "lines": (*sums(case), *nights(case)),
        "contents": contents(desk, case),
        "charts": (desk.plots.draw("map"),),
        "drawings": drawings(desk),
        "cards": tuple(card(desk, case, person) for person in carriers(case)),
        "pieces": reader_pieces(desk, case),
        "moves": moves(desk, case),
        "pockets": (*pockets(desk, case), *loose(desk, case)),
    }
    return _page(desk, case, "booklet", "Booklet", (1, number, -3), rows)


def _page(
    desk: Desk, case: SortieEvidence, kind: str, name: str, order: tuple[int, ...], rows: dict[str, Any]
) -> Page:  # fmt: skip
    sortie = str(case.sortie.id)
    title = f"{name}: {desk.short(sortie)}"
    return Page(
        uri=desk.links.record_uri(kind, sortie),
        title=title,
        section="cards",
        template=f"{kind}.html",
        icon="card",
        order=order,
        about=f"{title}. For A4, A5 and letter paper.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", sortie),
            "short": desk.short(sortie),
            "revision": str(case.sortie.revision or ""),
            "elsewhere": (Link("Every card of this sortie", desk.links.page(sortie_cards_uri(desk, sortie))),),
            **rows,
        },
    )
