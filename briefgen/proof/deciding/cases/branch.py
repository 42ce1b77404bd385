"""The plans that may follow a case: its step did not go as planned, and its own steps are done.

The step has taken its time and spent what it spends, and has brought about nothing: tools, bags, people and tethers are
where they were, whoever was in a restraint is in it still, and nothing is confirmed. What it was to set is not known
until a step of the case sets it or looks. The case's steps follow it, and whatever the order puts after the step waits
for them. Who does the step does them next; somebody else who does one thing after
another may be busy with any of several things just then, and for each of these there is a plan. Pure.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice, pairwise, product

from briefgen.model.fields.limits import CASE_PLANS
from briefgen.model.fields.values import GO_ON, LEAVE
from briefgen.model.steps import PlannedCase, Step
from briefgen.proof.plan import Plan, PlannedStep, Precedence, planned_by
from briefgen.proof.soundness import Fault, FaultKind
from briefgen.source import Text

UNKNOWN = "(not known)"
"""The state of what a step was to set that did not go as planned. No author can write it of an equipment unseen."""


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
    def absent(self) -> tuple[str, ...]:
        """The people outside who do steps of the case and are not out."""
        people = self.plan.library.people
        named = {str(who) for step in self.case.steps for who in step.who if who in people and people[who].outside}
        return tuple(sorted(named - {*self.plan.outside}))

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
        steps = [replace(one, index=number[one.index], step=self._not_done(one)) for one in kept]
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

    def _not_done(self, one: PlannedStep) -> Step:
        if one is not self.step:
            return one.step
        step = one.step
        unknown = {name: Text(UNKNOWN, state.position) for name, state in step.sets.items()}
        # What it was to take is neither used nor spent in it, and nobody works in what they were to get into.
        uses = tuple(use for use in step.uses if use.tool not in step.picks)
        spends = {lot: number for lot, number in step.spends.items() if lot not in step.picks}
        restraint = None if step.restraint == step.enters else step.restraint
        return step.made(
            step.origin,
            step.number,
            step.key,
            sets=unknown,
            verifies={},
            picks=(),
            leaves={},
            hands={},
            to=None,
            enters=None,
            exits=None,
            anchors=None,
            uses=uses,
            spends=spends,
            restraint=restraint,
        )

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
