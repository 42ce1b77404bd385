"""Judges questions without the proof: by every execution of a plan, and by playing the steps one after another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from briefgen.practice.question import Choose, Exercise, Sequence
from briefgen.practice.words import deed
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_called
from briefgen.proof.plan import Plan, PlannedStep
from tests.proof.executions import State


class Judge:
    """One sortie. `states` are all situations of all executions, or of some."""

    def __init__(self, proved: SortieEvidence, states: list[State]) -> None:
        self.proved, self.plan, self.states = proved, proved.plan, states
        self.library = proved.library
        self.found = dict(played(proved.plan, {name: one.id for name, one in proved.spot_starts.items()}))

    def lies(self, question: Exercise) -> Iterator[str]:
        """What is not so about a question: a right answer that is wrong, or a wrong one that is right."""
        yield from getattr(self, f"_{question.kind}", lambda _: ())(question)

    def words(self, step: PlannedStep) -> str:
        return f"{people_called(self.library, step.people)}: {deed(step)}"

    def over_whenever_begun(self, first: int, second: int) -> bool:
        """Whether `first` is over in every situation in which `second` has begun."""
        return all(first in done for done, running in self.states if second in done or second in running)

    def _order(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Sequence)
        _, person, key = question.id.split(":")
        task = key.partition("/")[0]
        flow = [self.plan.steps[index] for index in self.plan.flows[person]]
        own = [step for step in flow if str(step.task.id) == task]
        for one, other in pairwise(question.answer.items):
            first = next(step for step in own if deed(step) == one)
            second = next(step for step in own if deed(step) == other)
            if not self.over_whenever_begun(first.index, second.index):
                yield f"{other} can begin before {one} is over"

    def _holds(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Choose)
        _, held, first = question.id.split(":")
        step = self.step(held)
        if not self.over_whenever_begun(self.step(first).index, step.index):
            yield f"{held} can begin before {first} is over"
        for words in question.answer.wrong:
            for one in self.plan.steps:
                if self.words(one) == words and self.over_whenever_begun(one.index, step.index):
                    yield f"{one.key} is always over before {held}"

    def _origins(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Choose)
        _, key, thing = question.id.split(":")
        around = self.found[key, thing]
        names = [self._name(one) for one in around]
        if question.answer.right != (names[0],):
            yield f"{thing} is in {names[0]}"
        for words in set(names) & set(question.answer.wrong):
            yield f"{thing} is in {words}, too"

    def _controls(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Choose)
        _, key, hazard, control = question.id.split(":")
        state = self.library.hazards[hazard].controls[control]  # type: ignore[index]
        if question.answer.right != (f"{self.library.equipment[control].label_text}: {state}",):
            yield f"{hazard} needs {control} {state}"
        step = self.step(key)
        asked = dict(step.step.requires)
        needed = {f"{self.library.equipment[name].label_text}: {state}" for name, state in asked.items()}
        for carried in step.hazards:
            for name, state in self.library.hazards[carried.hazard].controls.items():
                needed.add(f"{self.library.equipment[name].label_text}: {state}")
        for words in needed & set(question.answer.wrong):
            yield f"{words} must hold, too"

    def _confirmations(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Choose)
        _, key, equipment = question.id.split(":")
        state = self.step(key).step.verifies[equipment]  # type: ignore[index]
        looking = {
            people_called(self.library, [person])
            for step in self.plan.steps for person in step.people
            if any((name, value) == (equipment, state) for name, value in step.step.verifies.items())
        }  # fmt: skip
        if not set(question.answer.right) <= looking:
            yield f"{question.answer.right} does not confirm it"
        for words in looking & set(question.answer.wrong):
            yield f"{words} confirms it, too"

    def _callouts(self, question: Exercise) -> Iterator[str]:
        assert isinstance(question.answer, Choose)
        _, figure, callout = question.id.split(":")
        shows = {str(name): str(one.shows) for name, one in self.library.figures[figure].callouts.items()}  # type: ignore[index]
        if question.answer.right != (callout,) or question.figure != figure:
            yield f"{callout} is asked for"
        if not any(str(ref) == figure and ref.part == callout for step in self.plan.steps for ref in step.step.figures):
            yield f"nobody looks at {callout}"
        for name in question.answer.wrong:
            if shows[name].partition("#")[0] == shows[callout].partition("#")[0]:
                yield f"{name} shows it, too"

    def step(self, key: str) -> PlannedStep:
        found = self.plan.step(key)
        assert found is not None, key
        return found

    def _name(self, spot: str) -> str:
        for records in (self.library.bags, self.library.places):
            if spot in records:
                return str(records[spot].label_text)
        return spot


def one_execution(plan: Plan) -> list[State]:
    """The situations of one execution, in which one step follows another."""
    earlier: dict[int, set[int]] = {step.index: set() for step in plan.steps}
    for flow in plan.chains.values():
        for first, second in pairwise(flow):
            earlier[second].add(first)
    for link in plan.links:
        earlier[link.second].add(link.first)
    done: frozenset[int] = frozenset()
    states: list[State] = []
    while len(done) < len(plan.steps):
        index = next(one for one in earlier if one not in done and earlier[one] <= done)
        states.append((done, frozenset([index])))
        done |= {index}
    return [*states, (done, frozenset())]


def played(plan: Plan, spots: dict[str, str]) -> Iterator[tuple[tuple[str, str], list[str]]]:
    """Where each step finds each thing that it takes or uses, from the nearest outwards."""
    spots = dict(spots)
    for _, running in one_execution(plan):
        for index in running:
            step = plan.steps[index]
            things = [*step.step.picks, *(use.tool for use in step.step.uses), *step.step.spends]
            for thing in map(str, things):
                around, where = [], spots.get(thing)
                while where is not None and where not in around:
                    around.append(where)
                    where = spots.get(where)
                yield (step.key, thing), around
            for thing in step.step.picks:
                spots[str(thing)] = next(person for person in step.people if person in plan.outside)
            spots |= {str(thing): str(person) for thing, person in step.step.hands.items()}
            spots |= {str(thing): str(spot) for thing, spot in step.step.leaves.items()}
