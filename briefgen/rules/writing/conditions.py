"""Conditions that are read before the hand moves.

The rule number is that of ASD-STE100, Simplified Technical English, Issue 9 (15 January 2025).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.wording import sentences_in, steps_of


@rule(
    "condition-last", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: ▸Close the valve if frost shows on it., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: "If frost shows on the valve, close it.", takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def condition_last(evidence: Evidence) -> Iterator[Trouble]:
    """A condition stands ahead of its command.

    Whoever reads “Close the valve” has begun to close it by the time “if” is read. ASD-STE100 Issue 9, rule 5.4.
    """
    for step in steps_of(evidence):
        for sentence, spot in sentences_in(evidence, step.do):
            found = _CONDITION.match(sentence.words)
            if found:
                yield Trouble(
                    spot,
                    f"The condition (“{found[2]} …”) comes after the command: write it first, then a comma, then what "
                    "to do (ASD-STE100 rule 5.4).",
                )


# “Check if”, “say when” and the like ask for the answer; they set no condition.
_CONDITION = re.compile(
    r"^(?!if\b|when\b|unless\b|while\b|before\b|after\b)(.*\b(?!(?:confirm|check|see|say|tell|ask|report|note|know|read)\b)"
    r"\w+[,]?\s+)((?:if|when|unless)\s+\w+)",
    re.IGNORECASE,
)
