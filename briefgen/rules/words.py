"""Sentences that can be read once and done: writing advice after published rules.

The rule numbers are those of ASD-STE100, Simplified Technical English, Issue 9 (15 January 2025), and the action verbs
those of DOE-STD-1029-92, Writer's Guide for Technical Procedures, section 4.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.commands import IMPERATIVES, NO_COMMANDS, command_of, main_clause, second_instruction
from briefgen.language.sentences import Sentence, sentences
from briefgen.model.work import Step
from briefgen.proof.evidence import Evidence
from briefgen.proof.wording import sentences_in, spot_of, steps_of
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.source import Text

PROCEDURAL = 20  # ASD-STE100 rule 5.1
DESCRIPTIVE = 25  # ASD-STE100 rule 6.3
PARAGRAPH = 6  # ASD-STE100 rule 6.6


def _instructions(evidence: Evidence) -> Iterator[Text]:
    """What is written to be done or obeyed: steps and safety instructions (rule 5.1 holds for both)."""
    for step in steps_of(evidence):
        yield step.do
    for hazard in evidence.library.hazards.values():
        yield from (hazard.hazard, hazard.consequence, hazard.avoid)


def _descriptions(evidence: Evidence) -> Iterator[Text]:
    """What is written to be understood."""
    for step in steps_of(evidence):
        yield from (text for text in (step.why, step.note) if text)
    for task in evidence.library.tasks.values():
        yield task.purpose
    for _, record in evidence.library.every():
        if record.note:
            yield record.note


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
        (PROCEDURAL, "5.1", _instructions(evidence)),
        (DESCRIPTIVE, "6.3", _descriptions(evidence)),
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


def _opening(sentence: Sentence) -> str:
    return " ".join(sentence.words.split()[:3]).rstrip(".,")


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
    for text in _instructions(evidence):
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
    for text in _instructions(evidence):
        found = _CONTRACTION.search(text)
        if found:
            yield Trouble(
                spot_of(evidence, text, found[0]),
                f"“{found[0]}” is easily misheard: write the words in full (ASD-STE100 rule 4.2).",
            )


_CONTRACTION = re.compile(r"\b(?:\w+n['’]t|(?:it|that|there|he|she|what|who)['’]s|\w+['’](?:re|ve|ll)|I['’]m)\b", re.I)


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
    for text in _descriptions(evidence):
        for paragraph in re.split(r"\n\s*\n", text):
            many = len(sentences(paragraph))
            if many > PARAGRAPH:
                yield Trouble(
                    spot_of(evidence, text, " ".join(paragraph.split()[:2])),
                    f"This paragraph has {many} sentences: break it after {PARAGRAPH} at most (ASD-STE100 rule 6.6).",
                )


@rule(
    "check-that-changes", Level.ADVICE, Needs.RECORDS,
    wrong="""
    equipment: {valve: {name: Valve, place: k2, states: [open, closed], starts: open, ends: any}}
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps: [{who: ev1, do: ▸Check that the valve is closed., takes: 1 min, sets: {valve: closed}}]
    sorties: {s: {title: S, flow: {ev1: [shut]}, limits: {length: 1 h}}}
    """,
    right="""
    equipment: {valve: {name: Valve, place: k2, states: [open, closed], starts: open, ends: any}}
    tasks:
      shut:
        title: Shut it
        purpose: It must not leak.
        place: lock
        steps:
          - {id: turn, who: ev1, do: Close the valve., takes: 1 min, sets: {valve: closed}}
          - {who: ground, do: Check that no flow shows., takes: 1 min, verifies: {valve: closed}, after: [shut/turn]}
    sorties: {s: {title: S, flow: {ev1: [shut], ground: [shut]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def check_that_changes(evidence: Evidence) -> Iterator[Trouble]:
    """A step that begins with “Check” compares and changes nothing.

    If a check may also act, nobody knows afterwards who put the thing into its state. DOE-STD-1029-92, section 4: to
    check is to compare with a stated condition; where something may have to be moved for it, the verb is “verify”.
    """
    for step in steps_of(evidence):
        first = next(iter(sentences(step.do)), None)
        if first and first.first in ("check", "inspect", "observe") and step.sets:
            yield Trouble(
                step.do.position,
                f"“{first.first.capitalize()}” only looks, but this step sets {_names(evidence, step)}: say what is "
                "done, or use “verifies” (DOE-STD-1029-92, section 4).",
            )


def _names(evidence: Evidence, step: Step) -> str:
    equipment = evidence.library.equipment
    names = [equipment[name].label_text if name in equipment else str(name) for name in step.sets]
    return " and ".join(f"“{name}”" for name in names)
