"""If a step does not go as planned: each case is a plan of its own, taken once, and holds like the plan."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.language.wording import listing
from briefgen.model.fields.limits import CASES
from briefgen.proof.deciding.cases.proofs import CaseProof, made_good
from briefgen.proof.deciding.faults import FAULTS
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, described, rule
from briefgen.rules.shared.lines import list_line, map_line, step_line, word
from briefgen.rules.shared.races import left_out_words
from briefgen.source import Position
from briefgen.units import show_duration

_TASK = """
tasks:
  open:
    title: Open the cover
    purpose: To see inside.
    place: k1
    steps:
      - id: open
        who: ev1
        do: Open the cover.
        takes: 2 min
        sets: {cover: open}
        in_case: CASE
      - {id: shut, who: ev1, do: Shut the cover., takes: 2 min, sets: {cover: shut}}
      - {id: in, who: ev1, at: lock, do: Come in., takes: 1 min}
sorties: {s: {title: S, flow: {ev1: [open]}, limits: {length: 1 h}}}
"""
_PUSH = "{id: push, who: ev1, do: Push the cover shut., takes: 3 min, sets: {cover: shut}}"
_RIGHT = _TASK.replace("CASE", f"[{{when: The cover sticks., steps: [{_PUSH}], then: in}}]")

described(
    "case-waits", __name__,
    """In a case, `after` names only steps that stand above in the same case.

    A case begins when its step is over. What must hold for it, its steps require; so nobody waits for a word that is
    never spoken.
    """,
    wrong=_RIGHT.replace("takes: 3 min", "takes: 3 min, after: [▸shut]"), right=_RIGHT,
)  # fmt: skip
described(
    "case-in-a-case", __name__,
    """A step of a case, or of a way back, has no cases of its own.

    Outside, with something that already went wrong, nobody follows a plan with a fork in every fork. What may go wrong
    twice is a second case of the step.
    """,
    wrong=_RIGHT.replace("sets: {cover: shut}}],", "sets: {cover: shut}, ▸in_case: [{when: It stays., "
                         "steps: [{who: ev1, do: Wait., takes: 1 min}], then: go on}]}],"), right=_RIGHT,
)  # fmt: skip


def _all(evidence: Evidence) -> Iterator[tuple[SortieEvidence, CaseProof]]:
    """Every case as written once: in a block, the first round of which something can be said."""
    return ((sortie, one) for sortie in evidence.sorties.values() for one in sortie.cases)


@rule(
    "case-leads-nowhere", Level.ERROR, Needs.ORDER,
    wrong=_RIGHT.replace("then: in", "then: ▸open"), right=_RIGHT,
)  # fmt: skip
def case_leads_nowhere(evidence: Evidence) -> Iterator[Trouble]:
    """A case goes on at a step that surely comes later in the same sortie.

    Nobody can go back to what is done, and a step that somebody else may have begun by then is no place to go on, nor
    is one of another task that may be left out.
    """
    seen: set[Position] = set()
    for sortie, one in _all(evidence):
        if one.backwards and one.case.then.position not in seen:
            seen.add(one.case.then.position)
            yield Trouble(
                one.case.then.position,
                f"“{one.case.then}” does not surely come after “{one.step.step.do.rstrip('.')}” in this sortie"
                f"{left_out_words(sortie, one)}, so the plan cannot go on there. Name a later step; write what is "
                "tried again as a step of the case.",
                (Related(one.step.step.position, "the step"),), "then: go on", one.case.spot("then"),
            )  # fmt: skip


@rule(
    "case-does-not-hold", Level.ERROR, Needs.ORDER,
    wrong=_RIGHT.replace("when: The", "when: ▸The").replace(", sets: {cover: shut}}], then", "}], then"), right=_RIGHT,
)  # fmt: skip
def case_does_not_hold(evidence: Evidence) -> Iterator[Trouble]:
    """With a case taken once, the plan holds like the plan itself.

    What its step was to set is not known then, until a step of the case sets it or confirms it by looking: a bolt that
    does not turn may be loose by half. Nothing else that the step was to do is counted on: what it was to take, leave
    or hand over is where it was, people and tethers are where they were, and whoever was in a restraint is in it still.
    A case may use the time kept free at the end, and may leave what the sortie found as it found it; all else holds as
    ever, whoever is called to help and whatever they are at just then, and with tasks left out that may be: who is late
    because of a case leaves out one of these first.
    """
    seen: set[Position] = set()
    for sortie, one in _all(evidence):
        words = _wrong(sortie, one)
        if words and one.case.when.position not in seen:
            seen.add(one.case.when.position)
            yield Trouble(
                one.case.when.position,
                f"If “{one.case.when.rstrip('.')}” at “{one.step.step.do.rstrip('.')}”, the plan does not hold"
                f"{left_out_words(sortie, one)}: {words}.",
                (Related(one.step.step.position, "the step"),),
                _once_more(one.step) if made_good(sortie, one) else "", one.case.spot("steps"),
            )  # fmt: skip


def _once_more(planned: PlannedStep) -> str:
    """A last step of the case that brings about what its step was to bring about."""
    step = planned.step
    made = [
        *(map_line(key, done.items(), *next(iter(done.items()))) for key in ("sets", "leaves", "hands")
          if (done := getattr(step, key))),
        *([list_line("picks", step.picks)] if step.picks else []),
        *(f"{key}: {word(done)}" for key in ("to", "enters", "exits", "anchors") if (done := getattr(step, key))),
    ]  # fmt: skip
    return step_line(planned.people, planned.place, step.do, show_duration(step.takes.likely), *made)


def _wrong(sortie: SortieEvidence, one: CaseProof) -> str:
    if one.absent:
        people = [sortie.library.people[name].label_text for name in one.absent]
        return f"{listing(people)} would help and is not out on this sortie"
    if one.fault is None:
        return ""
    at = [part for part in one.fault[1:] if part]
    words = FAULTS[one.fault[0]]
    words = words[:1].lower() + words[1:]
    return f"{words} (“{', '.join(at)}”)" if at else words


_MANY = """
equipment:
  pins:
    name: Pins
    states: [in, out]
    starts: in
    ends: any
    parts: {row: [1, 2, 3, 4, 5, 6, 7, 8], column: [1, 2, 3, 4, 5, 6, 7, 8]}
tasks:
  pull:
    title: Pull the pins
    purpose: To free the plate.
    place: k1
    steps:
      - id: every
        each: pinsWHERE
        steps:
          - id: pull
            who: ev1
            do: Pull the pin.
            takes: 10 s
            sets: {pins: out}
            in_case:
              - when: ▸The pin sticks.
                steps: [{who: ev1, do: Twist it out., takes: 20 s, sets: {pins: out}}]
                then: go on
      - {who: ev1, at: lock, do: Come in., takes: 1 min}
sorties: {s: {title: S, flow: {ev1: [pull]}, limits: {length: 1 h}}}
"""


@rule(
    "too-many-cases", Level.ERROR, Needs.ORDER, wrong=_MANY.replace("WHERE", ""),
    right=_MANY.replace("▸", "").replace("WHERE", "\n        where: {row: [1, 2]}"),
)  # fmt: skip
def too_many_cases(evidence: Evidence) -> Iterator[Trouble]:
    """A sortie has at most 60 cases, every item of a block counted.

    Each is a whole plan to be proved, and a briefing with more is no longer learned. Where somebody is called to help
    who may be busy with many things, each of these is a plan, too.
    """
    for sortie in evidence.sorties.values():
        over = next((one for one in sortie.cases if one.unproved), None)
        if over:
            yield Trouble(
                over.case.when.position,
                f"The cases of “{sortie.sortie.title}” are too many to prove: {CASES} are the most, every item and "
                "everything that a helper may be at counted. Write the case at a step outside the block, choose fewer "
                "items, or let who does the step do the case.", write="where: {…}",
            )  # fmt: skip
