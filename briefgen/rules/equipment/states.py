"""Equipment states: required states hold by order, controls are confirmed and held, and everything ends as it may."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import item_words, people_words, step_words
from briefgen.proof.ordering.states import Item, Met
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import word
from briefgen.rules.shared.races import after_line, escape_words, left_out_words, starts_today

_FEED = """
tasks:
  work:
    title: Work
    purpose: To mend it.
    place: lock
    steps:
      - {id: isolate, who: ev2, do: Switch the feed off., takes: 2 min, sets: {feed: off}}
      - {id: confirm, who: ground, do: Confirm it off., takes: 1 min, verifies: {feed: off}, after: [work/isolate]}
      - {id: touch, who: ev1, do: Pull the plug., takes: 5 min, requires: {feed: off}, after: [work/confirm]}
      - {id: restore, who: ev2, do: Switch the feed on., takes: 2 min, sets: {feed: on}, after: [work/touch]}
sorties: {s: {title: S, flow: {ev1: [work], ev2: [work], ground: [work]}, limits: {length: 1 h}}}
"""


@dataclass(frozen=True)
class _Case:
    """One need in one variant of a sortie."""

    proved: SortieEvidence
    variant: Variant
    met: Met

    @property
    def plan(self) -> Plan:
        return self.variant.plan

    @property
    def step(self) -> PlannedStep:
        return self.plan.steps[self.met.need.step]

    @property
    def words(self) -> str:
        return step_words(self.proved.library, self.step)

    @property
    def item(self) -> str:
        return item_words(self.proved.library, self.met.need.item)

    @property
    def because(self) -> str:
        """` because of the hazard “…” there`, where the step has the need from a hazard that it inherits."""
        hazard = self.proved.library.hazards.get(self.met.need.hazard)
        return f" because of the hazard “{hazard.label_text}”" if hazard else ""


def _needs(evidence: Evidence, fails: Callable[[Met], bool]) -> Iterator[_Case]:
    """Every need that fails in one way, once: in the whole plan where it fails there, else in the first such variant.

    What fails in another way is another rule's: no finding may hide one that somebody did not accept with it.
    """
    for proved in evidence.sorties.values():
        reported: set[tuple[str, Item, str]] = set()
        for variant in proved.variants:
            for met in variant.states.met:
                key = (variant.plan.steps[met.need.step].key, met.need.item, met.need.state)
                if fails(met) and key not in reported:
                    reported.add(key)
                    yield _Case(proved, variant, met)


def _grouped(cases: Iterable[_Case]) -> Iterator[tuple[_Case, list[_Case]]]:
    """The items of one word together: twelve plates make one finding."""
    groups: dict[tuple[str, str, frozenset[str]], list[_Case]] = {}
    for one in cases:
        groups.setdefault((one.step.key, str(one.met.need.words.position), one.variant.left_out), []).append(one)
    for group in groups.values():
        yield group[0], group


def _names(group: list[_Case]) -> str:
    return group[0].item + (f" (and {len(group) - 1} more)" if len(group) > 1 else "")


@rule(
    "state-by-luck", Level.ERROR, Needs.ORDER,
    wrong=_FEED.replace(", after: [work/touch]", "").replace("requires: {feed: off}", "requires: {feed: ▸off}"),
    right=_FEED,
)  # fmt: skip
def state_by_luck(evidence: Evidence) -> Iterator[Trouble]:
    """A state that a step requires holds whatever the durations turn out to be.

    Of all steps that set the equipment, each must be ordered before or after the step that relies on it, and one of
    those before must be the last. Orders are a person's own flow, joint steps and `after`. Where two steps race, the
    finding says by how many minutes the plan escapes it today and which line would settle it. The check is repeated
    with each optional task left out, and with all of them left out.
    """
    races: dict[tuple[str, str, frozenset[str], str, str, bool], list[_Case]] = {}
    for one in _needs(evidence, lambda met: not met.answer.certain):
        culprit, brings_it = _culprit(one)
        # Those of one task together: what its author accepts must not hide another task's.
        where = str(one.proved.sortie.id), str(one.step.task.id)
        key = (*where, one.variant.left_out, one.met.need.item[0], culprit.key, brings_it)
        races.setdefault(key, []).append(one)
    for (*_, brings_it), cases in races.items():
        # The line that saves the last of them saves the others; what is brought about must come before the first.
        pick = min if brings_it else max
        yield _luck(pick(cases, key=lambda one: starts_today(one.proved, one.step)), cases)


def _culprit(one: _Case) -> tuple[PlannedStep, bool]:
    """The step that races with what a need relies on, and whether it brings about what is needed."""
    answer = one.met.answer
    other = one.plan.steps[(answer.racing or answer.rivals)[0]]
    return other, one.variant.states.changes[one.met.need.item][other.index] == one.met.need.state


def _luck(one: _Case, cases: list[_Case]) -> Trouble:
    answer, need = one.met.answer, one.met.need
    other, brings_it = _culprit(one)
    changes = one.variant.states.changes[need.item]
    relies = f"{one.words} relies on {_names([one, *(c for c in cases if c is not one and c.step is one.step)])}"
    if answer.racing:
        sentence = (
            f"{relies} being “{need.state}”{one.because}, but nothing orders it and "
            f"{step_words(one.proved.library, other)}, which sets “{changes[other.index]}”"
        )
        first, second = (other, one.step) if brings_it else (one.step, other)
    else:
        last = one.plan.steps[answer.rivals[1]]
        sentence = (
            f"{relies} being “{need.state}”{one.because}, but nothing orders the steps that set it: "
            f"{step_words(one.proved.library, other)} sets “{changes[other.index]}”, "
            f"{step_words(one.proved.library, last)} sets “{changes[last.index]}”"
        )
        first, second = (last, other) if brings_it else (other, last)
    line, spot = after_line(first, second)
    return Trouble(
        need.words.position,
        f"{sentence}{left_out_words(one.proved, one.variant)}. {escape_words(one.proved, first, second)}",
        (
            *(Related(one.plan.steps[index].step.position, "this sets it") for index in answer.racing or answer.rivals),
            *(Related(c.step.step.position, "this relies on it, too") for c in cases if c.step is not one.step),
        ),
        line,
        spot,
    )


@rule(
    "state-not-there", Level.ERROR, Needs.ORDER,
    wrong="""
tasks: {look: {title: Look, purpose: To know., place: lock, steps: [
  {who: ev1, do: Look inside., takes: 2 min, requires: {cover: ▸open}}]}}
sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
""",
    right="""
tasks: {look: {title: Look, purpose: To know., place: lock, steps: [
  {who: ev1, do: Open it., takes: 2 min, sets: {cover: open}},
  {who: ev1, do: Look inside., takes: 2 min, requires: {cover: open}},
  {who: ev1, do: Shut it., takes: 2 min, sets: {cover: shut}}]}}
sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
""",
)  # fmt: skip
def state_not_there(evidence: Evidence) -> Iterator[Trouble]:
    """A state that a step requires or confirms is the one in which the equipment is then.

    The last step before it that sets the equipment must set that state; without one, the sortie must begin with it.
    """
    for one, group in _grouped(_needs(evidence, lambda met: met.wrong)):
        answer, need = one.met.answer, one.met.need
        verb = "confirms" if need.confirms else "needs"
        source = one.plan.steps[answer.source] if answer.source is not None else None
        since = f"since {step_words(one.proved.library, source)}" if source else "since the sortie began"
        yield Trouble(
            need.words.position,
            f"{one.words} {verb} {_names(group)} “{need.state}”{one.because}, but it is “{answer.value}” {since}"
            f"{left_out_words(one.proved, one.variant)}.",
            (Related(source.step.position, "this sets it"),) if source else (),
            f"sets: {{{need.item[0]}: {word(need.state)}}}  # in a step before this one",
        )  # fmt: skip


@rule(
    "control-not-confirmed", Level.ERROR, Needs.ORDER,
    wrong=_FEED.replace("verifies: {feed: off}, ", "").replace("requires: {feed: off}", "requires: {feed: ▸off}"),
    right=_FEED,
)  # fmt: skip
def control_not_confirmed(evidence: Evidence) -> Iterator[Trouble]:
    """A control is confirmed by somebody other than who set it, before anybody relies on it.

    One person's slip must not be enough to reach a live connector. The confirming step (`verifies`) must be ordered
    after the step that sets the control and before the step that relies on it. Only the states that some hazard's
    `controls` name are asked about (all of them where no hazard names the control): a feed that is on keeps nobody
    safe. Isolation is verified before work
    begins: 29 CFR 1910.147(d)(6).
    """
    for one, group in _grouped(_needs(evidence, lambda met: met.unconfirmed)):
        answer, need = one.met.answer, one.met.need
        source = one.plan.steps[answer.source] if answer.source is not None else None
        setter = people_words(one.proved.library, source.people) if source else "the sortie before"
        yield Trouble(
            need.words.position,
            f"{one.words} relies on {_names(group)} being “{need.state}”{one.because}, set by {setter}, before "
            f"anybody else has confirmed it{left_out_words(one.proved, one.variant)}.",
            (Related(source.step.position, "this sets it"),) if source else (),
            f"verifies: {{{need.item[0]}: {word(need.state)}}}  # in a step of another person, between the two",
        )  # fmt: skip
