"""A sortie hour by hour for one person, or for all: where, on which tasks, what comes out of which bag, which holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from briefgen.language.wording import span
from briefgen.pages.context import PageContext, task_of
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


def hours_of(context: PageContext, proved: SortieEvidence, person: str) -> tuple[Hour, ...]:
    """The hours in which the person begins a step; without a person, those in which anybody does."""
    mine = [times for times in proved.timeline.times if not person or person in times.step.people]
    ordered = sorted(mine, key=lambda times: (times.start, times.step.index))
    return tuple(_hour(context, proved, person, hour, [*row]) for hour, row in groupby(ordered, key=_hour_of))


def _hour_of(times: StepTimes) -> int:
    return int(times.start // HOUR)


def _hour(context: PageContext, proved: SortieEvidence, person: str, hour: int, row: list[StepTimes]) -> Hour:
    steps = [times.step for times in row]
    spots = [step.place for step in steps if step.place and (person in step.outside if person else step.outside)]
    return Hour(
        f"Hour {hour + 1}",
        f"_hour-{hour + 1}",
        span(hour * HOUR, (hour + 1) * HOUR),
        _once(context.link("place", str(place)) for place in spots),
        _once(context.link("task", task_of(step)) for step in steps),
        tuple(_steps(context, proved, person, row)),
    )


def _once(links: Iterable[Link]) -> tuple[Link, ...]:
    return tuple(dict.fromkeys(links))


def _steps(context: PageContext, proved: SortieEvidence, person: str, row: list[StepTimes]) -> Iterator[HourStep]:
    for times in row:
        step = times.step
        taken, held = tuple(_taken(context, proved, step)), tuple(holds(context, proved, step, person))
        if taken or held:
            others = context.marks(name for name in step.people if name != person)
            yield HourStep(show_elapsed(times.start), context.planned(step), others, taken, held)


def _taken(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[tuple[Chip, Chip]]:
    """What the step finds in a bag or at a place, each thing once."""
    lying = {
        one.handling.thing: one.chain[0]
        for one in reversed(context.once(("handled", proved), lambda: _handled(proved)).get(step.index, ()))
        if one.chain and one.chain[0].kind != "people"
    }
    for thing, spot in reversed(lying.items()):
        yield context.thing(thing), spot_chip(context, spot)


def _handled(proved: SortieEvidence) -> Mapping[int, tuple[Handled, ...]]:
    found: dict[int, tuple[Handled, ...]] = {}
    for one in proved.custody.handled:
        found[one.handling.step] = (*found.get(one.handling.step, ()), one)
    return found
