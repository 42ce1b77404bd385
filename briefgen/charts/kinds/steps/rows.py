"""The rows of a task's diagram: its steps, who does them, and what lets them begin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.model.inheritance import hazard_names
from briefgen.model.people import Person
from briefgen.model.work import Step, Task
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.timeline import StepTimes, Timeline
from briefgen.source import StepRef
from briefgen.units import show_duration, show_elapsed


@dataclass(frozen=True)
class Column:
    """A person of the task, in the order of the sortie's flow."""

    number: int
    id: str
    person: Person
    href: str


@dataclass(frozen=True)
class Foreign:
    """A step of another task that must be over first."""

    words: str
    href: str


@dataclass(frozen=True)
class Node:
    """A step. `columns` are its people; `hazards` and `verifies` are words to print; `hold` is the longest wait."""

    key: str
    number: int
    columns: tuple[int, ...]
    do: str
    takes: str
    when: str
    href: str
    hazards: tuple[str, ...]
    verifies: tuple[str, ...]
    after: tuple[str, ...]
    foreign: tuple[Foreign, ...]
    critical: bool = False
    hold: str = ""


@dataclass(frozen=True)
class Rows:
    """The steps of a task in the order listed, and the links between people within it, as (first, second) keys."""

    sortie: str
    task: str
    title: str
    columns: tuple[Column, ...]
    nodes: tuple[Node, ...]
    links: tuple[tuple[str, str], ...]

    @property
    def sequences(self) -> tuple[tuple[str, str], ...]:
        """Each person's own order: neighbouring steps of a column."""
        pairs: list[tuple[str, str]] = []
        for column in self.columns:
            own = [node.key for node in self.nodes if column.number in node.columns]
            pairs += pairwise(own)
        return tuple(dict.fromkeys(pairs))


def steps_rows(evidence: SortieEvidence, task: Task, href: Href) -> Rows:
    """The rows of one task, a block once. Times are told only where the sortie's order has no circle."""
    columns = _columns(evidence, task, href)
    timeline = None if evidence.plan.circle else evidence.timeline
    nodes = tuple(
        _Writer(evidence, task, columns, timeline, href).node(step) for step in task.steps if not step.origin.again
    )
    people = {node.key: set(node.columns) for node in nodes}
    links = tuple(
        (first, node.key)
        for node in nodes
        for first in node.after
        if first in people and not people[first] & people[node.key]
    )
    return Rows(
        str(evidence.sortie.id),
        str(task.id),
        plain(task.title),
        columns,
        tuple(node for node in nodes if node.columns),
        links,
    )


def _columns(evidence: SortieEvidence, task: Task, href: Href) -> tuple[Column, ...]:
    named = dict.fromkeys(str(name) for step in task.steps for name in step.who)
    order = [*(str(name) for name in evidence.sortie.flow), *named]
    people = evidence.library.people
    used = [name for name in dict.fromkeys(order) if name in named and name in people]
    return tuple(Column(k, name, people[name], href("person", name, "")) for k, name in enumerate(used))


class _Writer:
    """Puts one task's steps into words."""

    def __init__(
        self,
        evidence: SortieEvidence,
        task: Task,
        columns: tuple[Column, ...],
        timeline: Timeline | None,
        href: Href,
    ) -> None:
        self.library = evidence.library
        self.plan = evidence.plan
        self.numbers = evidence.evidence.numbers
        self.task = task
        self.number = {column.id: column.number for column in columns}
        self.timeline = timeline
        self.href = href

    def node(self, step: Step) -> Node:
        rounds = self.task.named(f"{step.origin.block}/{step.origin.local}") if step.origin.block else (step,)
        every = [times for one in rounds if (times := self.times(one))]
        times = every[0] if every else None
        again = f", then {len(every) - 1} more times" if len(every) > 2 else ", then once more" if every[1:] else ""
        hazards = self.library.hazards
        return Node(
            key=step.key,
            number=self.numbers[f"{self.task.id}/{step.key}"],
            columns=tuple(sorted({self.number[name] for name in map(str, step.who) if name in self.number})),
            do=plain(step.do),
            takes=self.takes(step, times) + (f", {len(rounds)} rounds" if len(rounds) > 1 else ""),
            when=f"{show_elapsed(times.start)} to {show_elapsed(times.end)}{again}" if times else "",
            href=self.href("task", str(self.task.id), step.key),
            hazards=tuple(
                f"{hazards[name].signal.capitalize()}: {hazards[name].label_text}"
                for name in hazard_names(self.library, self.task, step)
            ),
            verifies=tuple(f"{self.equipment(str(name))}: {state}" for name, state in step.verifies.items()),
            after=tuple(dict.fromkeys(self.told(ref.step) for ref in step.after if ref.task == self.task.id)),
            foreign=tuple(self.foreign(step)),
            critical=any(one.critical for one in every),
            hold=self.hold(every),
        )  # fmt: skip

    def times(self, step: Step) -> StepTimes | None:
        planned = self.plan.step(f"{self.task.id}/{step.key}")
        return self.timeline.times[planned.index] if planned and self.timeline else None

    @staticmethod
    def takes(step: Step, times: StepTimes | None) -> str:
        return show_duration(times.end - times.start if times else step.takes.likely)

    def told(self, key: str) -> str:
        """The step of that key, or of its block's rounds the one that is told for all."""
        step = self.task.step(key)
        return self.task.named(f"{step.origin.block}/{step.origin.local}")[0].key if step and step.origin.block else key

    def hold(self, every: Sequence[StepTimes]) -> str:
        """The longest planned wait of somebody outside for this step, in any round, and for whom."""
        if self.timeline is None:
            return ""
        waits = [self.timeline.wait_before.get((name, one.step.index)) for one in every for name in one.step.outside]
        longest = max((wait for wait in waits if wait), key=lambda wait: wait.seconds, default=None)
        if longest is None:
            return ""
        causes = ", ".join(self.library.people[name].label_text for name in longest.causes)
        what = f"until {longest.until}" if longest.until else f"for {causes}"
        return f"{self.library.people[longest.person].label_text} waits {show_duration(longest.seconds)} {what}"

    def foreign(self, step: Step) -> Iterator[Foreign]:
        for ref in step.after:
            if ref.task != self.task.id:
                yield Foreign(self.foreign_words(ref), self.href("task", ref.task, ref.step))

    def foreign_words(self, ref: StepRef) -> str:
        task = self.library.tasks.get(ref.task)
        step = task.step(ref.step) if task else None
        if task is None or step is None:
            return str(ref)
        who = ", ".join(self.library.people[name].label_text for name in step.who if name in self.library.people)
        return f"after {plain(task.title)}, step {self.numbers[f'{task.id}/{step.key}']} ({who})"

    def equipment(self, name: str) -> str:
        record = self.library.equipment.get(name)
        return record.label_text if record else name
