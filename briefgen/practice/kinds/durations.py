"""How long a step takes, typed with its unit: the long ones, which everybody's day hangs on."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Exercise, Number, QuestionKind
from briefgen.practice.words import deed, look_at
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_called
from briefgen.proof.plan import PlannedStep
from briefgen.units import HOUR, MINUTE, show_duration

UNITS = {"s": 1.0, "min": MINUTE, "h": HOUR}
_LONG = 5 * MINUTE


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each step of five minutes or more; with three points, whatever lies between the outer two is right."""
    for step in proved.plan.steps:
        if step.duration.likely >= _LONG and not step.step.origin.block:
            yield _question(proved, step)


def _question(proved: SortieEvidence, step: PlannedStep) -> Exercise:
    library, span = proved.library, step.duration
    shown = show_duration(span.likely)
    if span.three_points:
        shown += f" (from {show_duration(span.low)} to {show_duration(span.high)})"
    items = f" (all {len(step.items)})" if step.times > 1 else ""
    who = people_called(library, step.people)
    return Exercise(
        id=f"durations:{step.key}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: how long does this take as planned, for {who}: {deed(step)}{items}?",
        answer=Number(span.low, span.high, UNITS, shown),
        because="So it stands in the plan.",
        look=look_at(step),
        people=step.people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


KIND = QuestionKind("durations", "How long", make)
