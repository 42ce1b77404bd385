"""Ways: every place can be reached, everybody comes home, and home is never too far away."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from briefgen.findings import Level, Related
from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence
from briefgen.proof.moving.homeward import Homeward
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.tether import Tie
from briefgen.proof.moving.travel import Travel
from briefgen.proof.moving.whereabouts import Trail, Visit
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import step_line
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import by_spot, each_variant, flight, once, place_spot, place_words
from briefgen.source import Position
from briefgen.units import show_duration

_IN = "who: ev1, at: lock, do: Go in., takes: 2 min"
_ONE_WAY = "\nroutes:\n  k1-k2: {between: [k1, k2], length: 3 m, one_way: true}"


@rule(
    "unreachable-place", Level.ERROR, Needs.ORDER,
    wrong=flight(f"who: ev1, at: ▸tip, do: Look at the sensor., takes: 2 min\n{_IN}"),
    right=flight(f"who: ev1, at: k2, do: Look at the cover., takes: 2 min\n{_IN}"),
)  # fmt: skip
def unreachable_place(evidence: Evidence) -> Iterator[Trouble]:
    """A route leads from each step's place to the next, or the step itself brings the person there.

    Between two steps a person goes by routes, hand over hand; without one they would have to let go. A place that no
    route touches can only be reached by a step with `to`: a ride on an arm, a carry. A one-way route counts in its own
    direction only. The search is repeated with the optional tasks left out.
    """
    yield from once(_unreachable(evidence))


def _unreachable(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        library, routes = proved.library, evidence.routes
        for trail in travel.trails.values():
            for visit, origin in _cut_off(trail, routes):
                goal = place_words(library, visit.place)
                lonely = not routes.touches(visit.place)
                reason = (
                    f"no route touches {goal}. Bring {people_words(library, [visit.person])} there with the “to” of a "
                    "step before, or write a route"
                    if lonely
                    else f"no route leads there from {place_words(library, origin)}. Write one under “routes”"
                )
                route = f"{origin}-{visit.place}: {{between: [{origin}, {visit.place}], length: … m}}"
                yield Trouble(
                    place_spot(visit.step, visit.place),
                    f"{people_words(library, [visit.person])} can't get to {goal} for "
                    f"{step_words(library, visit.step)}{left_out_words(proved, variant)}: {reason}.",
                    write="" if lonely else route,
                    write_at=next((one.id.position for one in library.routes.values()), None),
                )


def _cut_off(trail: Trail, routes: Routes) -> Iterator[tuple[Visit, str]]:
    """The visits that can't be reached, with the last place that could: what follows from one mistake is not told."""
    known = trail[0].origin if trail else ""
    stray: str | None = None
    for visit in trail:
        if (stray is None and visit.way) or routes.way(known, visit.place):
            known, stray = visit.leads_to, None
            continue
        if visit.place != stray:
            yield visit, known
        known, stray = (visit.leads_to, None) if visit.moved else (known, visit.leads_to)


@rule(
    "not-home-at-end", Level.ERROR, Needs.ORDER,
    wrong=flight("who: ev1, at: k2, do: Look at the cover., takes: 2 min").replace("ev1: [work]", "ev1: [▸work]"),
    right=flight(f"who: ev1, at: k2, do: Look at the cover., takes: 2 min\n{_IN}"),
)  # fmt: skip
def not_home_at_end(evidence: Evidence) -> Iterator[Trouble]:
    """Everybody outside is home after their last step.

    Else the plan leaves somebody out there, and the way back is in no figure: not in the time, not in the supplies.
    The check is repeated with the optional tasks left out.
    """
    yield from once(_not_home(evidence))


def _not_home(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        home = variant.plan.home
        for person, trail in travel.trails.items():
            if home is None or not trail or trail[-1].leads_to == home:
                continue
            last, name = trail[-1], place_words(proved.library, home)
            entry = next(refs[-1] for key, refs in proved.sortie.flow.items() if key == person)
            yield Trouble(
                entry.position,
                f"{people_words(proved.library, [person])} is at {place_words(proved.library, last.leads_to)} in the "
                f"end{left_out_words(proved, variant)}, after {step_words(proved.library, last.step)}, not at {name}.",
                (Related(last.step.step.position, "the last step"),),
                step_line([person], home, f"Go to {name}."), last.step.step.position,
            )  # fmt: skip


@rule(
    "no-way-home", Level.ERROR, Needs.ORDER,
    wrong=flight("who: ev1, at: ▸k2, do: Look at the cover., takes: 2 min") + _ONE_WAY,
    right=flight(f"who: ev1, at: k1, do: Look at the feed., takes: 2 min\n{_IN}") + _ONE_WAY,
)  # fmt: skip
def no_way_home(evidence: Evidence) -> Iterator[Trouble]:
    """From wherever people are, a way leads home.

    A crew may have to break off at any moment. Behind a one-way route there must be another way back; whoever was
    taken to a place by a ride goes home by the same ride, backwards.
    """
    yield from once(_stranded(evidence))


def _stranded(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        for home in _without_way_home(travel):
            spot, place = _where(home)
            yield Trouble(
                spot,
                f"From {place_words(proved.library, place)} no way leads home for "
                f"{people_words(proved.library, [home.visit.person])} at {step_words(proved.library, home.visit.step)}"
                f"{left_out_words(proved, variant)}. Write a route that does, or let the step take place elsewhere.",
            )


def _without_way_home(travel: Travel) -> Iterator[Homeward]:
    """The first of every run of visits, in each person's trail, from which no way leads home."""
    for person, row in travel.homewards.items():
        lost = {reach.visit.seat for reach in travel.reaches[person] if reach.tie is Tie.LOST}
        before = False
        for home in row:
            beyond = math.isinf(home.longest) and home.visit.seat not in lost
            if beyond and not before:
                yield home
            before = beyond


def _where(home: Homeward) -> tuple[Position, str]:
    """The word for the place of a visit from which home is farthest, and that place."""
    visit = home.visit
    rides = visit.moved and home.at_place < home.in_step[-1][1]
    place = visit.leads_to if rides else visit.place
    to = visit.step.step.to
    return (to.position if rides and to is not None else place_spot(visit.step, place)), place


@rule(
    "return-too-long", Level.ERROR, Needs.ORDER,
    wrong=flight(f"who: ev1, at: ▸far, do: Look at the far end., takes: 2 min\n{_IN}",
                 limits="length: 2 h, return_within: 5 min"),
    right=flight(f"who: ev1, at: far, do: Look at the far end., takes: 2 min\n{_IN}",
                 limits="length: 2 h, return_within: 8 min"),
)  # fmt: skip
def return_too_long(evidence: Evidence) -> Iterator[Trouble]:
    """From everywhere on the way and at work, home is no farther than `return_within`.

    If a suit fails, what it has left lasts for so long. The time home counts at every moment, the middle of routes
    included: the fastest way at the pace with free hands. A rider goes home by the `to` steps that brought them,
    backwards, and from there by the fastest way. The check is repeated with the optional tasks left out.
    """
    yield from once(_too_far(evidence))


def _too_far(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        limit = travel.return_within
        if limit is None:
            continue
        runs = ((_where(run[0])[0], run[0].visit.person, run) for run in _runs_beyond(travel, limit + 1e-6))
        for spot, people, run in by_spot(runs):
            longest = max(home.longest for home in run)
            yield Trouble(
                spot,
                f"{_place_of_worst(proved.library, run)} {people_words(proved.library, people)} would need "
                f"{show_duration(longest)} to get home{left_out_words(proved, variant)}; “{proved.sortie.title}” "
                f"allows {show_duration(limit)}. Move the work nearer, write a shorter route, or allow more.",
                (Related(proved.sortie.limits.spot("return_within"), "the longest way home allowed"),),
            )  # fmt: skip


def _runs_beyond(travel: Travel, limit: float) -> Iterator[Sequence[Homeward]]:
    """Runs of visits from which home is farther than the limit; ways that don't lead home at all apart."""
    for row in travel.homewards.values():
        run: list[Homeward] = []
        for home in row:
            if limit <= home.longest < math.inf:
                run.append(home)
            elif run:
                yield run
                run = []
        if run:
            yield run


def _place_of_worst(library: Library, run: Sequence[Homeward]) -> str:
    worst = max(run, key=lambda home: home.longest)
    place = _where(worst)[1]
    on_way = worst.longest > max(worst.at_place, *(seconds for _, seconds in worst.in_step)) + 1e-6
    name = place_words(library, place)
    return f"On the way to {name}" if on_way else f"From {name}"
