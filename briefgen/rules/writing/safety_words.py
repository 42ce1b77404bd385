"""Hazard statements that are whole, of the right weight, and read before the step they belong to.

Signal words: ANSI Z535.6, safety information in product manuals. That a safety message names the hazard, its
consequence and how to avoid it is the same standard's, and that a warning stands ahead of its step DOE-STD-1029-92's;
both are cited from memory. Form: ASD-STE100 Issue 9, section 7.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.language.commands import NO_COMMANDS
from briefgen.language.sentences import count_words, plain, sentences
from briefgen.model.figures import Hazard
from briefgen.model.work import Step, Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.wording import spot_of, steps_of

_UNFINISHED = re.compile(r"\b(tbd|tbc|todo|xxx)\b|\?\?|^\W*$", re.IGNORECASE)
_HURT = re.compile(
    r"\b(injur\w*|hurts?|wounds?|deaths?|dies?|dead|kill\w*|fatal\w*|burns?"
    r"|cuts? (?:a |the |your )?(?:hand|skin|finger)|crush\w*|blind\w*|choke\w*"
    r"|suffocat\w*|bleed\w*|frostbite|electrocut\w*|shock to)\b",
    re.IGNORECASE,
)
_SIGNAL = re.compile(r"\b(danger|warning|caution|attention|beware)\s*[:!—-]|\bbe careful\b", re.IGNORECASE)


@rule(
    "hazard-unfinished", Level.ADVICE, Needs.RECORDS,
    wrong="""
    hazards:
      edge: {signal: caution, hazard: The lip is sharp., consequence: ▸TBD., avoid: Keep your hands behind the lip.}
    """,
    right="""
    hazards:
      edge: {signal: caution, hazard: The lip is sharp., consequence: It can cut a glove., avoid: Keep behind the lip.}
    """,
)  # fmt: skip
def hazard_unfinished(evidence: Evidence) -> Iterator[Trouble]:
    """A hazard statement says three different things: what can hurt, what it would do, and how to stay clear of it.

    Whoever reads only “Sharp edge” neither knows how bad it is nor what to do about it. ANSI Z535.6: a safety message
    gives the hazard, its consequence and how to avoid it; ASD-STE100 Issue 9, rule 7.3: explain the possible result.
    """
    for hazard in evidence.library.hazards.values():
        seen: dict[str, str] = {}
        for key, text in (("hazard", hazard.hazard), ("consequence", hazard.consequence), ("avoid", hazard.avoid)):
            words = plain(text).strip().rstrip(".").lower()
            if _UNFINISHED.search(text) or count_words(words) < 2:
                yield Trouble(
                    text.position,
                    f"“{key}” of the hazard “{hazard.label_text}” says too little: {_ASKED[key]} (ANSI Z535.6).",
                )
            elif words in seen:
                yield Trouble(
                    text.position,
                    f"“{key}” of the hazard “{hazard.label_text}” only repeats “{seen[words]}”: {_ASKED[key]} "
                    "(ANSI Z535.6).",
                )
            seen.setdefault(words, key)


_ASKED = {
    "hazard": "write what can hurt, in a sentence",
    "consequence": "write what it would do to somebody or something",
    "avoid": "write what to do to stay clear of it",
}


@rule(
    "avoidance-no-command", Level.ADVICE, Needs.RECORDS,
    wrong="""
    hazards:
      edge: {signal: caution, hazard: It is sharp., consequence: It cuts deep., avoid: ▸The lip may not be touched.}
    """,
    right="""
    hazards:
      edge: {signal: caution, hazard: The lip is sharp., consequence: It cuts deep., avoid: Do not touch the lip.}
    """,
)  # fmt: skip
def avoidance_no_command(evidence: Evidence) -> Iterator[Trouble]:
    """How to avoid a hazard is a command, or a condition and a command.

    In the moment of danger people follow an order faster than they draw a conclusion. ASD-STE100 Issue 9, rule 7.2.
    """
    for hazard in evidence.library.hazards.values():
        first = next(iter(sentences(hazard.avoid)), None)
        if first and first.first in NO_COMMANDS:
            yield Trouble(
                hazard.avoid.position,
                f"“{' '.join(first.words.split()[:3])} …” is no command: begin with what to do, like “Keep …” or "
                "“Do not …” (ASD-STE100 rule 7.2).",
            )


@rule(
    "notice-that-hurts", Level.ADVICE, Needs.RECORDS,
    wrong="""
    hazards:
      pipe: {signal: ▸notice, hazard: The pipe is hot., consequence: It burns the hand., avoid: Keep to the upper rail.}
    """,
    right="""
    hazards:
      pipe: {signal: warning, hazard: The pipe is hot., consequence: It burns the hand., avoid: Keep to the upper rail.}
    """,
)  # fmt: skip
def notice_that_hurts(evidence: Evidence) -> Iterator[Trouble]:
    """What can injure somebody is no “notice”.

    The signal word tells how carefully to read on. ANSI Z535.6: danger will, warning could lead to death or serious
    injury, caution to minor or moderate injury; notice has nothing to do with injury.
    """
    for hazard in evidence.library.hazards.values():
        found = _HURT.search(f"{hazard.hazard} {hazard.consequence}")
        if hazard.signal == "notice" and found:
            yield Trouble(
                evidence.place_of_words("notice", hazard.spot("signal")),
                f"“notice” is for what can't injure anybody, but the hazard “{hazard.label_text}” says “{found[0]}”: "
                "write “caution”, “warning” or “danger” (ANSI Z535.6).",
                write="signal: warning",
            )


@rule(
    "hazard-in-words", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look behind the plate., note: "▸Caution: the lip is sharp.", takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    hazards:
      edge: {signal: caution, hazard: The lip is sharp., consequence: It can cut a glove., avoid: Keep behind it.}
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look behind the plate., hazards: [edge], takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def hazard_in_words(evidence: Evidence) -> Iterator[Trouble]:
    """A caution is a hazard record, not words in a step or its note.

    A note is printed after its step: whoever gets to “Caution” there has already done it. Only what a step names under
    `hazards` is printed ahead of it. ASD-STE100 Issue 9, rules 5.5 (notes inform) and 7.1 (a signal word shows the
    risk); that the warning stands ahead of its step is DOE-STD-1029-92's (cited from memory).
    """
    for step in steps_of(evidence):
        for text in (step.do, step.why, step.note):
            found = _SIGNAL.search(text) if text else None
            if text and found:
                yield Trouble(
                    spot_of(evidence, text, found[0]),
                    f"“{found[0].rstrip(' :!—-')}” in a step's own words is read too late: write it under “hazards” "
                    "and name it in the step (ASD-STE100 rule 7.1).",
                    write="hazards: […]",
                )


@rule(
    "hazard-too-late", Level.ADVICE, Needs.REFERENCES,
    wrong="""
    tasks:
      unplug:
        title: Unplug it
        purpose: To free it.
        place: lock
        steps:
          - {id: off, who: ground, do: Switch the feed off., takes: 1 min, sets: {feed: off}}
          - {id: see, who: ev1, do: Look at its lamp., takes: 1 min, verifies: {feed: off}, after: [unplug/off]}
          - {id: loosen, who: ev1, do: Loosen the plug., takes: 1 min, requires: {feed: off}}
          - {id: pull, who: ev1, do: Pull the plug out., takes: 1 min, requires: {feed: off}, hazards: [▸shock]}
          - {id: back, who: ground, do: Switch the feed on., takes: 1 min, sets: {feed: on}, after: [unplug/pull]}
    sorties: {s: {title: S, flow: {ev1: [unplug], ground: [unplug]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      unplug:
        title: Unplug it
        purpose: To free it.
        place: lock
        steps:
          - {id: off, who: ground, do: Switch the feed off., takes: 1 min, sets: {feed: off}}
          - {id: see, who: ev1, do: Look at its lamp., takes: 1 min, verifies: {feed: off}, after: [unplug/off]}
          - {id: loosen, who: ev1, do: Loosen the plug., takes: 1 min, requires: {feed: off}, hazards: [shock]}
          - {id: pull, who: ev1, do: Pull the plug out., takes: 1 min, requires: {feed: off}, hazards: [shock]}
          - {id: back, who: ground, do: Switch the feed on., takes: 1 min, sets: {feed: on}, after: [unplug/pull]}
    sorties: {s: {title: S, flow: {ev1: [unplug], ground: [unplug]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def hazard_too_late(evidence: Evidence) -> Iterator[Trouble]:
    """A hazard is named by the first step of a task that it belongs to, not by a later one.

    The statement is printed ahead of the step that names it. A step that requires all the states which keep the
    hazard controlled works beside it; if only a later step names it, the crew reads it when they are already there.
    The warning stands ahead of its step: DOE-STD-1029-92 (cited from memory).
    """
    for task in evidence.library.tasks.values():
        for hazard in {str(name): name for step in task.steps for name in step.hazards}:
            record = evidence.library.hazards.get(hazard)
            if record and record.controls:
                yield from _too_late(evidence, task, record)


def _too_late(evidence: Evidence, task: Task, hazard: Hazard) -> Iterator[Trouble]:
    beside = next((step for step in task.steps if _relies_on(step, hazard)), None)
    first = next(step for step in task.steps if hazard.id in step.hazards)
    if beside is None or beside.number >= first.number or _announced(evidence, task, beside, hazard):
        return
    ref = next(ref for ref in first.hazards if ref == hazard.id)
    yield Trouble(
        ref.position,
        f"“{hazard.label_text}” is printed ahead of “{plain(first.do).rstrip('.')}”, but "
        f"“{plain(beside.do).rstrip('.')}” comes before and works beside it, too: name it there.",
        (Related(beside.position, "the step that comes before"),),
        write=f"hazards: [{hazard.id}]",
        write_at=beside.position,
    )


def _relies_on(step: Step, hazard: Hazard) -> bool:
    required = {str(name): str(state) for name, state in step.requires.items()}
    return all(required.get(str(name)) == state for name, state in hazard.controls.items())


def _announced(evidence: Evidence, task: Task, step: Step, hazard: Hazard) -> bool:
    """Whether the place of a step carries the hazard, so that it is printed on the way there."""
    place = evidence.library.places.get(str(step.at or task.place or ""))
    return place is not None and hazard.id in place.hazards
