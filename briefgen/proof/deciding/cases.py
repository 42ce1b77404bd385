"""Cases: what is done if a step does not go as planned, each a plan of its own, taken once.

The step has taken its time, tools and bags are where it puts them and people where it leads; what it sets is not known
until a step of the case sets it or looks, and it has confirmed nothing. The case's steps follow it, and whatever the
order puts after the step waits for them. Who does the step does them next; somebody else who does one thing after
another may be busy with any of several things just then, and for each of these there is a plan. Pure.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, pairwise, product
from typing import TYPE_CHECKING

from briefgen.model.fields.limits import CASE_PLANS, CASES
from briefgen.model.fields.values import GO_ON, LEAVE
from briefgen.model.steps import PlannedCase, Step
from briefgen.proof.ordering.states import prove_states
from briefgen.proof.plan import Plan, PlannedStep, Precedence, planned_by
from briefgen.proof.schedule.network import ROUNDING, CircleFound
from briefgen.proof.schedule.timeline import make_timeline
from briefgen.proof.soundness import Fault, FaultKind, all_faults
from briefgen.source import Text

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence

UNKNOWN = "(not known)"
"""The state of what a step was to set that did not go as planned. No author can write it of an equipment unseen."""


@dataclass(frozen=True)
class CaseProof:
    """A case of a sortie. `backwards`: it leads to no step that surely comes later; `unproved`: there are too many.

    `absent` are people outside who are not out on this sortie; `skipped` the steps that are not done then; `later` by
    how many seconds the sortie ends later, at most, and `finish` when; `dark` the steps that then need light at night.
    """

    case: PlannedCase
    step: PlannedStep
    backwards: bool = False
    unproved: bool = False
    absent: tuple[str, ...] = ()
    fault: Fault | None = None
    skipped: tuple[PlannedStep, ...] = ()
    finish: float = 0.0
    later: float = 0.0
    dark: tuple[str, ...] = ()


def prove_cases(sortie: SortieEvidence) -> Iterator[CaseProof]:
    """Every case of the steps that are flown, in the order of the plan. A plan without circles."""
    plan = sortie.plan
    number, budget = 0, CASE_PLANS
    for step in plan.steps:
        for case in step.task.cases:
            if case.of.step != step.step.key:
                continue
            number += 1
            branch = Branch(plan, step, case)
            absent = tuple(sorted({*branch.outsiders} - {*plan.outside}))
            if branch.backwards or absent:
                yield CaseProof(case, step, branch.backwards, absent=absent)
                continue
            budget -= branch.many * (len(plan.steps) + len(case.steps))
            if number > CASES or budget < 0:
                yield CaseProof(case, step, unproved=True)
                continue
            yield _judged(sortie, branch)


def _judged(sortie: SortieEvidence, branch: Branch) -> CaseProof:
    finish, dark = 0.0, dict[str, None]()
    fault: Fault | None = next(iter(branch.unprepared()), None)
    for plan in branch.plans():
        try:
            timeline = make_timeline(plan, sortie.evidence.routes)
        except CircleFound:  # no way through: a case whose steps wait for each other
            fault = fault or (FaultKind.CLASH, branch.step.key)
            continue
        finish = max(finish, timeline.finish)
        for one in all_faults(sortie, plan, timeline):
            if one[0] == FaultKind.DARK:
                dark[one[1]] = None
            elif fault is None and one not in sortie.faults and not _pardoned(sortie, plan, timeline.finish, one):
                fault = one
    skipped = tuple(branch.plan.steps[index] for index in sorted(branch.dropped))
    later = max(0.0, finish - sortie.timeline.finish)
    return CaseProof(branch.case, branch.step, fault=fault, skipped=skipped, finish=finish, later=later,
                     dark=tuple(dark))  # fmt: skip


def _pardoned(sortie: SortieEvidence, plan: Plan, finish: float, fault: Fault) -> bool:
    """A case may use the time kept free at the end, and may leave what the sortie found as it found it."""
    if fault[0] == FaultKind.LIMIT:
        return finish <= sortie.sortie.limits.length.likely + ROUNDING
    if fault[0] not in (FaultKind.ENDS, FaultKind.CARRIED) or fault[1] not in plan.library.equipment:
        return False
    states = prove_states(plan, sortie.state_starts)
    kind, equipment, *names = fault
    items = [one for one in states.ends if one[0] == equipment and (kind == FaultKind.CARRIED or one[1] == (*names,))]
    return all(states.outcomes(item) == {sortie.state_starts[item].state} for item in items)


class Branch:
    """A case in a plan: what is skipped, and the plans that follow."""

    def __init__(self, plan: Plan, step: PlannedStep, case: PlannedCase) -> None:
        self.plan, self.step, self.case = plan, step, case
        self.left: frozenset[str] = frozenset()
        goal = None if case.then in (GO_ON, LEAVE) else plan.step(str(case.then))
        self.backwards = case.then not in (GO_ON, LEAVE) and (goal is None or not self._later(goal.index))
        self.dropped = self._dropped(goal)

    def _later(self, index: int) -> bool:
        return self.plan.order.before(self.step.index, index)

    def _dropped(self, goal: PlannedStep | None) -> frozenset[int]:
        """What is not done then: all between the step and where the plan goes on, or what is left of the task."""
        plan, order = self.plan, self.plan.order
        if goal is not None:
            return frozenset(
                one.index for one in plan.steps if self._later(one.index) and order.before(one.index, goal.index)
            )
        if self.case.then != LEAVE:
            return frozenset()
        self.left = frozenset(self._left())
        return frozenset(one.index for one in plan.steps if str(one.task.id) in self.left and self._later(one.index))

    def _left(self) -> set[str]:
        """The task, and every task that needs it, or serves nothing else, and of which nothing can have begun."""
        left = {str(self.step.task.id)}
        begun = {str(one.task.id) for one in self.plan.steps if not self._later(one.index)}
        tasks = {str(one.task.id): one.task for one in self.plan.steps}
        more = True
        while more:
            more = False
            for name, task in tasks.items():
                served = {*map(str, task.serves)} & tasks.keys()
                for_nothing = bool(served) and served <= left
                if name not in left | begun and (for_nothing or not left.isdisjoint(map(str, task.needed))):
                    left.add(name)
                    more = True
        return left

    def unprepared(self) -> Iterator[Fault]:
        """What is still done and needs a task that is left."""
        for one in self.plan.steps:
            name = str(one.task.id)
            if name not in self.left and self._later(one.index):
                for need in one.task.needed:
                    if str(need) in self.left:
                        yield FaultKind.PREREQUISITE, name, str(need)

    @property
    def outsiders(self) -> Iterator[str]:
        """The people outside who do steps of the case."""
        people = self.plan.library.people
        for step in self.case.steps:
            yield from (str(who) for who in step.who if who in people and people[who].outside)

    @property
    def many(self) -> int:
        """How many plans there are."""
        return math.prod(len(row) for row in self._seats().values())

    def _seats(self) -> Mapping[str, range]:
        """For every helper who does one thing after another: how many of their steps may be begun by then."""
        plan, seats = self.plan, dict[str, range]()
        for person in dict.fromkeys(str(who) for step in self.case.steps for who in step.who):
            if person in plan.chains and person not in self.step.people:
                flow = [index for index in plan.chains[person] if index not in self.dropped]
                sure = sum(plan.order.before(index, self.step.index) for index in flow)
                most = next((seat for seat, index in enumerate(flow) if self._later(index)), len(flow))
                seats[person] = range(sure, most + 1)
        return seats

    def plans(self) -> Iterator[Plan]:
        """Every plan that may follow, as many as are proved."""
        seats = self._seats()
        for row in islice(product(*seats.values()), CASE_PLANS):
            yield self._plan(dict(zip(seats, row, strict=True)))

    def _plan(self, seats: Mapping[str, int]) -> Plan:
        plan, library = self.plan, self.plan.library
        kept = [one for one in plan.steps if one.index not in self.dropped]
        number = {one.index: new for new, one in enumerate(kept)}
        steps = [replace(one, index=number[one.index], step=self._tried(one)) for one in kept]
        for written in self._settling():
            people = tuple(str(who) for who in written.who if who in library.people)
            steps.append(planned_by(library, self.step.task, written, people, len(steps)))
        own = steps[len(kept) :]
        flows, free = self._flows(number, own, seats)
        links = [Precedence(number[one.first], number[one.second], one.position) for one in plan.links
                 if one.first in number and one.second in number]  # fmt: skip
        links += self._ties(number, own)
        index = {one.key: one.index for one in steps}
        return Plan(library, plan.sortie, tuple(steps), flows, tuple(links), index, free)

    def _tried(self, one: PlannedStep) -> Step:
        if one is not self.step:
            return one.step
        step = one.step
        unknown = {name: Text(UNKNOWN, state.position) for name, state in step.sets.items()}
        return step.made(step.origin, step.number, step.key, sets=unknown, verifies={})

    def _settling(self) -> Iterator[Step]:
        """The case's steps; the first that looks at what is not known settles it."""
        open_ = {str(name) for name in self.step.step.sets}
        for step in self.case.steps:
            seen = {name: state for name, state in step.verifies.items() if str(name) in open_ - {*map(str, step.sets)}}
            open_ -= {*map(str, step.sets), *map(str, seen)}
            if not seen:
                yield step
                continue
            rest = {name: state for name, state in step.verifies.items() if name not in seen}
            yield step.made(step.origin, step.number, step.key, sets={**step.sets, **seen}, verifies=rest)

    def _flows(
        self, number: Mapping[int, int], own: Sequence[PlannedStep], seats: Mapping[str, int]
    ) -> tuple[dict[str, tuple[int, ...]], frozenset[str]]:
        plan, free = self.plan, self.plan.free
        flows = {who: [number[one] for one in flow if one in number] for who, flow in plan.flows.items()}
        for person in dict.fromkeys(who for one in own for who in one.people):
            mine = [one.index for one in own if person in one.people]
            if person not in flows:
                free |= {person}
            flow = flows.get(person, [])
            if person in self.step.people and person not in free:
                seat = flow.index(number[self.step.index]) + 1
            else:
                seat = seats.get(person, len(flow))
            flows[person] = [*flow[:seat], *mine, *flow[seat:]]
        return {who: tuple(flow) for who, flow in flows.items() if flow}, free

    def _ties(self, number: Mapping[int, int], own: Sequence[PlannedStep]) -> Iterator[Precedence]:
        """The case follows its step, its steps wait for each other as written, and what follows waits for all."""
        place = self.case.when.position
        known = {one.key: one.index for one in own}
        for one in own:
            yield Precedence(number[self.step.index], one.index, place)
            for ref in one.step.after:
                if str(ref) in known:
                    yield Precedence(known[str(ref)], one.index, ref.position)
        for next_ in self._next(number):
            yield from (Precedence(one.index, next_, place) for one in own)

    def _next(self, number: Mapping[int, int]) -> list[int]:
        """The steps still done that come next after the step, be it past some that are not."""
        after: dict[int, list[int]] = {}
        for link in self.plan.links:
            after.setdefault(link.first, []).append(link.second)
        for flow in self.plan.chains.values():
            for first, second in pairwise(flow):
                after.setdefault(first, []).append(second)
        ahead, seen, found = [self.step.index], {self.step.index}, list[int]()
        while ahead:
            for index in after.get(ahead.pop(), ()):
                if index not in seen:
                    seen.add(index)
                    if index in number:
                        found.append(number[index])
                    else:
                        ahead.append(index)
        return found
