"""What changed since the recorded revision: what could hurt first, then each sortie person by person, then the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from briefgen.language.wording import capital, count, listing
from briefgen.pages.context import PageContext
from briefgen.pages.planning.revisions import PAGE, ChangeRow, change_row, of_person, only_changed_uri
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key, Link, MarkChip
from briefgen.revision.change import Change, Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.revision.revision_letters import Letter
from briefgen.revision.saying import stale_words, value
from briefgen.tables.table import Cell, Table, headed

_STEP_WORDS = {
    Verb.NEW: "new", Verb.GONE: "gone", Verb.CHANGED: "changed", Verb.MOVED: "moved", Verb.RENAMED: "renamed",
}  # fmt: skip


@dataclass(frozen=True)
class ForPerson:
    """What differs for one person in a sortie, and in how few words that can be said."""

    anchor: str
    mark: MarkChip
    sum: str
    rows: tuple[ChangeRow, ...]
    alone: Link


@dataclass(frozen=True)
class ForSortie:
    """What differs in a sortie: its revision, its finish and margin, and everybody's part."""

    anchor: str
    link: Link
    revision: str
    times: tuple[tuple[str, str], ...]
    people: tuple[ForPerson, ...]
    table: tuple[Table, ...]


@dataclass(frozen=True)
class Rest:
    """What concerns nobody's way through a sortie, by topic."""

    words: str
    anchor: str
    rows: tuple[ChangeRow, ...]


def pages(context: PageContext) -> Iterator[Page]:
    """The one page, where there is something to compare with."""
    since = context.since
    if since is None:
        return
    sorties = tuple(_sortie(context, since, letter) for letter in since.letters)
    yield Page(
        uri=PAGE,
        title="What changed",
        section="overview",
        template="planning/changes.html",
        icon="changes",
        order=(1,),
        about="What differs from the revision before, for everybody.",
        rows={
            "title": "What changed",
            "since": tuple(_since(context, letter) for letter in since.letters),
            "stale": tuple(stale_words(since, letter) for letter in since.letters if letter.stale),
            "keys": _keys(since),
            "first": tuple(change_row(context, change) for change in since.changes if change.safety),
            "sorties": sorties,
            "rest": tuple(_rest(context, since)),
        },
    )


def _since(context: PageContext, letter: Letter) -> Link:
    """`Sortie 1: revision C to D`."""
    said = f"revision {letter.before or 'none'} to {letter.now or 'none'}"
    if letter.before == letter.now:
        said = f"revision {letter.now or 'none'}, {'unchanged' if not letter.changes else 'changed all the same'}"
    return Link(f"{context.short(letter.sortie)}: {said}", context.links.page(PAGE, f"_{letter.sortie}"))


def _keys(since: Comparison) -> tuple[Key, ...]:
    steps = [change.verb for change in since.changes if _of_steps(change)]
    counts = ((_STEP_WORDS[verb], steps.count(verb)) for verb in Verb if verb in steps)
    return tuple(Key(capital(word), f"{many}", "step" if many == 1 else "steps") for word, many in counts)


def _of_steps(change: Change) -> bool:
    return change.topic is Topic.STEPS and bool(change.subject.part)


def _sortie(context: PageContext, since: Comparison, letter: Letter) -> ForSortie:
    proved = context.evidence.sorties[letter.sortie]
    mine = [
        one for one in since.changes if one.topic is Topic.TIMES and one.subject.reference == f"sortie:{letter.sortie}"
    ]
    times = tuple((detail.what, value(change, detail)) for change in mine for detail in change.details)
    people = tuple(_person(context, since, letter.sortie, person) for person in proved.plan.flows)
    revision = _since(context, letter).words.partition(": ")[2]
    return ForSortie(
        f"_{letter.sortie}", context.link("sortie", letter.sortie), capital(revision), times, people,
        tuple(_table(context, since, letter.sortie)),
    )  # fmt: skip


def _person(context: PageContext, since: Comparison, sortie: str, person: str) -> ForPerson:
    changes = tuple(of_person(since, sortie, person))
    rows = tuple(change_row(context, change) for change in changes)
    alone = Link("On a page of its own", context.links.page(only_changed_uri(context, sortie, person)))
    return ForPerson(f"_{sortie}-{person}", context.mark(person), sum_words(changes), rows, alone)


def sum_words(changes: Sequence[Change]) -> str:
    """`3 steps new, 1 moved, 2 other differences`."""
    if not changes:
        return "Nothing differs."
    steps = [change.verb for change in changes if _of_steps(change)]
    said = [f"{steps.count(verb)} {_STEP_WORDS[verb]}" for verb in Verb if verb in steps]
    if said:
        number, word = said[0].split(" ", 1)
        said[0] = f"{count(int(number), 'step')} {word}"
    others = sum(not _of_steps(change) and change.topic is not Topic.TIMES for change in changes)
    said += [f"{count(others, 'other difference')}"] if others else []
    said += ["other times"] if any(change.topic is Topic.TIMES for change in changes) else []
    return f"{capital(listing(said))}."


def _table(context: PageContext, since: Comparison, sortie: str) -> Iterator[Table]:
    """The planned times of tasks, before and now."""
    rows = since.task_times.get(sortie, ())
    if rows:
        head = headed("Task", "Begins", "Now", "Ends", "Now", figures={1, 2, 3, 4})
        yield Table(
            f"{sortie}-times", "Planned times of tasks that moved", head, tuple(_times(context, row) for row in rows)
        )


def _times(context: PageContext, change: Change) -> tuple[Cell, ...]:
    link = context.link("task", change.subject.id)
    found = {detail.what: (detail.before, detail.after) for detail in change.details}
    cells = [*found.get("Begins", ("as before", "")), *found.get("Ends", ("as before", ""))]
    return Cell(link.words, link.target), *(Cell(words) for words in cells)


def _rest(context: PageContext, since: Comparison) -> Iterator[Rest]:
    """Differences that stand in no list above."""
    shown = {
        change
        for letter in since.letters
        for person in context.evidence.sorties[letter.sortie].plan.flows
        for change in of_person(since, letter.sortie, person)
    }
    left = [one for one in since.changes if not (one in shown or one.safety or one.topic is Topic.TIMES)]
    for topic in Topic:
        rows = tuple(change_row(context, change) for change in left if change.topic is topic)
        if rows:
            yield Rest(topic.value, f"_{topic.name.lower()}", rows)
