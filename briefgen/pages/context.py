"""What every view has before it: the library, what was proved, and the small rows for the records that pages name."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import cached_property, lru_cache
from typing import Any, TypeVar, cast

from briefgen.language.wording import capital
from briefgen.model.library import SINGULAR, Library
from briefgen.model.people import Person
from briefgen.model.work import Step, Task
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.html.plots import Plots
from briefgen.pages.html.terms import Terms
from briefgen.pages.html.texts import Texts
from briefgen.pages.links import Links
from briefgen.pages.planning.verdict import Verdict
from briefgen.pages.rows import Badge, Chip, Link, MarkChip
from briefgen.pages.things.uses import UseEntry, uses_of
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import called
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.holds import Hold
from briefgen.proof.schedule.timeline import StepTimes
from briefgen.revision.comparison import Comparison
from briefgen.tables.kinds.drops import PRIORITIES, SERVING
from briefgen.tables.table import Table, addressed

Made = TypeVar("Made")

_POSTS = {"outside": "outside", "inside": "inside", "ground": "on the ground"}


class PageContext:
    """One site's views work here. Rows are made once and shared by all pages."""

    def __init__(
        self,
        evidence: Evidence,
        pictures: Pictures,
        verdict: Verdict = Verdict(),  # noqa: B008 (frozen)
        directory_urls: bool = False,
        since: Comparison | None = None,
        for_authors: bool = True,
    ) -> None:
        self.evidence = evidence
        self.library: Library = evidence.shown
        self.verdict = verdict
        self.since = since
        self.for_authors = for_authors
        self._kept: dict[Hashable, Any] = {}
        self.pictures = pictures
        self.links = Links(self.library, directory_urls)
        self.plots = Plots(self.library, self.links)
        self.texts = Texts(self.links, Terms(self.library.terms, self.links))
        self.by_task = lru_cache(maxsize=None)(self._by_task)
        self.holds = lru_cache(maxsize=None)(self._holds)
        self.link = lru_cache(maxsize=None)(self._link)
        self.mark = lru_cache(maxsize=None)(self._mark)
        self.chip = lru_cache(maxsize=None)(self._chip)

    def once(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """What `make` gives, made once for this site and kept under `key`."""
        if key not in self._kept:
            self._kept[key] = make()
        return cast(Made, self._kept[key])

    @cached_property
    def sorties(self) -> tuple[SortieEvidence, ...]:
        """The sorties in the programme's order."""
        return tuple(self.evidence.sorties.values())

    @cached_property
    def uses(self) -> Mapping[tuple[str, str], tuple[UseEntry, ...]]:
        """What uses each record, by its kind (in the singular) and id."""
        return uses_of(self.library)

    def sorties_of(self, task: str) -> tuple[SortieEvidence, ...]:
        """The sorties in which a task is done."""
        return self._sorties_by_task.get(task, ())

    @cached_property
    def _sorties_by_task(self) -> Mapping[str, tuple[SortieEvidence, ...]]:
        sorties: dict[str, tuple[SortieEvidence, ...]] = {}
        for proved in self.sorties:
            for task in self.by_task(proved):
                sorties[task] = (*sorties.get(task, ()), proved)
        return sorties

    def _by_task(self, proved: SortieEvidence) -> Mapping[str, tuple[StepTimes, ...]]:
        """A sortie's steps with their times, task by task, in the order of the plan."""
        found: dict[str, list[StepTimes]] = {}
        for times in proved.timeline.times:
            found.setdefault(task_of(times.step), []).append(times)
        return {task: tuple(row) for task, row in found.items()}

    def _holds(self, proved: SortieEvidence) -> Mapping[int, tuple[Hold, ...]]:
        """A sortie's holds by the step that is held."""
        found: dict[int, tuple[Hold, ...]] = {}
        for hold in proved.holds:
            found[hold.step] = (*found.get(hold.step, ()), hold)
        return found

    def tables(self, *tables: Table) -> tuple[Table, ...]:
        """Those that have rows, their records found on this site."""
        return tuple(addressed(table, self.links.target) for table in tables if table.rows)

    def label(self, kind: str, identifier: str) -> str:
        """What people call a record."""
        record = self.library.find(SINGULAR[kind], identifier)
        return self.texts.plain(record.label_text) if record else identifier

    def short(self, sortie: str) -> str:
        """A sortie's name up to its colon, for titles that say more."""
        return self.label("sortie", sortie).partition(": ")[0]

    def _link(self, kind: str, identifier: str, part: str = "") -> Link:
        """A record's name, leading to it; for a task's step, what is done."""
        words = self.label(kind, identifier)
        if kind == "task" and part:
            step = self.links.step(identifier, part)
            words = self.texts.plain(step.told).rstrip(".") if step else words
        return Link(capital(words), self.links.target(kind, identifier, part))

    def _mark(self, person: str) -> MarkChip:
        record: Person = self.library.people[person]
        name = record.callsign or record.label
        word = str(record.label) if record.callsign else ""
        mark, target = record.mark, self.links.target("person", person)
        word = f"{word}, {mark.said if mark else _POSTS[record.post]}".lstrip(", ")
        return MarkChip(str(name), word, mark.pattern if mark else "", (mark and mark.colour) or "", target)

    def marks(self, people: Iterable[str]) -> tuple[MarkChip, ...]:
        """The marks of people, in order."""
        return tuple(self.mark(str(person)) for person in people)

    def _chip(self, kind: str, identifier: str, state: str = "", verb: str = "") -> Chip:
        """A record as a chip with a state."""
        tool = self.library.tools.get(identifier) if kind == "tool" else None
        shown = "consumable" if tool and tool.consumable else kind
        label = capital(self.label(kind, identifier))
        return Chip(shown, label, self.links.target(kind, identifier), state, verb)

    def thing(self, identifier: str, state: str = "") -> Chip:
        """A tool or a bag as a chip."""
        return self.chip("tool" if identifier in self.library.tools else "bag", str(identifier), state)

    def spot(self, identifier: str) -> Chip:
        """A place or a bag as a chip."""
        return self.chip("place" if identifier in self.library.places else "bag", str(identifier))

    def callsign(self, person: str) -> str:
        """What is said on the loop, or the label."""
        return called(self.library, person)

    def priority(self, task: Task) -> Badge:
        """Whether a task can be dropped."""
        name = SERVING if task.serves else task.priority
        return Badge(PRIORITIES[name], "priority", name)

    def unless_required(self, task: Task) -> tuple[Badge, ...]:
        """Whether a task can be dropped, where it can: that the others are required goes without saying."""
        badge = self.priority(task)
        return () if badge.value == "required" else (badge,)

    def planned(self, step: PlannedStep) -> Link:
        """A step of a plan by what is done."""
        return self.link("task", task_of(step), step.step.key)

    def number(self, task: Task, step: Step) -> int:
        """The number under which a step is told; in a written way back its own."""
        return self.evidence.numbers.get(f"{task.id}/{step.key}", step.number)

    def step_link(self, task: Task, step: Step) -> Link:
        """A step by its number and what is done; of a block, for all its rounds."""
        return Link(
            f"Step {self.number(task, step)}, {self.texts.plain(step.do).rstrip('.')}",
            self.links.target("task", str(task.id), step.key),
        )


def task_of(step: PlannedStep) -> str:
    """The id of a planned step's task."""
    return step.key.partition("/")[0]
