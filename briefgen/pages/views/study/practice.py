"""Practice: a page for each person of each sortie, the printable test with its key, and the list of both."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from briefgen.language.wording import count
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Group, Item, Link
from briefgen.pages.studying.practice import paper_of, practice_uri, sheet_of
from briefgen.practice.boxes import DAYS
from briefgen.proof.evidence import SortieEvidence


def pages(context: PageContext) -> Iterator[Page]:
    """The list, then for each sortie everybody's practice."""
    if not context.sorties:
        return
    yield Page(
        uri="practice/index",
        title="Practice",
        section="learning",
        template="index.html",
        icon="question",
        order=(3,),
        rows={
            "title": "Practice",
            "icon": "question",
            "lead": "Questions made from the plan, and the briefing's own. What you miss comes again.",
            "groups": tuple(_group(context, proved) for proved in context.sorties),
        },
    )
    for number, proved in enumerate(context.sorties, start=1):
        for place, person in enumerate(proved.plan.flows, start=1):
            yield _practice(context, proved, person, (3, number, place))
            yield _paper(context, proved, person, (4, number, place))


def _group(context: PageContext, proved: SortieEvidence) -> Group:
    identifier = str(proved.sortie.id)
    people = tuple(_item(context, proved, person) for person in proved.plan.flows)
    return Group(context.label("sortie", identifier), f"_{identifier}", people)


def _item(context: PageContext, proved: SortieEvidence, person: str) -> Item:
    rows = sheet_of(context, proved, person).rows
    link = Link(
        f"{context.mark(person).name}'s practice", context.links.page(practice_uri(context, "practice", proved, person))
    )
    return Item(link, icon="question", marks=(context.mark(person),), meta=(count(len(rows), "question"),))


def _practice(context: PageContext, proved: SortieEvidence, person: str, order: tuple[int, ...]) -> Page:
    programme, name = context.library.programme, context.mark(person).name
    title = f"{name}'s practice: {context.short(str(proved.sortie.id))}"
    made = sheet_of(context, proved, person)
    mark = programme.pass_mark if programme else None
    return Page(
        uri=practice_uri(context, "practice", proved, person),
        title=title,
        section="learning",
        template="study/practice.html",
        icon="question",
        order=order,
        about=f"{title}. Questions made from the plan.",
        listed=False,
        rows={
            "title": title,
            "sortie": context.link("sortie", str(proved.sortie.id)),
            "sortie_id": str(proved.sortie.id),
            "person": person,
            "name": name,
            "programme": str(programme.id) if programme else "",
            "programme_title": context.texts.plain(str(programme.title)) if programme else "",
            "pass_mark": mark.written if mark is not None else "",
            "mark": float(mark) if mark is not None else "",
            "sheet": made,
            "days": DAYS,
            "paper": Link("The test on paper", context.links.page(practice_uri(context, "test", proved, person))),
        },
    )


def _paper(context: PageContext, proved: SortieEvidence, person: str, order: tuple[int, ...]) -> Page:
    programme, name = context.library.programme, context.mark(person).name
    title = f"Test for {name}: {context.short(str(proved.sortie.id))}"
    mark = programme.pass_mark if programme else None
    rows = paper_of(context, proved, person)
    return Page(
        uri=practice_uri(context, "test", proved, person),
        title=title,
        section="learning",
        template="study/test.html",
        icon="print",
        order=order,
        about=f"{title}. For paper, the key on a sheet of its own.",
        listed=False,
        rows={
            "title": title,
            "sortie": context.link("sortie", str(proved.sortie.id)),
            "revision": str(proved.sortie.revision or ""),
            "pass_mark": mark.written if mark is not None else "",
            "needed": needed(float(mark), len(rows)) if mark is not None else 0,
            "rows": rows,
        },
    )


def needed(mark: float, questions: int) -> int:
    """How many answers must be right.

    >>> needed(0.8, 20), needed(0.8, 21)
    (16, 17)
    """
    return ceil(mark * questions - 1e-9)
