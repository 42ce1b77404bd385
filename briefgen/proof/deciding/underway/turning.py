"""What is open if everybody turns home now, and both times home: off the planned line, too.

Pure. A stop is counted from where their last finished step left everybody; whoever is in one that changes something
brings it to its end first, and whoever has set off comes back first. The search is that of the sortie's own stops.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.deciding.underway.forecast import Forecast
from briefgen.proof.deciding.underway.situation import Situation
from briefgen.proof.stopping.search.effort import Effort
from briefgen.proof.stopping.searches import STOPS, kept
from briefgen.proof.stopping.stops import Stop

AHEAD = 160_000
"""Looks that all stops ahead may take together: those of the demo take half of them."""
MOST_CUTS = 3000
"""So many combinations of finished steps of a sortie are told apart, those nearest to the plan first."""


def stop_after(day: Day, cut: Sequence[int], now: float | None = None) -> Stop:
    """A stop called as so many steps of each person (in the order of the flows) are over; `now`, or when planned."""
    rows = (flow[:count] for flow, count in zip(day.flows.values(), cut, strict=True))
    done = {index for row in rows for index in row}
    return kept(day.proved, ("stop", tuple(cut), now), STOPS, lambda: day.caller.after(done, now))


def by_the_clock(day: Day, cut: Sequence[int], stop: Stop) -> bool:
    """Whether anything that closes up waits for the clock, so that how long it takes depends on when it is called.

    It is past an elapsed time for which a step that is over has waited, too.
    """
    gates = day.proved.timeline.gates
    done = (index for flow, count in zip(day.flows.values(), cut, strict=True) for index in flow[:count])
    past = max((gates[index].earliest for index in done if index in gates), default=0.0)
    ahead = (gates[index] for index, _, _ in stop.closing if index in gates)
    return any(gate.event or gate.earliest > past for gate in ahead)


@dataclass(frozen=True)
class Turning:
    """Everybody turns home: with what is open closed first (`seconds`, `closed` by person), or leaving all (`bare`).

    Seconds after the call, at most. Counted from `cut`: what is finished, and what is in work and changes something,
    which is brought to its end first (`wait`). Who has set off comes back first (`back`; infinite where no way leads).
    """

    cut: tuple[int, ...]
    wait: float
    back: float
    bare: Mapping[str, float]

    def seconds(self, stop: Stop) -> float:
        """Until all is closed and everybody is home."""
        return self.wait + self.back + stop.seconds


def turning(day: Day, situation: Situation, ahead: Forecast) -> Turning:
    """What turning home now is counted from."""
    ended = {index for index in in_work(situation, ahead) if not day.quiet[index] and _is_next(day, situation, index)}
    cut = tuple(
        situation.people[person].steps + any(index in ended for index in flow[situation.people[person].steps :])
        for person, flow in day.flows.items()
    )
    wait = max((ahead.times[index][1] - situation.now for index in ended), default=0.0)
    bare, back = {}, 0.0
    for (person, flow), count in zip(day.flows.items(), cut, strict=True):
        if person in day.homes:
            homes, steps = day.homes[person], situation.people[person].steps
            since = situation.people[person].since
            gone = steps < len(flow) and (since is None or since < situation.now)
            far = homes[steps].longest if gone else 0.0
            bare[person] = max(homes[steps - 1].after if steps else 0.0, far)
            back = max(back, homes[steps].back if gone and count == steps else 0.0)
    return Turning(cut, wait, back, bare)


def _is_next(day: Day, situation: Situation, index: int) -> bool:
    """Whether a step is the next one of all who do it."""
    people = day.steps[index].people
    return all(index in day.flows[one][situation.people[one].steps : situation.people[one].steps + 1] for one in people)


def in_work(situation: Situation, ahead: Forecast) -> tuple[int, ...]:
    """The steps that somebody is in by now, as far as is known, as they began."""
    begun = (index for index, (start, _) in ahead.times.items() if start < situation.now)
    return tuple(sorted(begun, key=lambda index: (ahead.times[index][0], index)))


def cuts(day: Day) -> Iterator[tuple[int, ...]]:
    """How many steps each person may have finished: the planned line first, then what lies ever farther off it."""
    line = dict.fromkeys(_along(day))
    seen, fresh = set(line), list(line)
    yield from line
    while fresh and len(seen) < MOST_CUTS:
        near = [other for cut in fresh for other in _neighbours(day, cut) if other not in seen]
        fresh = list(dict.fromkeys(near))[: MOST_CUTS - len(seen)]
        seen.update(fresh)
        yield from fresh


def _along(day: Day) -> Iterator[tuple[int, ...]]:
    for moment in (0.0, *sorted({step.end for step in day.steps})):
        ended = [[index for index in flow if day.steps[index].end <= moment + 1e-6] for flow in day.flows.values()]
        yield tuple(map(len, ended))


def _neighbours(day: Day, cut: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """With one step more or less finished, where that leaves nothing finished ahead of what it waits for."""
    flows = tuple(day.flows.values())
    for number, flow in enumerate(flows):
        if cut[number] < len(flow):
            more = set(day.steps[flow[cut[number]]].people)
            yield from _sound(day, cut, more, +1)
        if cut[number]:
            less = set(day.steps[flow[cut[number] - 1]].people)
            yield from _sound(day, cut, less, -1)


def _sound(day: Day, cut: Sequence[int], people: set[str], change: int) -> Iterator[tuple[int, ...]]:
    """The cut with the next (or last) step of these people changed, if that can be."""
    other = tuple(count + change * (person in people) for person, count in zip(day.flows, cut, strict=True))
    if all(0 <= count <= len(flow) for count, flow in zip(other, day.flows.values(), strict=True)) and possible(
        day, other
    ):
        yield other


def possible(day: Day, cut: Sequence[int]) -> bool:
    """Whether nothing is finished ahead of what it waits for, and no joint step for one only."""
    rows = [flow[:count] for flow, count in zip(day.flows.values(), cut, strict=True)]
    done = {index for row in rows for index in row}
    by_person = dict(zip(day.flows, map(set, rows), strict=True))
    joint = (index for index in done if len(day.steps[index].people) > 1)
    return all(done.issuperset(day.steps[index].earlier) for index in done) and all(
        index in by_person[who] for index in joint for who in day.steps[index].people
    )


def stops_ahead(day: Day, most: int) -> Iterator[tuple[tuple[int, ...], Stop]]:
    """The stops after the combinations of finished steps nearest to the plan; `most` of them are searched.

    Combinations that differ only in steps that change, confirm and move nothing share a search. Where so much is open
    at once that one can't be searched to its end, no more are looked at. What depends on the clock can't be told ahead.
    """

    def apart() -> tuple[tuple[Stop, ...], tuple[tuple[tuple[int, ...], int], ...]]:
        number: dict[int, int] = {}
        stops: list[Stop] = []
        rows = []
        for cut, stop in _stops_ahead(day, most):
            if id(stop) not in number:
                number[id(stop)] = len(stops)
                stops.append(stop)
            rows.append((cut, number[id(stop)]))
        return tuple(stops), tuple(rows)

    stops, rows = kept(day.proved, ("stops ahead", most), STOPS, apart)
    yield from ((cut, stops[number]) for cut, number in rows)


def _stops_ahead(day: Day, most: int) -> Iterator[tuple[tuple[int, ...], Stop]]:
    effort = Effort(most, AHEAD)
    known: dict[tuple[frozenset[int], tuple[object, ...]], Stop] = {}
    for cut in cuts(day):
        rows = [flow[:count] for flow, count in zip(day.flows.values(), cut, strict=True)]
        done = {index for row in rows for index in row}
        book = day.caller.book
        told = frozenset(one for one in done if not book.quiet[book.turns[one]] or book.sees[book.turns[one]])
        key = (told, tuple(day.caller.stood(person, done) for person in day.homes))
        if key not in known:
            if len(known) == most:
                return
            known[key] = day.caller.after(done, effort=effort)
            if not known[key].searched:
                return
        if not by_the_clock(day, cut, known[key]):
            yield cut, known[key]
