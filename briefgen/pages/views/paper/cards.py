"""Cue cards for paper: a page that prints a whole sortie, and a page for each person's card."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import count
from briefgen.pages.carrying.addresses import person_card_uri, sortie_cards_uri
from briefgen.pages.carrying.arm import moves
from briefgen.pages.carrying.asides import carriers
from briefgen.pages.carrying.cards import card
from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Group, Item, Link
from briefgen.pages.things.pockets import loose, pockets
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """The list, and for each sortie all cards together and each on its own."""
    yield Page(
        uri="cards/index",
        title="Cue cards",
        section="cards",
        template="index.html",
        icon="card",
        order=(0,),
        rows={
            "title": "Cue cards",
            "icon": "card",
            "lead": "For paper, on A4, A5 or letter: each person's own steps, the reader's card, the arm, the bags.",
            "groups": tuple(_group(desk, case) for case in desk.cases),
        },
    )
    for number, case in enumerate(desk.cases, start=1):
        yield _whole(desk, case, number)
        for place, person in enumerate(carriers(case), start=1):
            yield _single(desk, case, person, (number, place))


def _group(desk: Desk, case: SortieEvidence) -> Group:
    identifier = str(case.sortie.id)
    whole = Item(
        Link("All cards", desk.links.page(sortie_cards_uri(desk, identifier))),
        "Every person's card, then a pocket list for each bag.",
        icon="print",
    )
    people = (_item(desk, case, person) for person in carriers(case))
    return Group(desk.label("sortie", identifier), f"_{identifier}", (*_sheets(desk, case), whole, *people))


def _sheets(desk: Desk, case: SortieEvidence) -> Iterator[Item]:
    """The booklet, and the sheets that belong to nobody alone."""
    sortie = str(case.sortie.id)
    yield _sheet(desk, "booklet", sortie, "Booklet", "All of the sortie in one: maps, cards, the reader's card, bags.")
    yield _sheet(desk, "reader", sortie, "Reader's card", "Everybody's steps in the order of time, to be read aloud.")
    if moves(desk, case):
        yield _sheet(desk, "arm", sortie, "Arm sheet", "Each move of the arm: who rides, what must hold, what is said.")


def _sheet(desk: Desk, kind: str, sortie: str, name: str, note: str) -> Item:
    return Item(Link(name, desk.links.target(kind, sortie)), note, icon="print")


def _item(desk: Desk, case: SortieEvidence, person: str) -> Item:
    link = Link(f"{desk.mark(person).name}'s card", desk.links.page(person_card_uri(desk, str(case.sortie.id), person)))
    steps = count(len(case.plan.flows.get(person, ())), "step")
    return Item(link, icon="card", marks=(desk.mark(person),), meta=(steps,))


def _whole(desk: Desk, case: SortieEvidence, number: int) -> Page:
    sortie = str(case.sortie.id)
    return _page(
        desk, case, sortie_cards_uri(desk, sortie), f"All cards: {desk.short(sortie)}", (1, number, 0),
        carriers(case), with_bags=True,
    )  # fmt: skip


def _single(desk: Desk, case: SortieEvidence, person: str, order: tuple[int, int]) -> Page:
    sortie = str(case.sortie.id)
    title = f"{desk.mark(person).name}'s card: {desk.short(sortie)}"
    return _page(desk, case, person_card_uri(desk, sortie, person), title, (1, *order), (person,), with_bags=False)


def _page(
    desk: Desk, case: SortieEvidence, uri: str, title: str, order: tuple[int, ...], people: tuple[str, ...],
    with_bags: bool,
) -> Page:  # fmt: skip
    sortie = str(case.sortie.id)
    whole = Link("Every card of this sortie", desk.links.page(sortie_cards_uri(desk, sortie)))
    single = tuple(
        Link(f"{desk.mark(name).name}'s card alone", desk.links.page(person_card_uri(desk, sortie, name)))
        for name in people
    )
    return Page(
        uri=uri,
        title=title,
        section="cards",
        template="paper/cards.html",
        icon="card",
        order=order,
        about=f"{title}. For A4, A5 and letter paper.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", sortie),
            "short": desk.short(sortie),
            "revision": str(case.sortie.revision or ""),
            "elsewhere": single if with_bags else (whole,),
            "cards": tuple(card(desk, case, person) for person in people),
            "pockets": (*pockets(desk, case), *loose(desk, case)) if with_bags else (),
        },
    )
