"""What changed between two versions, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from briefgen.revision.change import Change
from briefgen.revision.comparison import Comparison
from briefgen.revision.saying import NOTHING, letter_words, parts, stale_words, value, whom, worth_saying

_VERB = 9


def changes_text(comparison: Comparison, width: int) -> str:
    """Every difference, what touches safety first; wrapped to `width` columns."""
    if not comparison.changes:
        return f"{NOTHING}\n"
    lines = [fill(letter_words(comparison, letter), width) for letter in comparison.letters]
    lines += [fill(stale_words(comparison, letter), width) for letter in comparison.letters if letter.stale]
    for part in parts(comparison):
        lines += ["", part.heading]
        for change in part.changes:
            lines += _change(comparison, change, width)
    return "\n".join(lines) + "\n"


def _change(comparison: Comparison, change: Change, width: int) -> Iterator[str]:
    people = whom(comparison, change)
    head = f"{change.subject.words} ({', '.join(filter(None, [people, change.subject.reference]))})"
    yield _wrapped(f"  {change.verb.value:<{_VERB}}", head, width)
    for detail in worth_saying(change):
        yield _wrapped(" " * (_VERB + 4), f"{detail.what}: {value(change, detail)}", width)


def _wrapped(head: str, words: str, width: int) -> str:
    below = " " * (len(head) + 2)
    return fill(words, width, initial_indent=head, subsequent_indent=below, break_on_hyphens=False)
