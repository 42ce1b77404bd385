"""Where in a plan a further task of several people could stand, and the cheapest of these places.

Pure. A place is a gap in the flow of each who does the task. Cheapest is where the sortie ends earliest; then where
people go least. Places are looked at in the order of a bound that none can undercut, so the search ends as soon as the
best one found is as good as the next bound.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from briefgen.model.work import Step, Task
from briefgen.proof.deciding.gaps import Gap, gaps
from briefgen.proof.deciding.plans import Trial, blocks_of
from briefgen.proof.plan import Plan, PlannedStep, step_key
from briefgen.proof.schedule.timeline import Timeline
from briefgen.proof.soundness import last_steps

MOST_TRIED = 24
"""After so many places of one task, worked out in full, the best one found by then is taken."""


@dataclass(frozen=True)
class GapSite:
    """A gap for each person who does the task. The sortie can't end before `finish`; people go `ways` seconds more, or
    still longer.
    """

    gaps: tuple[Gap, ...]
    task: Task = field(compare=False, repr=False)

    @property
    def finish(self) -> float:
        """The earliest moment at which the sortie could end with it. In seconds."""
        return max(gap.finish for gap in self.gaps)

    @property
    def bound(self) -> tuple[float, float]:
        """How good it can be at best: the finish, then the time on ways. In seconds."""
        return round(self.finish, 6), round(sum(gap.ways for gap in self.gaps), 6)

    @property
    def order(self) -> tuple[tuple[float, float], float, int]:
        """By the bound; then by how far apart people would begin; then late ones first, for they can wait and see."""
        ready = [gap.ready for gap in self.gaps if not math.isnan(gap.ready)]
        apart = max(ready, default=0.0) - min(ready, default=0.0)
        return self.bound, apart, -sum(gap.seat for gap in self.gaps)

    @property
    def name(self) -> tuple[str, ...]:
        """What tells it apart, whatever else is put into the flows: who, and after which step of theirs."""
        return tuple(f"{gap.person} {gap.before.key if gap.before else ''}" for gap in self.gaps)


@dataclass(frozen=True)
class Placed:
    """A plan with a task put in at a site. `all_tried` says that no cheaper place was left out of sight."""

    trial: Trial
    site: GapSite
    all_tried: bool


def sites(trial: Trial, timeline: Timeline, task: Task, earlier: frozenset[str]) -> list[GapSite]:
    """Every place for a task that the order allows, by the bound; `earlier` are the tasks of earlier sorties."""
    plan, blocks = timeline.plan, blocks_of(trial.plan.library, task)
    needed = [step for name in task.needed for step in last_steps(plan).get(str(name), ())]
    flown = {str(step.task.id) for step in plan.steps} | earlier
    if not blocks or not flown.issuperset(map(str, task.needed)):
        return []
    mine = [list(gaps(timeline, trial.pool.routes, task, person)) for person in blocks]
    waits = list(_waits(trial, task))
    found = (GapSite(one, task) for one in product(*mine) if _possible(plan, waits, needed, one))
    return sorted(found, key=lambda site: site.order)


def cheapest(trial: Trial, places: Sequence[GapSite], most: float, allowed: Callable[[GapSite], bool]) -> Placed | None:
    """The plan with the task at its cheapest allowed place that ends by `most`; None where there is none."""
    best: Placed | None = None
    for tried, site in enumerate(filter(allowed, places)):
        if site.finish > most or (best and best.trial.cost <= (site.bound[0], trial.ways + site.bound[1])):
            break
        if best and tried >= MOST_TRIED:
            return replace(best, all_tried=False)
        new = trial.with_task(blocks_of(trial.plan.library, site.task), {gap.person: gap.seat for gap in site.gaps})
        if new.cost[0] <= most and (best is None or new.cost < best.trial.cost):
            best = Placed(new, site, all_tried=True)
    return best


def _waits(trial: Trial, task: Task) -> Iterator[tuple[str | None, str | None, str]]:
    """Who of the task waits: (who, for whom of the task or None, for which step)."""
    mine = {f"{task.id}/{step.key}": step for step in task.steps}
    for step in task.steps:
        for person in _people(trial, step):
            yield from ((person, other, "") for other in _people(trial, step) if other != person)
            for ref in step.after:
                key = step_key(trial.plan.library, ref.task, ref.step) or ""
                others = _people(trial, mine[key]) if key in mine else [None]
                yield from ((person, other, key) for other in others if other != person)


def _people(trial: Trial, step: Step) -> list[str | None]:
    return [str(person) for person in step.who if person in trial.plan.library.people]


def _possible(
    plan: Plan, waits: Sequence[tuple[str | None, str | None, str]], needed: Sequence[PlannedStep], site: Sequence[Gap]
) -> bool:
    """Whether nobody would wait for what comes after them, and each prerequisite is over before some part of it."""
    at: Mapping[str | None, Gap] = {gap.person: gap for gap in site}
    awaited = [(at[who].then, at[whom].before if whom else plan.step(key)) for who, whom, key in waits]
    if any(then and one and _by(plan, then, one) for then, one in awaited):
        return False
    known = [*(gap.before for gap in site), *(one for _, one in awaited)]
    return all(any(one and _by(plan, step, one) for one in known) for step in needed)


def _by(plan: Plan, first: PlannedStep, second: PlannedStep) -> bool:
    """Whether the first is over when the second is."""
    return first is second or plan.order.before(first.index, second.index)
