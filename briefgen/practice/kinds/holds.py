"""What somebody holds for: the step of somebody else that must be over first."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Choose, Kind, Question
from briefgen.practice.words import deed, look_at, people_called
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holds import Hold
from briefgen.proof.plan import PlannedStep

_AROUND, _ENOUGH = 12, 3


def make(case: SortieEvidence) -> Iterator[Question]:
    """One for each hold."""
    for hold in case.holds:
        yield _question(case, hold)


def _question(case: SortieEvidence, hold: Hold) -> Question:
    library, step, first = case.library, case.plan.steps[hold.step], case.plan.steps[hold.first]
    who = people_called(library, hold.people)
    verb = "holds" if len(hold.people) == 1 else "hold"
    return Question(
        id=f"holds:{step.key}:{first.key}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: {who} {verb} before “{deed(library, step)}”. What must be over first?",
        answer=Choose((_words(case, first),), tuple(_others(case, step, first))),
        because="Only this order is guaranteed, whatever the durations turn out to be.",
        look=look_at(step),
        people=hold.people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


def _others(case: SortieEvidence, step: PlannedStep, first: PlannedStep) -> Iterator[str]:
    """Nearby steps that nothing asks to be over before this one, those of the same people first.

    A step that reads like one that comes before is left out: it would be true.
    """
    order = case.plan.order
    over = {_words(case, one) for one in case.plan.steps if order.before(one.index, step.index)}
    begin = case.timeline.times[step.index].start
    open_ = [
        one
        for one in case.plan.steps
        if one.index != step.index and not order.before(one.index, step.index) and _words(case, one) not in over
    ]
    open_.sort(key=lambda one: abs(case.timeline.times[one.index].start - begin))
    alike = [_words(case, one) for one in open_ if one.people == first.people][:_AROUND]
    others = [] if len(set(alike)) >= _ENOUGH else [_words(case, one) for one in open_][:_AROUND]
    yield from dict.fromkeys([*alike, *others])


def _words(case: SortieEvidence, step: PlannedStep) -> str:
    return f"{people_called(case.library, step.people)}: {deed(case.library, step)}"


KIND = Kind("holds", "What you hold for", make)
