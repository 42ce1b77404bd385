"""Where each person outside is, and where their safety tether hangs: first whatever the times, then at every moment.

Pure: a plan, routes and a timeline go in. A person's sequence of places and anchors (`trail`) follows from their own
flow alone, so it holds for every execution; only `whereabouts` lays it over the likely times. Linear in the steps.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from briefgen.model.work import Step
from briefgen.model.world import Place
from briefgen.proof.moving.loads import loaded_after
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.network import ROUNDING
from briefgen.proof.schedule.timeline import Timeline


@dataclass(frozen=True)
class Visit:
    """A step of one person outside, with the way to it. Holds whatever the times turn out to be.

    The person comes from `origin` (by `way`; None where no route leads on) to `place`, and is at `leads_to` after the
    step. The tether hangs at `hung` on the way and as the step begins, at `anchor` when it is over. A restraint
    that takes time holds them as the step begins (`held`), and when it is over (`holds`). `seat` counts the person's
    steps from 0.
    """

    person: str
    seat: int
    step: PlannedStep
    origin: str
    place: str
    leads_to: str
    way: Way | None
    loaded: bool
    hung: str
    anchor: str
    held: str = ""
    holds: str = ""

    @property
    def moved(self) -> bool:
        """Whether the step itself moves the person: a ride, or a carry."""
        return self.leads_to != self.place

    @property
    def hangs_at_start(self) -> bool:
        """Whether the new anchor is the one where the step begins, not the one where it ends."""
        return self.anchor != self.hung and self.anchor == self.place

    @property
    def anchor_in_reach(self) -> bool:
        """Whether the anchor that the step names is where the person is when it begins or ends."""
        named = self.step.step.anchors
        return named is None or named in (self.place, self.leads_to)


Trail = tuple[Visit, ...]


def trails(plan: Plan, routes: Routes) -> Mapping[str, Trail]:
    """The visits of each person outside, in order. Empty where the library has no home. Raises CircleFound."""
    if plan.home is None:
        return {}
    loads = loaded_after(plan)
    return {person: tuple(_trail(plan, routes, loads, person, plan.home)) for person in plan.outside}


def _trail(
    plan: Plan, routes: Routes, loads: Mapping[tuple[str, int], bool], person: str, home: str
) -> Iterator[Visit]:
    spot = anchor = home
    loaded, holds = False, ""
    for seat, index in enumerate(plan.flows[person]):
        step = plan.steps[index]
        place = step.place or spot
        leads_to = step.leads_to or place
        hung, anchor = anchor, str(step.step.anchors or anchor)
        way, held = routes.way(spot, place, loaded), holds if place == spot else ""
        holds = held_after(plan.library.places[place], step.step, held) if leads_to == place else ""
        yield Visit(person, seat, step, spot, place, leads_to, way, loaded, hung, anchor, held, holds)
        spot, loaded = leads_to, loads[person, index]


def held_after(place: Place, step: Step, held: str) -> str:
    """What holds a person when a step is over, of the restraints that take time; nothing where it has let go."""
    if step.enters is not None and place.grip(step.enters):
        return str(step.enters)
    return "" if step.exits is not None else held


class Doing(StrEnum):
    """What a person outside does for a while."""

    STEP = "step"
    WAY = "way"
    WAIT = "wait"
    DONE = "done"


@dataclass(frozen=True)
class Stay:
    """A person from `start` to `end` (seconds): at `place`, or on the way from `origin` to it.

    `visit` is the step done or ahead; after the last step (`done`), that last one. `anchor` is the one in use: within
    a step that moves the tether, the one that it is moved to.
    """

    person: str
    start: float
    end: float
    doing: Doing
    origin: str
    place: str
    anchor: str
    visit: Visit

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.end - self.start


@dataclass(frozen=True)
class Whereabouts:
    """The stays of every person outside; each person's follow on one another from 0 to the sortie's finish."""

    trails: Mapping[str, Trail]
    stays: Mapping[str, tuple[Stay, ...]]
    finish: float

    @cached_property
    def _starts(self) -> Mapping[str, list[float]]:
        return {person: [stay.start for stay in stays] for person, stays in self.stays.items()}

    def at(self, person: str, seconds: float) -> Stay | None:
        """The stay at a moment (at a border, the later one), or None out of the sortie. O(log n)."""
        stays = self.stays.get(person, ())
        if not stays or not 0 <= seconds <= stays[-1].end:
            return None
        return stays[bisect_right(self._starts[person], seconds) - 1]


def whereabouts(trails: Mapping[str, Trail], timeline: Timeline) -> Whereabouts:
    """The trails laid over the likely times."""
    stays = {person: tuple(_stays(trail, timeline)) for person, trail in trails.items()}
    return Whereabouts(trails, stays, timeline.finish)


def _stays(trail: Trail, timeline: Timeline) -> Iterator[Stay]:
    now = 0.0
    for visit in trail:
        times = timeline.times[visit.step.index]
        there = min(now + visit.way.seconds, times.start) if visit.way else now
        parts = (
            (now, there, Doing.WAY, visit.origin, visit.place, visit.hung),
            (there, times.start, Doing.WAIT, visit.place, visit.place, visit.hung),
            (times.start, times.end, Doing.STEP, visit.place, visit.leads_to, visit.anchor),
        )
        for start, end, doing, origin, place, anchor in parts:
            if end - start > ROUNDING:
                yield Stay(visit.person, start, end, doing, origin, place, anchor, visit)
        now = times.end
    if timeline.finish - now > ROUNDING:
        last = trail[-1]
        yield Stay(last.person, now, timeline.finish, Doing.DONE, last.leads_to, last.leads_to, last.anchor, last)
