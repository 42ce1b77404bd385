"""Rides: steps in which somebody who is not outside brings people outside elsewhere, and the word that stops them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from briefgen.proof.plan import Plan, PlannedStep

STOPS = re.compile(r"\b(stop|halt|abort)\b", re.IGNORECASE)
"""The words that stop a move. Common practice, no source."""


@dataclass(frozen=True)
class StopWord:
    """The word, the step whose call says it, and who says it to whom."""

    word: str
    step: PlannedStep
    speaker: str
    hearers: tuple[str, ...]


def is_ride(step: PlannedStep) -> bool:
    """Whether people outside are brought elsewhere by somebody who is not."""
    return bool(step.outside) and len(step.outside) < len(step.people) and step.leads_to != step.place


def stop_word(plan: Plan, ride: PlannedStep) -> StopWord | None:
    """What the last call says that stops the ride: of the same task, surely over before it or within it.

    Between those who ride and those who drive; None where no call says “stop”, “halt” or “abort”.
    """
    riders, drivers = {*ride.outside}, {*ride.people} - {*ride.outside}
    found: StopWord | None = None
    for index in plan.order.sequence:
        step = plan.steps[index]
        if step.task.id != ride.task.id or not (step is ride or plan.order.before(index, ride.index)):
            continue
        for call in step.step.calls:
            hearers = tuple(map(str, call.to))
            speaker = next((person for person in step.people if person not in hearers), step.people[0])
            across = (speaker in riders and drivers & {*hearers}) or (speaker in drivers and riders & {*hearers})
            word = STOPS.search(str(call.say))
            if word and across:
                found = StopWord(word[0].lower(), step, speaker, hearers)
    return found
