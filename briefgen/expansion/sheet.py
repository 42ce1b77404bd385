"""A task laid out: every step that is planned, in order, with what it comes from and what it is called."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from briefgen.model.steps import Origin, Step
from briefgen.model.tasks import Block
from briefgen.source import StepRef


@dataclass(eq=False)
class Draft:
    """A step that is to be planned: what is written of it, and for what it waits.

    `above` is what stands above it as written, `rounds` the block of which it is a step, `row` its place in the round.
    """

    task: str
    step: Step
    number: int
    key: str
    origin: Origin
    above: Draft | Rounds | None = None
    rounds: Rounds | None = None
    row: int = 0
    confirms: Draft | None = None
    undoes: str = ""
    case: str = ""
    after: list[StepRef] = field(default_factory=list)
    _awaited: set[str] = field(default_factory=set)

    @property
    def name(self) -> str:
        """Its name everywhere: `task/step`, or `task/block/item/step`."""
        return f"{self.task}/{self.key}"

    @property
    def people(self) -> frozenset[str]:
        """Who does it, by id."""
        return frozenset(map(str, self.step.who))

    def wait_for(self, ref: StepRef) -> None:
        """Waits for a step, once."""
        if str(ref) not in self._awaited:
            self._awaited.add(str(ref))
            self.after.append(ref)

    def planned(self) -> Step:
        """The step, with everything written out."""
        confirms = self.confirms.key if self.confirms else ""
        origin = replace(self.origin, confirms=confirms, after=self.step.after, undoes=self.undoes, case=self.case)
        return self.step.made(origin, self.number, self.key, after=tuple(self.after), confirmed_by=None, in_case=())


@dataclass(eq=False)
class Rounds:
    """A block, round by round. `ends` are the rows that are over last in every round, in the order listed."""

    block: Block
    rounds: list[list[Draft]] = field(default_factory=list)
    ends: tuple[int, ...] = ()

    def beside(self, draft: Draft, name: str) -> Draft | None:
        """The step of that id or number in the same round."""
        return self.named(self.rounds[draft.origin.round - 1], name)

    def named(self, round_: list[Draft], name: str) -> Draft | None:
        """The step of that id or number in a round."""
        return next((one for one in round_ if name in (one.origin.local, str(one.number))), None)

    @property
    def last(self) -> list[Draft]:
        """The steps after which the whole block is over."""
        return [self.rounds[-1][row] for row in self.ends if row < len(self.rounds[-1])] if self.rounds else []


@dataclass
class TaskSheet:
    """A task: its drafts in order, and what is called how in it."""

    task: str
    drafts: list[Draft] = field(default_factory=list)
    steps: dict[str, Draft] = field(default_factory=dict)
    blocks: dict[str, Rounds] = field(default_factory=dict)

    def put(self, draft: Draft) -> None:
        """One more step, at the end."""
        self.drafts.append(draft)
        self.steps.setdefault(draft.key, draft)
        if draft.rounds is None:
            self.steps.setdefault(str(draft.number), draft)

    def means(self, name: str, near: Draft | None = None) -> list[Draft] | None:
        """The steps to wait for where a step is named within its task; `near` is the step that waits.

        A block's step is meant in the round of the one that waits, or else in the last. None where there is no such.
        """
        block, _, step = name.partition("/")
        if near and near.rounds and not step and (found := near.rounds.beside(near, name)):
            return [found]
        if not step and name in self.steps:
            return [self.steps[name]]
        rounds = self.blocks.get(block)
        if rounds is None or name in self.steps:
            return [self.steps[name]] if name in self.steps else None
        if not step:
            return rounds.last
        if near and near.rounds is rounds:
            within = rounds.beside(near, step)
            return [within] if within else None
        there = (rounds.named(round_, step) for round_ in reversed(rounds.rounds))
        return next(([one] for one in there if one), None)


Sheets = Mapping[str, TaskSheet]
