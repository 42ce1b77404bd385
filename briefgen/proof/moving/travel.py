"""Travel as a whole: tether reach, time home, ways and who meets where. Pure: gathers what the neighbours compute."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from briefgen.model.library import Library
from briefgen.proof.moving.homeward import HomeLine, Homeward, WaysHome, home_lines, homewards
from briefgen.proof.moving.lengths import Lengths
from briefgen.proof.moving.room import Crowd, crowds
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.moving.tether import Overreach, Reach, overreaches, reaches
from briefgen.proof.moving.whereabouts import Trail, Whereabouts, trails
from briefgen.proof.plan import Plan


@dataclass(frozen=True)
class Travel:
    """What holds of everybody's ways, whatever the times: by person, in the order of their steps."""

    trails: Mapping[str, Trail]
    reaches: Mapping[str, tuple[Reach, ...]]
    homewards: Mapping[str, tuple[Homeward, ...]]
    crowds: tuple[Crowd, ...]
    tether: float | None
    return_within: float | None

    @cached_property
    def overreaches(self) -> tuple[Overreach, ...]:
        """Where a tether is too short, or can't follow."""
        return tuple(over for row in self.reaches.values() for over in overreaches(row, self.tether))

    def metres(self, person: str) -> float:
        """How far a person goes along routes in the whole sortie, in metres."""
        return sum(visit.way.metres for visit in self.trails.get(person, ()) if visit.way)


def prove_travel(plan: Plan, routes: Routes, lengths: Lengths, ways_home: WaysHome) -> Travel:
    """The travel of a plan without circles; empty where the library has no home."""
    library, home, limits = plan.library, plan.home or "", plan.sortie.limits
    ways = trails(plan, routes)
    return Travel(
        ways,
        {person: reaches(library, routes, lengths, home, trail) for person, trail in ways.items()},
        {person: homewards(ways_home, trail) for person, trail in ways.items()},
        crowds(plan),
        float(limits.tether) if limits.tether is not None else None,
        limits.return_within.likely if limits.return_within else None,
    )


def time_home(places: Whereabouts, travel: Travel) -> Mapping[str, HomeLine]:
    """Each person's time home over the whole sortie, with the likely durations."""
    return home_lines(places, travel.homewards)


def way_hazards(library: Library, way: Way) -> tuple[str, ...]:
    """The hazards that a way passes, each once, in the order in which they come up."""
    passed = (hazard for route in way.routes for hazard in library.routes[route].hazards)
    return tuple(dict.fromkeys(str(hazard) for hazard in passed))
