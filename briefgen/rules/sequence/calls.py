"""Calls: whoever waits for somebody, and whoever is moved or must keep away, hears of it on the loop.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import people_words, step_words
from briefgen.proof.ordering.rides import STOPS, is_ride
from briefgen.proof.plan import PlannedStep, planned_by
from briefgen.proof.schedule.holds import Hold
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import task_of

_SET = "id: set, ▸who: desk, do: Shut the valve., takes: 2 min"
_WAIT = "who: ev1, do: Look at the gauge., takes: 2 min, after: [work/set]"
_RIDE = "id: ride, ▸who: [ev1, desk], do: Ride to K1., takes: 2 min, to: k1"
_IN = "who: ev1, at: k1, do: Go in., takes: 2 min, to: lock"
_BOTH = "ev1: [work], desk: [work]"


def _said(step: str, words: str, to: str) -> str:
    return f"{step}, calls: [{{to: {to}, say: {words}}}]"


@rule(
    "hold-without-call", Level.ADVICE, Needs.ORDER,
    wrong=task_of(_SET, _WAIT, flow=_BOTH),
    right=task_of(_said(_SET.replace("▸", ""), "The valve is shut.", "ev1"), _WAIT, flow=_BOTH),
)  # fmt: skip
def hold_without_call(evidence: Evidence) -> Iterator[Trouble]:
    """Whoever holds until somebody else has done a step is told that it is done.

    Somebody who waits for words that nobody is to say waits too long, or goes on too early. The step that is waited
    for has a call to those who wait. Two people outside at one place see each other; they need none.
    """
    seen: set[str] = set()
    for proved in evidence.sorties.values():
        for hold in proved.holds:
            first, step = proved.plan.steps[hold.first], proved.plan.steps[hold.step]
            untold = _untold(proved, hold)
            if untold and first.key not in seen:
                seen.add(first.key)
                people = people_words(proved.library, untold)
                names = untold[0] if len(untold) == 1 else f"[{', '.join(untold)}]"
                yield Trouble(
                    first.step.spot("who"),
                    f"Nobody tells {people} that {step_words(proved.library, first)} is over, for which "
                    f"{step_words(proved.library, step)} waits.",
                    (Related(step.step.position, "this waits for it"),),
                    f"calls: [{{to: {names}, say: …}}]",
                    first.step.position,
                )


def _untold(proved: SortieEvidence, hold: Hold) -> list[str]:
    """Who waits and is not told, and does not see it."""
    first, step = proved.plan.steps[hold.first], proved.plan.steps[hold.step]
    told = {str(person) for call in first.step.calls for person in call.to}
    return [who for who in hold.people if who not in told and not _sees(first, step, who)]


def _sees(first: PlannedStep, step: PlannedStep, person: str) -> bool:
    return bool(first.outside) and person in step.outside and first.leads_to == step.place


@rule(
    "move-without-call", Level.ADVICE, Needs.ORDER,
    wrong=task_of(_RIDE, _IN, flow=_BOTH),
    right=task_of(_said(_RIDE.replace("▸", ""), "One metre. Stop.", "desk"), _IN, flow=_BOTH),
)  # fmt: skip
def move_without_call(evidence: Evidence) -> Iterator[Trouble]:
    """Where somebody inside or on the ground moves a person or keeps a place free, something is said on the loop.

    Whoever works the machine sees the person through a camera at best, and whoever is outside does not see the hand
    on the lever. The step that moves somebody, and the one that keeps others away, has a call.
    """
    for _, step in _steps(evidence):
        if step.step.calls:
            continue
        if is_ride(step):
            sentence = "Somebody outside is moved here, and nothing is said: write what is called, and to whom."
            yield Trouble(step.step.spot("who"), sentence, (), "calls: [{to: …, say: …}]", step.step.position)
        elif step.step.keeps_out and not step.outside:
            sentence = "A place is kept free here, and nobody outside is told: write what is called, and to whom."
            yield Trouble(step.step.spot("who"), sentence, (), "calls: [{to: …, say: …}]", step.step.position)


@rule(
    "move-without-stop-word", Level.ADVICE, Needs.ORDER,
    wrong=task_of(_said(_RIDE, "Moving.", "desk"), _IN, flow=_BOTH),
    right=task_of(_said(_RIDE.replace("▸", ""), "Moving. I say “stop” to stop.", "desk"), _IN, flow=_BOTH),
)  # fmt: skip
def move_without_stop_word(evidence: Evidence) -> Iterator[Trouble]:
    """Before anybody is moved, a word that stops the move has been said between those two.

    In a hurry people shout what they have heard. Of the calls between whoever is moved and whoever moves them, in the
    same task up to the first move, one says “stop”, “halt” or “abort”. So it is of moves in a block and in a case, too.
    """
    for proved in evidence.sorties.values():
        said: set[tuple[str, frozenset[str]]] = set()
        for index in proved.plan.order.sequence:
            step = proved.plan.steps[index]
            task = str(step.task.id)
            for one in (step, *_in_case(proved, step)):
                if any(STOPS.search(str(call.say)) for call in one.step.calls):
                    told = {str(person) for call in one.step.calls for person in call.to}
                    said |= {(task, frozenset((a, b))) for a in one.people for b in {*told, *one.people}}
                if is_ride(one) and not _agreed(one, task, said):
                    said |= {(task, frozenset((a, b))) for a in one.people for b in one.people}
                    yield Trouble(
                        one.step.spot("who"),
                        f"{people_words(proved.library, one.people)} have no word that stops this move: let one of the "
                        "calls up to here say “stop”.",
                    )


def _in_case(proved: SortieEvidence, step: PlannedStep) -> Iterator[PlannedStep]:
    """What is done if a step does not go as planned."""
    for one in step.task.cases:
        for written in one.steps if one.of.step == step.step.key else ():
            people = tuple(str(who) for who in written.who if who in proved.library.people)
            yield planned_by(proved.library, step.task, written, people, step.index)


def _steps(evidence: Evidence) -> Iterator[tuple[SortieEvidence, PlannedStep]]:
    """Every step of the sorties as written, once."""
    seen: set[str] = set()
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            if step.key not in seen:
                seen.add(step.key)
                yield proved, step


def _agreed(step: PlannedStep, task: str, said: set[tuple[str, frozenset[str]]]) -> bool:
    movers = [person for person in step.people if person not in step.outside]
    return all(any((task, frozenset((rider, one))) in said for one in movers) for rider in step.outside)
