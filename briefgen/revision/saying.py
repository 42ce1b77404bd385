"""Differences in words, for every way in which they are read: what to say of each, whom it concerns, what heads it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.sentences import plain
from briefgen.revision.change import Change, Detail, Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.revision.revision_letters import Letter

SAFETY_HEAD = "First: controls, hazards, tethers and limits"
NOTHING = "Nothing differs."
# Of a step that is new or gone, its own page says the rest, or nobody needs it any more.
_OF_WHOLE_STEPS = frozenset({"Place in the task", "Where", "Takes", "Steps"})


@dataclass(frozen=True)
class Paragraph:
    """Differences below a heading."""

    heading: str
    changes: tuple[Change, ...]


def parts(comparison: Comparison) -> Iterator[Paragraph]:
    """What touches safety, then the rest topic by topic."""
    safe = [change for change in comparison.changes if not change.safety]
    first = tuple(change for change in comparison.changes if change.safety)
    if first:
        yield Paragraph(SAFETY_HEAD, first)
    for topic in Topic:
        mine = tuple(change for change in safe if change.topic is topic)
        if mine:
            yield Paragraph(topic.value, mine)


def worth_saying(change: Change) -> tuple[Detail, ...]:
    """The details to say where space is short."""
    if change.topic is not Topic.STEPS or change.verb not in (Verb.NEW, Verb.GONE):
        return change.details
    return tuple(one for one in change.details if one.safety or one.what in _OF_WHOLE_STEPS)


def value(change: Change, detail: Detail) -> str:
    """`4 min → 6 min`; one value alone where there is nothing to compare.

    >>> from briefgen.revision.change import Subject
    >>> some = Change(Topic.STEPS, Verb.CHANGED, Subject("task", "open", "“Open it”", "1"))
    >>> value(some, Detail("Hazards", "", "Hot pipe")), value(some, Detail("Takes", "4 min", "6 min"))
    ('none → Hot pipe', '4 min → 6 min')
    """
    if detail.remark or change.verb in (Verb.NEW, Verb.GONE):
        return detail.after or detail.before
    return f"{detail.before or 'none'} → {detail.after or 'none'}"


def whom(comparison: Comparison, change: Change) -> str:
    """`EV1 and EV2`, or nothing."""
    telling = comparison.pair.was if change.verb is Verb.GONE else comparison.pair.now
    return telling.people(change.people)


def letter_words(comparison: Comparison, letter: Letter) -> str:
    """`Sortie 1: revision C → D, 12 differences`."""
    title = plain(comparison.pair.new.library.sorties[letter.sortie].label_text)
    moved = letter.before or "none", letter.now or "none"
    said = f"revision {moved[0]} → {moved[1]}" if moved[0] != moved[1] else f"revision {moved[1]}, as before"
    many = f"{letter.changes} difference{'' if letter.changes == 1 else 's'}" if letter.changes else "no difference"
    return f"{title}: {said}, {many}"


def stale_words(comparison: Comparison, letter: Letter) -> str:
    """What is wrong with a revision that stayed, and the way out."""
    title = plain(comparison.pair.new.library.sorties[letter.sortie].label_text)
    said = f"still says revision {letter.now}" if letter.now else "says no revision"
    ways = f"{letter.changes} way{'' if letter.changes == 1 else 's'}"
    return f"“{title}” {said}, and differs from the recorded one in {ways}. Write “{letter.write}”."
