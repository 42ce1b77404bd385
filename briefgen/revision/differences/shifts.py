"""From which step on a person is earlier or later than before, and why: the cause apart from what follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.revision.change import Change, Topic, Verb, remark
from briefgen.revision.differences.times import later
from briefgen.revision.differences.ways import ways
from briefgen.revision.pairing.pair import Pair, step_subject
from briefgen.revision.telling import instruction
from briefgen.units import MINUTE, show_duration

FROM_HERE, BECAUSE = "From here on", "Because"
_TELLS = 3

Cause = tuple[float, str]
"""Why a step begins at another time: the seconds that it makes, and in words."""


def shift_changes(pair: Pair) -> Iterator[Change]:
    """For each person, the steps at which the plan goes on by a minute or more earlier or later than before."""
    for before, after in pair.sorties:
        for person in after.plan.flows:
            yield from _shifts(pair, _Seat(before, _id_before(pair, before, person)), _Seat(after, person))


def _id_before(pair: Pair, before: SortieEvidence, person: str) -> str:
    return next((name for name in before.plan.flows if pair.now_person(name) == person), person)


@dataclass(frozen=True)
class _Seat:
    """One person's place in one version of a sortie."""

    proved: SortieEvidence
    person: str

    def start(self, step: PlannedStep) -> float:
        return self.proved.timeline.times[step.index].start

    def end(self, step: PlannedStep) -> float:
        return self.proved.timeline.times[step.index].end

    def way(self, step: PlannedStep) -> float:
        """The seconds on the way to a step."""
        leg = self.proved.timeline.leg_to.get((self.person, step.index))
        return leg.end - leg.start if leg else 0.0

    def waits_for(self, step: PlannedStep) -> PlannedStep | None:
        """The step that the person waits for ahead of this one."""
        wait = self.proved.timeline.wait_before.get((self.person, step.index))
        return self.proved.plan.steps[wait.cause] if wait and not wait.until else None

    def waits_until(self, step: PlannedStep) -> str:
        """What the clock must show before the person goes on, where that is what they wait for."""
        wait = self.proved.timeline.wait_before.get((self.person, step.index))
        return wait.until if wait else ""


def _shifts(pair: Pair, was: _Seat, now: _Seat) -> Iterator[Change]:
    old, new = ways(pair, was.proved, now.proved, now.person)
    before = _gone_before(list(old.steps), set(new.steps))
    told, last, causes = 0.0, "", list[Cause]()
    for key, step in new.steps.items():
        if key not in old.steps:
            causes.append((step.duration.likely, f"{instruction(step.step)} is new here"))
            continue
        gone, follows = before[key]
        causes += [(old.steps[one].duration.likely, f"{instruction(old.steps[one].step)} is gone") for one in gone]
        causes += [(0.0, "the order is another")] if follows != last else []
        held = _held(pair, was, now, old.steps[key], step)
        causes = held or [*causes, *_freed(pair, was, now, old.steps[key], step), *_way(was, now, old.steps[key], step)]
        shift = now.start(step) - was.start(old.steps[key])
        if abs(shift - told) >= MINUTE:
            yield _change(step, shift, causes, now)
            told, causes = shift, []
        causes = [] if held else causes  # the wait has taken up whatever came before it
        causes += _longer(old.steps[key], step)
        last = key


def _gone_before(old: list[str], kept: set[str]) -> dict[str, tuple[list[str], str]]:
    """For each step that is kept: the steps right before it that are not, and the one before those."""
    found: dict[str, tuple[list[str], str]] = {}
    gone, last = list[str](), ""
    for key in old:
        if key in kept:
            found[key] = (gone, last)
            gone, last = [], key
        else:
            gone.append(key)
    return found


def _held(pair: Pair, was: _Seat, now: _Seat, old: PlannedStep, new: PlannedStep) -> list[Cause]:
    """Whoever is waited for is the cause, whatever came before."""
    first, before = now.waits_for(new), was.waits_for(old)
    if until := now.waits_until(new):
        other = "" if until == was.waits_until(old) else "now "
        return [(0.0, f"{other}a wait until {until}")]
    if first is None:
        return []
    who = pair.now.people(first.people)
    if before is None or pair.now_called(before) != first.key:
        return [(0.0, f"now a wait for {who}: {instruction(first.step)}")]
    shift = now.end(first) - was.end(before)
    when = later(shift) if abs(shift) >= 1 else "when it did before"
    return [(0.0, f"{who} ends {instruction(first.step)} {when}")]


def _freed(pair: Pair, was: _Seat, now: _Seat, old: PlannedStep, new: PlannedStep) -> Iterator[Cause]:
    """Whoever was waited for, and is no more."""
    first, until = was.waits_for(old), was.waits_until(old)
    if until and not now.waits_until(new):
        yield 0.0, f"no wait until {until} any more"
    if first is not None and now.waits_for(new) is None and now.person not in now.proved.plan.free:
        yield 0.0, f"no wait for {pair.was.people(first.people)} any more"


def _way(was: _Seat, now: _Seat, old: PlannedStep, new: PlannedStep) -> Iterator[Cause]:
    longer = now.way(new) - was.way(old)
    if abs(longer) >= 1:
        yield abs(longer), f"the way there takes {_more(longer)}"


def _longer(old: PlannedStep, new: PlannedStep) -> Iterator[Cause]:
    longer = new.duration.likely - old.duration.likely
    if abs(longer) >= 1:
        yield abs(longer), f"{instruction(new.step)} takes {_more(longer)}"


def _more(seconds: float) -> str:
    return f"{show_duration(abs(seconds))} {'more' if seconds > 0 else 'less'}"


def _change(step: PlannedStep, shift: float, causes: list[Cause], now: _Seat) -> Change:
    words = later(shift) if abs(shift) >= MINUTE else "as before"
    told = [cause for _, cause in sorted(causes, key=lambda one: -one[0])][:_TELLS]
    details = (remark(FROM_HERE, words), *((remark(BECAUSE, ", ".join(told)),) if told else ()))
    subject = step_subject(str(step.task.id), step.step)
    return Change(Topic.TIMES, Verb.MOVED, subject, details, (now.person,), (str(now.proved.sortie.id),))
