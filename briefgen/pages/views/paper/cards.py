"""Cue cards for paper: a page that prints a whole sortie, and a page for each person's card."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import count
from briefgen.pages.carrying.addresses import person_card_uri, sortie_cards_uri
from briefgen.pages.carrying.arm import moves
from briefgen.pages.carrying.asides import carriers
from briefgen.pages.carrying.cards import card
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Group, Item, Link
from briefgen.pages.things.pockets import loose, pockets
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
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
            "groups": tuple(_group(context, proved) for proved in context.sorties),
        },
    )
    for number, proved in enumerate(context.sorties, start=1):
        yield _whole(context, proved, number)
        for place, person in enumerate(carriers(proved), start=1):
            yield _single(context, proved, person, (number, place))


def _group(context: PageContext, proved: SortieEvidence) -> Group:
    identifier = str(proved.sortie.id)
    whole = Item(
        Link("All cards", context.links.page(sortie_cards_uri(context, identifier))),
        "Every person's card, then a pocket list for each bag.",
        icon="print",
    )
    people = (_item(context, proved, person) for person in carriers(proved))
    return Group(context.label("sortie", identifier), f"_{identifier}", (*_sheets(context, proved), whole, *people))


def _sheets(context: PageContext, proved: SortieEvidence) -> Iterator[Item]:
    """The booklet, and the sheets that belong to nobody alone."""
    sortie = str(proved.sortie.id)
    yield _sheet(
        context, "booklet", sortie, "Booklet", "All of the sortie in one: maps, cards, the reader's card, bags."
    )
    yield _sheet(
        context, "reader", sortie, "Reader's card", "Everybody's steps in the order of time, to be read aloud."
    )
    if moves(context, proved):
        yield _sheet(
            context, "arm", sortie, "Arm sheet", "Each move of the arm: who rides, what must hold, what is said."
        )


def _sheet(context: PageContext, kind: str, sortie: str, name: str, note: str) -> Item:
    return Item(Link(name, context.links.target(kind, sortie)), note, icon="print")


def _item(context: PageContext, proved: SortieEvidence, person: str) -> Item:
    link = Link(
        f"{context.mark(person).name}'s card",
        context.links.page(person_card_uri(context, str(proved.sortie.id), person)),
    )
    steps = count(len(proved.plan.flows.get(person, ())), "step")
    return Item(link, icon="card", marks=(context.mark(person),), meta=(steps,))


def _whole(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    sortie = str(proved.sortie.id)
    return _page(
        context, proved, sortie_cards_uri(context, sortie), f"All cards: {context.short(sortie)}", (1, number, 0),
        carriers(proved), with_bags=True,
    )  # fmt: skip


def _single(context: PageContext, proved: SortieEvidence, person: str, order: tuple[int, int]) -> Page:
    sortie = str(proved.sortie.id)
    title = f"{context.mark(person).name}'s card: {context.short(sortie)}"
    return _page(
        context, proved, person_card_uri(context, sortie, person), title, (1, *order), (person,), with_bags=False
    )


def _page(
    context: PageContext, proved: SortieEvidence, uri: str, title: str, order: tuple[int, ...], people: tuple[str, ...],
    with_bags: bool,
) -> Page:  # fmt: skip
    sortie = str(proved.sortie.id)
    whole = Link("Every card of this sortie", context.links.page(sortie_cards_uri(context, sortie)))
    single = tuple(
        Link(f"{context.mark(name).name}'s card alone", context.links.page(person_card_uri(context, sortie, name)))
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
            "sortie": context.link("sortie", sortie),
            "short": context.short(sortie),
            "revision": str(proved.sortie.revision or ""),
            "elsewhere": single if with_bags else (whole,),
            "cards": tuple(card(context, proved, person) for person in people),
            "pockets": (*pockets(context, proved), *loose(context, proved)) if with_bags else (),
        },
    )
