"""A sortie hour by hour for one person, or for all: where, on which tasks, what comes out of which bag, which holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from briefgen.language.wording import span
from briefgen.pages.desk import Desk, task_of
from briefgen.pages.doing.moments import HoldLine, holds
from briefgen.pages.rows import Chip, Link, MarkChip
from briefgen.pages.things.ledger import spot_chip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Handled
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.timeline import StepTimes
from briefgen.units import HOUR, show_elapsed


@dataclass(frozen=True)
class HourStep:
    """A step that begins in an hour and for which something is fetched or awaited.

    `marks` are those who do it, but for the one whose page it is; `taken` are things, each with where it lies.
    """

    clock: str
    step: Link
    marks: tuple[MarkChip, ...]
    taken: tuple[tuple[Chip, Chip], ...]
    holds: tuple[HoldLine, ...]


@dataclass(frozen=True)
class Hour:
    """What begins in one hour of a sortie."""

    words: str
    anchor: str
    clock: str
    places: tuple[Link, ...]
    tasks: tuple[Link, ...]
    steps: tuple[HourStep, ...]


def hours_of(desk: Desk, case: SortieEvidence, person: str) -> tuple[Hour, ...]:
    """The hours in which the person begins a step; without a person, those in which anybody does."""
    mine = [times for times in case.timeline.times if not person or person in times.step.people]
    ordered = sorted(mine, key=lambda times: (times.start, times.step.index))
    return tuple(_hour(desk, case, person, hour, [*row]) for hour, row in groupby(ordered, key=_hour_of))


def _hour_of(times: StepTimes) -> int:
    return int(times.start // HOUR)


def _hour(desk: Desk, case: SortieEvidence, person: str, hour: int, row: list[StepTimes]) -> Hour:
    steps = [times.step for times in row]
    spots = [step.place for step in steps if step.place and (person in step.outside if person else step.outside)]
    return Hour(
        f"Hour {hour + 1}",
        f"_hour-{hour + 1}",
        span(hour * HOUR, (hour + 1) * HOUR),
        _once(desk.link("place", str(place)) for place in spots),
        _once(desk.link("task", task_of(step)) for step in steps),
        tuple(_steps(desk, case, person, row)),
    )


def _once(links: Iterable[Link]) -> tuple[Link, ...]:
    return tuple(dict.fromkeys(links))


def _steps(desk: Desk, case: SortieEvidence, person: str, row: list[StepTimes]) -> Iterator[HourStep]:
    for times in row:
        step = times.step
        taken, held = tuple(_taken(desk, case, step)), tuple(holds(desk, case, step, person))
        if taken or held:
            others = desk.marks(name for name in step.people if name != person)
            yield HourStep(show_elapsed(times.start), desk.planned(step), others, taken, held)


def _taken(desk: Desk, case: SortieEvidence, step: PlannedStep) -> Iterator[tuple[Chip, Chip]]:
    """What the step finds in a bag or at a place, each thing once."""
    lying = {
        one.handling.thing: one.chain[0]
        for one in reversed(desk.once(("handled", case), lambda: _handled(case)).get(step.index, ()))
        if one.chain and one.chain[0].kind != "people"
    }
    for thing, spot in reversed(lying.items()):
        yield desk.thing(thing), spot_chip(desk, spot)


def _handled(case: SortieEvidence) -> Mapping[int, tuple[Handled, ...]]:
    found: dict[int, tuple[Handled, ...]] = {}
    for one in case.custody.handled:
        found[one.handling.step] = (*found.get(one.handling.step, ()), one)
    return found
