"""Signs that can't be heard when a step is read out.

The rule numbers are those of ASD-STE100, Simplified Technical English, Issue 9 (15 January 2025).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.prose import instructions
from briefgen.rules.writing.wording import spot_of


@rule(
    "semicolon", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: Close the valve▸; its pointer shows when it is shut., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: Close the valve., why: Its pointer shows when it is shut., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def semicolon(evidence: Evidence) -> Iterator[Trouble]:
    """Instructions use full stops, not semicolons.

    A semicolon hides a second sentence, and can't be heard when the step is read out. ASD-STE100 Issue 9, rule 8.1.
    """
    for text in instructions(evidence):
        if ";" in text:
            sentence = "A semicolon joins two sentences: write two (ASD-STE100 rule 8.1)."
            yield Trouble(spot_of(evidence, text, ";"), sentence)


@rule(
    "contraction", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: "▸Don't touch the plug.", takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: Do not touch the plug., takes: 1 min}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def contraction(evidence: Evidence) -> Iterator[Trouble]:
    """Instructions write “do not”, never “don't”.

    On a poor loop “can't” and “can” sound alike, and many readers have another mother tongue. ASD-STE100 Issue 9, rule
    4.2.
    """
    for text in instructions(evidence):
        found = _CONTRACTION.search(text)
        if found:
            yield Trouble(
                spot_of(evidence, text, found[0]),
                f"“{found[0]}” is easily misheard: write the words in full (ASD-STE100 rule 4.2).",
            )


_CONTRACTION = re.compile(r"\b(?:\w+n['’]t|(?:it|that|there|he|she|what|who)['’]s|\w+['’](?:re|ve|ll)|I['’]m)\b", re.I)
