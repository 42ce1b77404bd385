"""Practice: a page for each person of each sortie, the printable test with its key, and the list of both."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from briefgen.language.wording import count
from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Group, Item, Link
from briefgen.pages.studying.practice import paper_of, practice_uri, sheet_of
from briefgen.practice.boxes import DAYS
from briefgen.proof.evidence import SortieEvidence


def pages(desk: Desk) -> Iterator[Page]:
    """The list, then for each sortie everybody's practice."""
    if not desk.cases:
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
            "groups": tuple(_group(desk, case) for case in desk.cases),
        },
    )
    for number, case in enumerate(desk.cases, start=1):
        for place, person in enumerate(case.plan.flows, start=1):
            yield _practice(desk, case, person, (3, number, place))
            yield _paper(desk, case, person, (4, number, place))


def _group(desk: Desk, case: SortieEvidence) -> Group:
    identifier = str(case.sortie.id)
    people = tuple(_item(desk, case, person) for person in case.plan.flows)
    return Group(desk.label("sortie", identifier), f"_{identifier}", people)


def _item(desk: Desk, case: SortieEvidence, person: str) -> Item:
    rows = sheet_of(desk, case, person).rows
    link = Link(f"{desk.mark(person).name}'s practice", desk.links.page(practice_uri(desk, "practice", case, person)))
    return Item(link, icon="question", marks=(desk.mark(person),), meta=(count(len(rows), "question"),))


def _practice(desk: Desk, case: SortieEvidence, person: str, order: tuple[int, ...]) -> Page:
    programme, name = desk.library.programme, desk.mark(person).name
    title = f"{name}'s practice: {desk.short(str(case.sortie.id))}"
    made = sheet_of(desk, case, person)
    mark = programme.pass_mark if programme else None
    return Page(
        uri=practice_uri(desk, "practice", case, person),
        title=title,
        section="learning",
        template="study/practice.html",
        icon="question",
        order=order,
        about=f"{title}. Questions made from the plan.",
        listed=False,
        rows={
            "title": title,
            "sortie": desk.link("sortie", str(case.sortie.id)),
            "sortie_id": str(case.sortie.id),
            "person": person,
            "name": name,
            "programme": str(programme.id) if programme else "",
            "programme_title": desk.texts.plain(str(programme.title)) if programme else "",
            "pass_mark": mark.written if mark is not None else "",
            "mark": float(mark) if mark is not None else "",
            "sheet": made,
            "days": DAYS,
            "paper": Link("The test on paper", desk.links.page(practice_uri(desk, "test", case, person))),
        },
    )


def _paper(desk: Desk, case: SortieEvidence, person: str, order: tuple[int, ...]) -> Page:
    programme, name = desk.library.programme, desk.mark(person).name
    title = f"Test for {name}: {desk.short(str(case.sortie.id))}"
    mark = programme.pass_mark if programme else None
    rows = paper_of(desk, case, person)
    return Page(
        uri=practice_uri(desk, "test", case, person),
        title=title,
        section="learning",
        template="study/test.html",
        icon="print",
        order=order,
        about=f"{title}. For paper, the key on a sheet of its own.",
        listed=False,
        rows={
            "title": title,
            "sortie": desk.link("sortie", str(case.sortie.id)),
            "revision": str(case.sortie.revision or ""),
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
