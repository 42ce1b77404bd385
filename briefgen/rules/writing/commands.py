"""Steps that say what to do, one thing at a time.

The rule numbers are those of ASD-STE100, Simplified Technical English, Issue 9 (15 January 2025).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.commands import IMPERATIVES, NO_COMMANDS, command_of, main_clause, second_instruction
from briefgen.language.sentences import Sentence, sentences
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.wording import sentences_in, steps_of


@rule(
    "two-instructions", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      open-up:
        title: Open up
        purpose: To see inside.
        place: lock
        steps: [{who: ev1, do: ▸Open the cover and take the driver out., takes: 3 min}]
    sorties: {s: {title: S, flow: {ev1: [open-up]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      open-up:
        title: Open up
        purpose: To see inside.
        place: lock
        steps:
          - {who: ev1, do: Open the cover., takes: 1 min}
          - {who: ev1, do: Hold the cover and take the driver out., takes: 2 min}
    sorties: {s: {title: S, flow: {ev1: [open-up]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def two_instructions(evidence: Evidence) -> Iterator[Trouble]:
    """A step gives one instruction, unless two things are done at the same time.

    The reader waits for “done” after each step; of two instructions in one, the second is the one forgotten, and nobody
    can say how far the step has got. ASD-STE100 Issue 9, rule 5.2. Two verbs with one object (“Cut and remove the
    wire.”), and one hand that holds while the other works, count as one, as in that rule's examples.
    """
    for step in steps_of(evidence):
        placed = list(sentences_in(evidence, step.do))
        for number, (sentence, spot) in enumerate(placed):
            second = second_instruction(sentence.words)
            if second:
                yield Trouble(
                    spot,
                    f"This step also says “{second} …”: make that a step of its own, so that each "
                    "can be called done (ASD-STE100 rule 5.2).",
                )
            elif number and sentence.first in IMPERATIVES and placed[0][0].first in IMPERATIVES:
                yield Trouble(
                    spot,
                    f"“{_opening(sentence)} …” is a second instruction: make it a step of its own "
                    "(ASD-STE100 rule 5.2).",
                )


@rule(
    "not-imperative", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: ▸The valve should be looked at., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: Look at the valve., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def not_imperative(evidence: Evidence) -> Iterator[Trouble]:
    """A step tells its reader what to do: it begins with a verb, or with the condition for it.

    “The valve should be looked at” may be a remark, a hope or somebody else's job. ASD-STE100 Issue 9, rule 5.3.
    """
    people = _people_words(evidence)
    for step in steps_of(evidence):
        first = next(iter(sentences(step.do)), None)
        if first and _is_statement(first.words, people):
            yield Trouble(
                step.do.position,
                f"“{_opening(first)} …” is no command: begin with what to do, like “Close the valve.” "
                "(ASD-STE100 rule 5.3); “who” already says by whom.",
            )


def _opening(sentence: Sentence) -> str:
    return " ".join(sentence.words.split()[:3]).rstrip(".,")


def _is_statement(sentence: str, people: frozenset[str]) -> bool:
    """Whether its main clause begins with what no command begins with, or says what should be instead of what to do."""
    clause = main_clause(sentence)
    first = re.search(r"[a-z][\w’'-]*", clause.lower())
    if first and first[0] in NO_COMMANDS | people:
        return True
    return not command_of(sentence) and _OBLIGATION.search(clause) is not None


_OBLIGATION = re.compile(r"\b(should|shall|must|needs? to|is to|are to|can|may|will)\s+(now\s+)?be\b", re.IGNORECASE)


def _people_words(evidence: Evidence) -> frozenset[str]:
    """The words by which people are called, in lower case."""
    people = evidence.library.people.values()
    return frozenset(str(word).lower() for person in people for word in (person.label, person.callsign) if word)
