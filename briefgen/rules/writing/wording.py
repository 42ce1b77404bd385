"""Where a sentence of an author's text stands in the file."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.sentences import Sentence, sentences
from briefgen.model.work import Step
from briefgen.proof.evidence import Evidence
from briefgen.source import NOWHERE, Position, Text

# A folded text is seldom narrower than this, so its lines end no later than its length over this.
_NARROWEST = 20


def sentences_in(evidence: Evidence, text: Text | None) -> Iterator[tuple[Sentence, Position]]:
    """Each sentence of a text with its place; with the text's own place where the words can't be found."""
    if text is None:
        return
    spot = text.position
    for sentence in sentences(text):
        spot = spot_of(evidence, text, sentence.opening, spot)
        yield sentence, spot


def spot_of(evidence: Evidence, text: Text, words: str, start: Position | None = None) -> Position:
    """The place of some words of a text, from `start` on; `start` where they can't be found in its lines."""
    begin = start or text.position
    found = evidence.place_of_words(words, begin)
    last_line = text.position.line + 1 + len(text) // _NARROWEST
    return found if found.line <= last_line else begin


def steps_of(evidence: Evidence) -> Iterator[Step]:
    """Every step of every task, in the order written; what is planned many times, but written once, comes once."""
    seen: set[object] = set()
    for step in (step for task in evidence.library.tasks.values() for step in task.every_step):
        place = id(step.do) if step.do.position == NOWHERE else step.do.position
        if place not in seen:
            seen.add(place)
            yield step
