"""How many stops the page of the day knows, in likely runs of the demo's sorties.

`python -m tests.benchmarks.stops_known [SEARCHES …]` runs each sortie many times, every step between its shortest and
longest duration and everybody held up once, looks at each run at moments of the same distance, and prints a row a
sortie and number of searches: how many of the stops the page would know, and what searching for them takes.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterator
from itertools import pairwise

from briefgen.pages.planning.underway import SEARCHES
from briefgen.proof.deciding.underway.day import Day, make_day
from briefgen.proof.deciding.underway.forecast import forecast
from briefgen.proof.deciding.underway.situation import Progress, Situation
from briefgen.proof.deciding.underway.turning import stops_ahead, turning
from tests.demo import demo

SEED, RUNS, MOMENTS, LONGEST_DELAY = 20420914, 60, 20, 30 * 60
"""The runs of a sortie, the moments of a run that are looked at, and the longest delay in seconds."""


def likely_cuts(day: Day) -> Iterator[tuple[int, ...]]:
    """How many steps each person has behind them if a stop is called, at each moment of each run."""
    rng = random.Random(SEED)
    for _ in range(RUNS):
        ends = _ends(day, rng)
        last = max(ends.values())
        for moment in range(MOMENTS):
            now = last * (moment + 0.5) / MOMENTS
            over = {person: [ends[one] for one in flow if ends[one] <= now] for person, flow in day.flows.items()}
            people = {person: Progress(len(row), max(row, default=0.0)) for person, row in over.items()}
            situation = Situation(now, people)
            yield turning(day, situation, forecast(day, situation)).cut


def _ends(day: Day, rng: random.Random) -> dict[int, float]:
    """When each step of a run is over, by index, in seconds."""
    whole = day.variants[frozenset()]
    after: dict[int, list[tuple[int, float]]] = {index: [] for index in whole.sequence}
    first: dict[int, float] = {}
    for row in whole.chains.values():
        first.update([row[0]] if row else [])
        for (before, _), (index, seconds) in pairwise(row):
            after[index].append((before, seconds))
    for before, index in whole.links:
        after[index].append((before, 0.0))
    ends: dict[int, float] = {}
    held, delay = rng.uniform(0, day.finish), rng.uniform(0, LONGEST_DELAY)
    for index in whole.sequence:
        start = max([first.get(index, 0.0), *(ends[before] + seconds for before, seconds in after[index])])
        start += delay if start >= held and all(ends[before] < held for before, _ in after[index]) else 0.0
        start = day.gates[index].opens(start) if index in day.gates else start
        takes = day.proved.plan.steps[index].duration
        ends[index] = start + rng.triangular(takes.low, takes.high, takes.likely)
    return ends


if __name__ == "__main__":
    for name, proved in demo().evidence.sorties.items():
        day = make_day(proved)
        asked = list(likely_cuts(day))
        for most in map(int, sys.argv[1:] or [SEARCHES]):
            begin = time.process_time()
            known = {cut for cut, _ in stops_ahead(day, most)}
            took = time.process_time() - begin
            share = sum(cut in known for cut in asked)
            print(
                f"{name:>12}  {most} searches: {share:,} of {len(asked):,} stops known  {took:.2f} s of the processor"
            )
