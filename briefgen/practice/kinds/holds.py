"""What somebody holds for: the step of somebody else that must be over first."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from briefgen.practice.question import Choose, Exercise, QuestionKind
from briefgen.practice.words import deed, look_at
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_called
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.holds import Hold

_LOOKED_AT, _AROUND, _ENOUGH = 40, 12, 3


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each hold. O(steps × log steps) for each people who are waited for, and little for each hold."""
    steps = _Steps(proved)
    for hold in proved.holds:
        yield _question(proved, steps, hold)


class _Steps:
    """A sortie's steps by their words, and in the order of their beginnings, all and by their people."""

    def __init__(self, proved: SortieEvidence) -> None:
        self._before = proved.plan.order.before
        self.words = [_words(proved, step) for step in proved.plan.steps]
        self._alike: dict[str, list[int]] = {}
        for index, words in enumerate(self.words):
            self._alike.setdefault(words, []).append(index)
        self._begins = [times.start for times in proved.timeline.times]
        every = sorted(range(len(self.words)), key=self._begins.__getitem__)
        self.rows: dict[tuple[str, ...], list[int]] = {(): every}
        for index in every:
            self.rows.setdefault(proved.plan.steps[index].people, []).append(index)

    def open(self, step: int, people: tuple[str, ...]) -> list[str]:
        """What these people (none: everybody) do about then, and what need not be over when the step begins.

        What reads like a step that must be over is left out: it would be true.
        """
        row = self.rows[people]
        place = bisect_left(row, self._begins[step], key=self._begins.__getitem__)
        near = sorted(row[max(0, place - _LOOKED_AT) : place + _LOOKED_AT], key=lambda one: self._distance(one, step))
        return [self.words[one] for one in near if self._is_open(one, step)][:_AROUND]

    def _distance(self, one: int, step: int) -> float:
        return abs(self._begins[one] - self._begins[step])

    def _is_open(self, one: int, step: int) -> bool:
        return one != step and not any(self._before(like, step) for like in self._alike[self.words[one]])


def _question(proved: SortieEvidence, steps: _Steps, hold: Hold) -> Exercise:
    library, step, first = proved.library, proved.plan.steps[hold.step], proved.plan.steps[hold.first]
    who = people_called(library, hold.people)
    verb = "holds" if len(hold.people) == 1 else "hold"
    return Exercise(
        id=f"holds:{step.key}:{first.key}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: {who} {verb} before “{deed(step)}”. What must be over first?",
        answer=Choose((steps.words[first.index],), tuple(_others(steps, step, first))),
        because="Only this order is guaranteed, whatever the durations turn out to be.",
        look=look_at(step),
        people=hold.people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


def _others(steps: _Steps, step: PlannedStep, first: PlannedStep) -> Iterator[str]:
    """Those of the same people first, so that nobody is told by who it is."""
    alike = list(dict.fromkeys(steps.open(step.index, first.people)))
    yield from dict.fromkeys([*alike, *(steps.open(step.index, ()) if len(alike) < _ENOUGH else ())])


def _words(proved: SortieEvidence, step: PlannedStep) -> str:
    return f"{people_called(proved.library, step.people)}: {deed(step)}"


KIND = QuestionKind("holds", "What you hold for", make)
