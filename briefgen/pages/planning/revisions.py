"""What changed since an earlier revision, as rows: a mark on a step, lines of differences, what is no longer done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from briefgen.language.wording import capital
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Badge, Link, MarkChip
from briefgen.revision.change import Change, Detail, Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.revision.differences.facets import IN_CASE
from briefgen.revision.saying import worth_saying

PAGE = "changes"
_TIME = Badge("Time", "change", "time")


@dataclass(frozen=True)
class Was:
    """One value before and now; one of the two may be empty. A `remark` compares nothing."""

    what: str
    before: str
    now: str
    remark: bool


@dataclass(frozen=True)
class ChangeRow:
    """A difference: what became of what, whom it concerns, and each value."""

    badge: Badge
    link: Link
    marks: tuple[MarkChip, ...]
    safety: bool
    lines: tuple[Was, ...]


@dataclass(frozen=True)
class StepMark:
    """What a step's own page says of it: `badge` for its head, and what was otherwise before."""

    badge: Badge
    lines: tuple[Was, ...]


def step_mark(context: PageContext, task: str, step: str) -> StepMark | None:
    """The mark on a step, or nothing where it is as it was. That it comes later or earlier is no mark of its own."""
    changes = [] if context.since is None else [one for one in context.since.of_step(task, step) if _marks(one)]
    if not changes or context.since is None:
        return None
    verb = changes[0].verb if len({one.verb for one in changes}) == 1 else Verb.CHANGED
    verb = Verb.NEW if any(one.verb is Verb.NEW and one.topic is Topic.STEPS for one in changes) else verb
    # The cases of a step stand whole on its page.
    told = [(change, one) for change in changes for one in change.details if one.what != IN_CASE]
    lines = () if verb is Verb.NEW else tuple(was(change, one) for change, one in told)
    sorties = dict.fromkeys(name for change in changes for name in change.sorties)
    return StepMark(_badge(verb, _letter(context.since, sorties)), lines)


def _marks(change: Change) -> bool:
    return change.topic is not Topic.TIMES and change.verb is not Verb.GONE


def _letter(since: Comparison, sorties: Iterable[str]) -> str:
    """The revision that brought it, where there is one letter for it."""
    now = {one.now for one in since.letters if one.sortie in sorties and one.now != one.before}
    return now.pop() if len(now) == 1 else ""


def _badge(verb: Verb, letter: str = "") -> Badge:
    return Badge(capital(f"{verb.value} in {letter}" if letter else verb.value), "change", verb.value)


def was(change: Change, detail: Detail) -> Was:
    """A detail ready to print; of what is new or gone, nothing is compared."""
    if detail.remark or change.verb in (Verb.NEW, Verb.GONE):
        return Was(detail.what, "", detail.after or detail.before, True)
    return Was(detail.what, _quoted(detail.before), _quoted(detail.after), False)


def _quoted(words: str) -> str:
    """A whole sentence between quotation marks, so that one sees where it ends."""
    return f"“{words}”" if words.endswith((".", "!", "?")) else words


def gone_from(context: PageContext, task: str) -> tuple[ChangeRow, ...]:
    """The steps that a task no longer has, each with all that it said."""
    changes = () if context.since is None else context.since.changes
    return tuple(
        change_row(context, change, whole=True)
        for change in changes
        if change.topic is Topic.STEPS
        and change.verb is Verb.GONE
        and change.subject.part
        and change.subject.id == task
    )


def change_row(context: PageContext, change: Change, whole: bool = False) -> ChangeRow:
    """A difference; `whole` says all of it, else what is worth saying in a list."""
    people = tuple(person for person in change.people if person in context.library.people)
    details = change.details if whole else worth_saying(change)
    link = Link(capital(change.subject.words), "" if whole else _target(context, change))
    badge = _TIME if change.topic is Topic.TIMES else _badge(change.verb)
    return ChangeRow(badge, link, context.marks(people), change.safety, tuple(was(change, one) for one in details))


def _target(context: PageContext, change: Change) -> str:
    """Where the difference is seen: for a step that is gone, where its task says so."""
    subject = change.subject
    if change.verb is Verb.GONE and change.topic is Topic.STEPS and subject.part:
        known = subject.id in context.library.tasks
        return context.links.page(context.links.record_uri("task", subject.id), "_gone") if known else ""
    there = context.links.leads_somewhere(subject.kind, subject.id, subject.part)
    return context.links.target(subject.kind, subject.id, subject.part) if there else ""


def changes_link(context: PageContext, sortie: str, person: str = "") -> Link | None:
    """Where all that changed in a sortie is listed, for one person or for all; nothing where nothing is compared."""
    if context.since is None or sortie not in {one.sortie for one in context.since.letters}:
        return None
    letter = next(one for one in context.since.letters if one.sortie == sortie)
    since = f" since revision {letter.before}" if letter.before else ""
    theirs = person and any(True for _ in of_person(context.since, sortie, person))
    anchor = f"_{sortie}-{person}" if theirs else f"_{sortie}"
    return Link(f"What changed{since}", context.links.page(PAGE, anchor))


def only_changed_uri(context: PageContext, sortie: str, person: str) -> str:
    """The page of what changed for one person in a sortie; below the sortie's, so that no two ids run together."""
    return f"{context.links.record_uri('changed', sortie)}/{'index-' if person == 'index' else person}"


def of_person(since: Comparison, sortie: str, person: str) -> Iterator[Change]:
    """What concerns one person in a sortie; the sortie's own finish and margin are everybody's."""
    for change in since.changes:
        everybodys = change.subject.kind == "sortie"
        if not everybodys and person in change.people and sortie in change.sorties:
            yield change
