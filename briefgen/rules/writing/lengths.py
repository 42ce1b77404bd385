"""Sentences and paragraphs that can be kept in mind.

The rule numbers are those of ASD-STE100, Simplified Technical English, Issue 9 (15 January 2025).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.sentences import sentences
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.prose import descriptions, instructions
from briefgen.rules.writing.wording import sentences_in, spot_of

PROCEDURAL = 20  # ASD-STE100 rule 5.1
DESCRIPTIVE = 25  # ASD-STE100 rule 6.3
PARAGRAPH = 6  # ASD-STE100 rule 6.6


@rule(
    "long-sentence", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - who: ev1
            do: >
              ▸Look along the whole length of the rail from its near end to its far end
              and at each of its seven feet for any crack.
            takes: 2 min
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - {who: ev1, do: Look along the whole rail for cracks., takes: 1 min}
          - {who: ev1, do: Look at each of its seven feet for cracks., takes: 1 min}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def long_sentence(evidence: Evidence) -> Iterator[Trouble]:
    """A sentence that tells what to do has at most 20 words, one that explains at most 25.

    Somebody who reads with a glove on the page, or listens on a noisy loop, keeps about one breath in mind. Limits and
    counting: ASD-STE100 Issue 9, rules 5.1 (procedures and safety instructions), 6.3 (descriptions) and 8.4 to 8.7 (a
    number with its unit, a hyphenated word, a quotation and a parenthesis are one word each).
    """
    for limit, number, texts in (
        (PROCEDURAL, "5.1", instructions(evidence)),
        (DESCRIPTIVE, "6.3", descriptions(evidence)),
    ):
        for text in texts:
            for sentence, spot in sentences_in(evidence, text):
                if sentence.length > limit:
                    yield Trouble(
                        spot,
                        f"This sentence has {sentence.length} words; {limit} can be kept in mind "
                        f"(ASD-STE100 rule {number}). Write two sentences, or two steps.",
                    )


@rule(
    "long-paragraph", Level.ADVICE, Needs.RECORDS,
    wrong="""
    places:
      k1:
        name: K1
        anchor: true
        note: ▸It is here. It is round. It is cold. It is dark. It is small. It is far. It is quiet.
    """,
    right="""
    places:
      k1: {name: K1, anchor: true, note: It is a small cold dark place. It is far away.}
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def long_paragraph(evidence: Evidence) -> Iterator[Trouble]:
    """A paragraph has at most six sentences.

    Nobody reads a grey block on the morning of a sortie. ASD-STE100 Issue 9, rule 6.6.
    """
    for text in descriptions(evidence):
        for paragraph in re.split(r"\n\s*\n", text):
            many = len(sentences(paragraph))
            if many > PARAGRAPH:
                yield Trouble(
                    spot_of(evidence, text, " ".join(paragraph.split()[:2])),
                    f"This paragraph has {many} sentences: break it after {PARAGRAPH} at most (ASD-STE100 rule 6.6).",
                )
