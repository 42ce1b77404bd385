"""Only what changed: a short page for each person of a sortie, made from the comparison with the recorded revision."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from briefgen.pages.carrying.addresses import person_card_uri
from briefgen.pages.context import PageContext
from briefgen.pages.planning.revisions import change_row, changes_link, of_person, only_changed_uri
from briefgen.pages.planning.touched import question_change
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Link
from briefgen.pages.studying.practice import practice_uri, sheet_of
from briefgen.pages.studying.telling import scene_rows
from briefgen.pages.views.planning.changes import sum_words
from briefgen.practice.kinds import written
from briefgen.proof.evidence import SortieEvidence
from briefgen.revision.change import Change, Topic
from briefgen.revision.revision_letters import Letter


@dataclass(frozen=True)
class Marked:
    """Something to look at again, and how it is marked there."""

    link: Link
    badge: Badge


def pages(context: PageContext) -> Iterator[Page]:
    """A page for each person for whom a sortie differs."""
    if context.since is None:
        return
    for number, letter in enumerate(context.since.letters, start=1):
        proved = context.evidence.sorties[letter.sortie]
        for seat, person in enumerate(proved.plan.flows):
            changes = tuple(of_person(context.since, letter.sortie, person))
            if changes:
                yield _page(context, proved, letter, person, changes, (1, number, seat))


def _page(
    context: PageContext,
    proved: SortieEvidence,
    letter: Letter,
    person: str,
    changes: Sequence[Change],
    order: tuple[int, ...],
) -> Page:
    name, short = context.mark(person).name, context.short(letter.sortie)
    title = f"Only what changed: {name}, {short}"
    return Page(
        uri=only_changed_uri(context, letter.sortie, person),
        title=title,
        section="overview",
        template="planning/only_changed.html",
        icon="changes",
        order=order,
        listed=False,
        about=f"What differs for {name} in {short} since the revision before.",
        rows={
            "title": title,
            "sortie": context.link("sortie", letter.sortie),
            "mark": context.mark(person),
            "revision": f"Revision {letter.before or 'none'} to {letter.now or 'none'}",
            "sum": sum_words(changes),
            "first": tuple(change_row(context, one) for one in changes if one.safety),
            "steps": tuple(change_row(context, one) for one in changes if _of_steps(one) and not one.safety),
            "rest": tuple(change_row(context, one) for one in changes if not (_of_steps(one) or one.safety)),
            "scenes": tuple(_scenes(context, proved, person)),
            "questions": tuple(_questions(context, proved, person)),
            "made": tuple(_made(context, proved, person)),
            "card": Link(f"{name}'s card", context.links.page(person_card_uri(context, letter.sortie, person))),
            "all": changes_link(context, letter.sortie, person),
        },
    )


def _of_steps(change: Change) -> bool:
    return change.topic in (Topic.STEPS, Topic.ORDER)


def _scenes(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[Marked]:
    """The touched scenes that tell of what this person does."""
    sortie = str(proved.sortie.id)
    mine = {str(proved.plan.steps[index].task.id) for index in proved.plan.flows[person]}
    names = {context.link("task", task) for task in mine}
    for scene in scene_rows(context, proved):
        if scene.change and not names.isdisjoint(scene.tasks):
            target = context.links.page(context.links.record_uri("telling", sortie), scene.anchor)
            yield Marked(Link(f"Scene {scene.number}, {scene.title}", target), scene.change)


def _made(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[Marked]:
    """The questions of this person's practice that are made from the plan and differ from those before."""
    uri = practice_uri(context, "practice", proved, person)
    for row in sheet_of(context, proved, person).rows:
        if row.change and row.kind != written.KIND.name:
            yield Marked(Link(row.asks, context.links.page(uri, row.anchor)), row.change)


def _questions(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[Marked]:
    """The touched questions that check what this person is to be able to do, but for those about other sorties."""
    for identifier, question in context.library.questions.items():
        badge = question_change(context, identifier)
        outcome = context.library.outcomes.get(question.outcome)
        look = question.look
        elsewhere = look is not None and look.kind == "task" and str(look) not in proved.tasks
        if badge and not elsewhere and outcome and person in map(str, outcome.audience):
            target = context.links.target("question", identifier)
            yield Marked(Link(context.texts.plain(question.asks), target), badge)
