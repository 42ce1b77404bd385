"""Every equipment's state, proved by order: what each step relies on, confirmations of controls, and the end.

Pure: a plan and the states at its start go in, proof and end states come out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.model.inheritance import asked_states
from briefgen.model.things import Equipment
from briefgen.proof.ordering.reliance import Found, Reliance
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.source import Text

Item = tuple[str, tuple[str, ...]]
"""An equipment's id and the names of its parts (none for an equipment without parts)."""


@dataclass(frozen=True)
class AtStart:
    """What an item is like at the start of a sortie. `unseen_by_others`: who set a control that nobody else has yet
    confirmed; for all else, and for a control that was confirmed, nobody.
    """

    state: str
    unseen_by_others: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Need:
    """A step needs an item in a state; `words` is the state as the author wrote it there, with its place.

    `relies`: hands depend on it. `confirms`: somebody looks whether it is so. A step may do both. Where an inherited
    hazard asks for it, `hazard` is that hazard, and `words` has the place of the word through which the step has it.
    """

    step: int
    item: Item
    state: str
    words: Text
    relies: bool
    confirms: bool
    hazard: str = ""


@dataclass(frozen=True)
class Met:
    """A need and what the step finds. `confirmed_by` is the step that confirmed a control, if one did."""

    need: Need
    answer: Found[str]
    control: bool
    confirmed: bool
    confirmed_by: int | None = None

    @property
    def wrong(self) -> bool:
        """The order is certain, and the state is another one."""
        return self.answer.certain and self.answer.value != self.need.state

    @property
    def unconfirmed(self) -> bool:
        """A control is relied on before anybody other than who set it has looked."""
        return self.control and self.answer.certain and not self.wrong and not self.confirmed

    @property
    def fails(self) -> bool:
        """The step must not rely on it."""
        return not self.answer.certain or self.wrong or self.unconfirmed


@dataclass(frozen=True)
class StateProof:
    """What every need finds, and how every item ends; an item whose end depends on luck is None in `ends`."""

    plan: Plan
    starts: Mapping[Item, AtStart]
    met: tuple[Met, ...]
    endings: Mapping[Item, Found[str]]
    ends: Mapping[Item, AtStart]
    changes: Mapping[Item, Mapping[int, str]]
    reliance: Reliance[Item, str]
    looks: Looks

    def outcomes(self, item: Item) -> frozenset[str]:
        """Every state in which an item may end, whatever the durations turn out to be."""
        answer = self.endings.get(item)
        if answer is None or not answer.rivals:
            return frozenset({self.ends[item].state})
        return frozenset(self.changes[item][index] for index in answer.rivals)

    def ends_well(self, item: Item, allowed: frozenset[str], last: bool) -> bool:
        """Whether an item ends as it may: in the `last` sortie in any of the allowed states, else in one for sure.

        What a later sortie begins with must not be luck, nor who must not be the one to confirm it.
        """
        answer = self.endings.get(item)
        return self.outcomes(item) <= allowed and (last or answer is None or answer.certain)


def first_states(equipment: Mapping[str, Equipment]) -> dict[Item, AtStart]:
    """Every item as the first sortie finds it."""
    return {(name, item): AtStart(str(record.starts)) for name, record in equipment.items() for item in record.items}


def prove_states(plan: Plan, starts: Mapping[Item, AtStart]) -> StateProof:
    """The proof for a plan without circles. O((needs + changes) × chains × log changes)."""
    changes = _changes(plan)
    reliance = Reliance(plan.order, {item: held.state for item, held in starts.items()}, changes)
    looks = Looks(plan, starts)
    met = tuple(_meet(plan, reliance, looks, need) for need in needs(plan))
    endings = {item: reliance.finally_(item) for item in changes}
    ends = dict(starts)
    for item in {item for item, held in starts.items() if held.unseen_by_others} | set(endings):
        answer = endings.get(item, Found(starts[item].state, None))
        ends[item] = AtStart(answer.value, looks.unseen_at_end(item, answer))
    return StateProof(plan, starts, met, endings, ends, changes, reliance, looks)


def items_named(plan: Plan, step: PlannedStep, name: str) -> tuple[Item, ...]:
    """The items that a step means when it names an equipment."""
    record = plan.library.equipment.get(name)
    if record is None:
        return ()
    each, origin = step.step.each, step.step.origin
    chosen = step.items if each and each.equipment == name else record.items
    if origin.equipment == name and origin.item and not (each and each.equipment == name):
        chosen = (origin.item,)  # in a block, this round's item
    return tuple((name, item) for item in chosen)


def set_by(plan: Plan, step: PlannedStep) -> dict[Item, str]:
    """What a step makes of each item that it sets."""
    return {item: str(state) for name, state in step.step.sets.items() for item in items_named(plan, step, str(name))}


def seen_by(plan: Plan, step: PlannedStep) -> Iterator[tuple[Item, str]]:
    """Every item that a step confirms, and the state in which it does."""
    for name, state in step.step.verifies.items():
        yield from ((item, str(state)) for item in items_named(plan, step, str(name)))


def needs(plan: Plan) -> Iterator[Need]:
    """Every state that a step requires or confirms, and that its inherited hazards ask for."""
    for step in plan.steps:
        yield from needs_of(plan, step)


def needs_of(plan: Plan, step: PlannedStep) -> Iterator[Need]:
    """Every state that one step requires or confirms, and that its inherited hazards ask for."""
    yield from _asked_by_hazards(plan, step)
    for named, confirms in ((step.step.requires, False), (step.step.verifies, True)):
        for name, state in named.items():
            if confirms and step.step.requires.get(name) == state:
                continue  # one mistake, one finding
            if confirms and step.step.sets.get(name) == state:
                continue  # it looks at its own work
            looks = confirms or step.step.verifies.get(name) == state
            for item in items_named(plan, step, str(name)):
                yield Need(step.index, item, str(state), state, relies=not confirms, confirms=looks)


def _asked_by_hazards(plan: Plan, step: PlannedStep) -> Iterator[Need]:
    """The controls of inherited hazards, but for what the step requires itself, and for what it brings about."""
    for name, state, carried in asked_states(plan.library, step.step, step.hazards):
        words = Text(str(state), carried.through.position)
        looks = step.step.verifies.get(name) == state
        for item in items_named(plan, step, str(name)):
            yield Need(step.index, item, str(state), words, relies=True, confirms=looks, hazard=str(carried.hazard))


def _changes(plan: Plan) -> dict[Item, dict[int, str]]:
    changes: dict[Item, dict[int, str]] = {}
    for step in plan.steps:
        for item, state in set_by(plan, step).items():
            changes.setdefault(item, {})[step.index] = state
    return changes


class Looks:
    """All confirming steps of a plan by item and state, and who may not confirm what."""

    def __init__(self, plan: Plan, starts: Mapping[Item, AtStart]) -> None:
        self._plan = plan
        self._starts = starts
        self.steps: dict[tuple[Item, str], list[int]] = {}
        for step in plan.steps:
            for about in seen_by(plan, step):
                self.steps.setdefault(about, []).append(step.index)

    def setters(self, item: Item, answer: Found[str]) -> frozenset[str]:
        """Who set an item and so may not confirm it; nobody where it is as first found, or confirmed long ago."""
        if answer.source is None:
            return self._starts[item].unseen_by_others
        return frozenset(self._plan.steps[answer.source].people)

    def confirming(self, item: Item, answer: Found[str]) -> Iterator[int]:
        """The steps by which somebody other than who set an item confirms it, after that."""
        order, setters = self._plan.order, self.setters(item, answer)
        for look in self.steps.get((item, answer.value), ()):
            early = answer.source is not None and not order.before(answer.source, look)
            if not early and set(self._plan.steps[look].people) - setters:
                yield look

    def unseen_at_end(self, item: Item, answer: Found[str]) -> frozenset[str]:
        """Who must not be the one to confirm a control in the next sortie, because nobody else did in this one."""
        if not self._plan.library.equipment[item[0]].control or any(True for _ in self.confirming(item, answer)):
            return frozenset()
        return self.setters(item, answer)


def _meet(plan: Plan, reliance: Reliance[Item, str], looks: Looks, need: Need) -> Met:
    answer = reliance.at(need.item, need.step)
    control = plan.library.needs_eyes(need.item[0], need.state)
    setters = looks.setters(need.item, answer) if control and need.relies else frozenset[str]()
    own_look = need.confirms and bool(set(plan.steps[need.step].people) - setters)
    if not setters or own_look:
        return Met(need, answer, control, confirmed=True)
    by = next((look for look in looks.confirming(need.item, answer) if plan.order.before(look, need.step)), None)
    return Met(need, answer, control, confirmed=by is not None, confirmed_by=by)
