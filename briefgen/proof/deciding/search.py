"""The best order in which to take up get-aheads, by looking at every order, each plan proved before it counts.

Each one taken up is put at its cheapest place in the plan as it is by then; what comes after that must still end within
the limit. A dearer place early on that would leave room for more is not looked for. Orders that lead to the same plan
are followed once. Best is the plan with most of them; then the one that ends earliest; then with the least ways. A plan
holds where it has no fault that the plan as it is has not. Times with the likely durations, in seconds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from briefgen.model.work import Task
from briefgen.proof.deciding.places import GapSite, Placed, cheapest, sites
from briefgen.proof.deciding.plans import Flows, Pool, Trial, blocks_of, flows_of, versions
from briefgen.proof.deciding.serving import served
from briefgen.proof.schedule.network import ROUNDING
from briefgen.proof.soundness import Fault

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence

FEW = 8
"""So many get-aheads are tried in every order; of more, the one that is cheapest at the moment is taken up next."""
MOST_PROOFS = 60
"""After so many plans that do not hold the search gives up and says so."""

Names = tuple[tuple[str, tuple[str, ...]], ...]
"""Tasks with the names of their sites."""


@dataclass(frozen=True)
class Choice:
    """A plan with get-aheads taken up in an order, each at its site."""

    trial: Trial
    taken: tuple[tuple[str, GapSite], ...] = ()
    all_tried: bool = True

    @property
    def order(self) -> tuple[int, tuple[float, float], tuple[str, ...]]:
        """The best one sorts first."""
        return -len(self.taken), self.trial.cost, tuple(task for task, _ in self.taken)

    @property
    def names(self) -> Names:
        """Each task taken up, with the name of the place where it stands."""
        return tuple((task, site.name) for task, site in self.taken)


@dataclass
class Search:
    """All that is tried for one sortie. `banned` are beginnings of choices that have proved not to hold; one that is a
    single task at a site holds nowhere, whatever is taken up before.
    """

    proved: SortieEvidence
    tasks: tuple[str, ...]
    pool: Pool | None = None
    banned: set[Names] = field(default_factory=set)
    _proved: dict[Flows, Fault | None] = field(default_factory=dict)
    _sites: dict[tuple[Flows, str], list[GapSite]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        proved = self.proved
        if self.pool is None:
            self.pool = Pool(proved.plan, [self.versions(task) for task in self.tasks], proved.evidence.routes)
        self.start = Choice(Trial(self.pool, flows_of(proved.plan)))
        self.most = proved.sortie.limits.usable + ROUNDING
        self._earlier = proved.before.tasks_so_far if proved.before else frozenset[str]()

    def versions(self, task: str) -> tuple[Task, ...]:
        """A task for each choice of people who may do it, in the order of the flows."""
        return versions(self.proved.library.tasks[task], self.proved.plan.outside)

    def best(self) -> Choice:
        """The best choice that holds; the plan as it is where nothing fits."""
        for _ in range(MOST_PROOFS):
            choice = min(filter(self._of_use, self._choices()), key=lambda one: one.order)
            if not choice.taken or self.holds(choice.trial):
                return choice
            self._ban(choice)
        return Choice(self.start.trial, all_tried=False)

    def places(self, trial: Trial, task: str) -> list[GapSite]:
        """Where a task could stand in a plan, the cheapest first."""
        key = (trial.flows, task)
        if key not in self._sites:
            timeline = trial.timeline
            assert timeline is not None  # only plans that have times are built on
            rows = [sites(trial, timeline, one, self._earlier) for one in self.versions(task)]
            self._sites[key] = sorted((site for row in rows for site in row), key=lambda site: site.order)
        return self._sites[key]

    def place(self, choice: Choice, task: str) -> Choice | None:
        """A choice with one more task, at its cheapest place."""
        places = self.places(choice.trial, task)
        found: Placed | None = cheapest(choice.trial, places, self.most, lambda site: self.may(choice, task, site))
        if found is None:
            return None
        return Choice(found.trial, (*choice.taken, (task, found.site)), choice.all_tried and found.all_tried)

    def may(self, choice: Choice, task: str, site: GapSite) -> bool:
        """Whether nothing speaks against a task at a site so far."""
        name = (task, site.name)
        return (name,) not in self.banned and (*choice.names, name) not in self.banned

    def holds(self, trial: Trial) -> bool:
        """Whether a plan has no fault that the plan as it is has not."""
        if trial.flows not in self._proved:
            assert trial.timeline is not None  # a choice has times
            self._proved[trial.flows] = self.proved.new_fault(trial.plan, trial.timeline)
        return self._proved[trial.flows] is None

    def alone(self, task: str) -> Choice:
        """The best choice of one task, or the plan as it is."""
        search = Search(self.proved, (task,), self.pool, self.banned, self._proved, self._sites)
        search.start = self.start
        return search.best()

    def soonest(self, task: str) -> float:
        """When the sortie would end with a task at its cheapest place, be that too late; it has one."""
        trial = self.start.trial
        places = self.places(trial, task)
        found = cheapest(trial, places, math.inf, lambda site: ((task, site.name),) not in self.banned)
        return found.trial.cost[0] if found else places[0].finish

    def faults_of(self, task: str) -> tuple[str, ...]:
        """What does not hold of a task alone, at the places that were tried: the kinds of faults, the nearest first."""
        blocks = [site for site in self.places(self.start.trial, task) if ((task, site.name),) in self.banned]
        faults = (self._proved.get(self._with(self.start.trial, task, site).flows) for site in blocks)
        return tuple(dict.fromkeys(fault[0] for fault in faults if fault))

    def _choices(self) -> Iterator[Choice]:
        """Every choice that can be reached; of too many, the cheapest after each one."""
        level: Mapping[Flows, Choice] = {self.start.trial.flows: self.start}
        while level:
            yield from level.values()
            longer = (self.place(one, task) for one in level.values() for task in self._left(one))
            found = sorted((one for one in longer if one), key=lambda one: one.order)
            kept = found if len(self.tasks) <= FEW else found[:1]
            level = {one.trial.flows: one for one in reversed(kept)}

    def _of_use(self, choice: Choice) -> bool:
        """Whether each task taken up that serves others has one of them to serve."""
        there = frozenset(task for task, _ in choice.taken) | self.proved.tasks | self._earlier
        tasks = self.proved.library.tasks
        return all(served(tasks, there, task) or not tasks[task].serves for task, _ in choice.taken)

    def _left(self, choice: Choice) -> Iterator[str]:
        taken = {task for task, _ in choice.taken}
        return (task for task in self.tasks if task not in taken)

    def _ban(self, choice: Choice) -> None:
        """Bans the beginning of a choice up to the first task with which the plan does not hold any more."""
        trial = self.start.trial
        for count, (task, site) in enumerate(choice.taken, start=1):
            trial = self._with(trial, task, site)
            if not self.holds(trial):
                alone = next((one for one in self.places(self.start.trial, task) if one.name == site.name), None)
                single = alone is not None and not self.holds(self._with(self.start.trial, task, alone))
                self.banned.add(((task, site.name),) if single else choice.names[:count])
                return

    def _with(self, trial: Trial, task: str, site: GapSite) -> Trial:
        blocks = blocks_of(self.proved.library, site.task)
        return trial.with_task(blocks, {gap.person: gap.seat for gap in site.gaps})
