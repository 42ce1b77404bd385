"""The rows of a timeline: what everybody does, when. Still, live figure and table are drawn from these alone.

All times are seconds since the sortie's start.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count, groupby, product
from string import ascii_uppercase

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.model.people import Person
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.timeline import StepTimes, Timeline
from briefgen.units import MINUTE, show_duration, show_elapsed


@dataclass(frozen=True)
class Lane:
    """A person's lane; `number` counts from 0 in the order of the sortie's flow."""

    number: int
    id: str
    person: Person
    href: str


@dataclass(frozen=True)
class Bar:
    """A stretch of a person's time: a `step`, a `way` to its place, a `wait` for it, or a `standby`.

    Standing by is what waiting is called where nobody floats outside meanwhile: people inside and on the ground are at
    their desk until they are called, and that is no hold.

    `step` is the index of the step that it is or leads to. `slack` is how far it may slip before the sortie ends
    later. `together` are the lanes of a joint step, `cause` says for whom or until when a wait is and `cause_lane`
    whose lane that step is in. `short` is the step's id in plain words, `id` its fragment (`swap-pump.close-valves`).
    """

    kind: str
    lane: int
    start: float
    end: float
    step: int
    title: str
    place: str
    href: str
    critical: bool = False
    optional: bool = False
    slack: float = 0.0
    together: tuple[int, ...] = ()
    hazards: tuple[str, ...] = ()
    cause: str = ""
    cause_lane: int | None = None
    short: str = ""
    id: str = ""

    @property
    def seconds(self) -> float:
        """How long it takes."""
        return self.end - self.start

    @property
    def when(self) -> str:
        """From when to when, in elapsed time."""
        return f"{show_elapsed(self.start)} to {show_elapsed(self.end)}"

    @property
    def takes(self) -> str:
        """How long it takes, in words."""
        return show_duration(self.seconds)


@dataclass(frozen=True)
class Stretch:
    """A person's unbroken run of steps of one task, ways and waits between them included.

    `letter` is the task's on this timeline, where its name has no room. Up to `free` the lane has no other stretch.
    """

    lane: int
    task: str
    title: str
    priority: str
    start: float
    end: float
    href: str
    letter: str = ""
    free: float = 0.0

    @property
    def words(self) -> str:
        """The task's title, and that it is optional where it is."""
        mark = "" if self.priority == "required" else f" ({self.priority})"
        return self.title + mark


@dataclass(frozen=True)
class Rows:
    """Everything that a timeline shows. `chain` are points (lane, seconds) of the critical chain from end to end."""

    sortie: str
    title: str
    lanes: tuple[Lane, ...]
    bars: tuple[Bar, ...]
    stretches: tuple[Stretch, ...]
    chain: tuple[tuple[int, float], ...]
    finish: float
    usable: float
    length: float
    nights: tuple[tuple[float, float], ...] = ()

    @property
    def margin(self) -> float:
        """What is left between the finish and the end of what may be planned into. In seconds."""
        return self.usable - self.finish

    @property
    def until(self) -> float:
        """Where the drawing ends: everything planned and everything allowed is before it, and it is never nothing."""
        return max(self.finish, self.length, MINUTE) * 1.01

    @property
    def tasks(self) -> dict[str, str]:
        """The tasks' names by their letters, in the order in which they begin."""
        return dict(
            sorted({one.letter: one.words for one in self.stretches}.items(), key=lambda one: (len(one[0]), one[0]))
        )

    @property
    def most_slack(self) -> float:
        """The longest slack of any bar. In seconds."""
        return max((bar.slack for bar in self.bars), default=0.0)

    def of(self, lane: int, *kinds: str) -> tuple[Bar, ...]:
        """A lane's bars of these kinds, in the order of time."""
        return tuple(bar for bar in self.bars if bar.lane == lane and bar.kind in kinds)


def timeline_rows(evidence: SortieEvidence, href: Href) -> Rows:
    """The rows of one sortie. Raises CircleFound when its order runs in a circle."""
    timeline = evidence.timeline
    lanes = _lanes(timeline, href)
    number = {lane.id: lane.number for lane in lanes}
    bars = tuple(bar for lane in lanes for bar in _bars(timeline, lane, number, href))
    limits = evidence.sortie.limits
    return Rows(
        sortie=str(evidence.sortie.id),
        title=plain(evidence.sortie.title),
        lanes=lanes,
        bars=bars,
        stretches=_lettered([one for lane in lanes for one in _stretches(timeline, lane, bars, href)], timeline.finish),
        chain=_chain(timeline, number),
        finish=timeline.finish,
        usable=timeline.usable,
        length=limits.length.likely,
        nights=_nights(evidence),
    )


def _nights(evidence: SortieEvidence) -> tuple[tuple[float, float], ...]:
    light = getattr(evidence, "light", None)
    return tuple((float(start), float(end)) for start, end in getattr(light, "nights", ()))


def _in_order(timeline: Timeline) -> list[str]:
    """People as their flows are written; where somebody has none, as the people are listed."""
    plan = timeline.plan
    return sorted(plan.flows, key=list(plan.library.people).index) if plan.free else list(plan.flows)


def _lanes(timeline: Timeline, href: Href) -> tuple[Lane, ...]:
    people = timeline.plan.library.people
    return tuple(
        Lane(number, name, people[name], href("person", name, "")) for number, name in enumerate(_in_order(timeline))
    )


def _bars(timeline: Timeline, lane: Lane, number: Mapping[str, int], href: Href) -> Iterator[Bar]:
    """A lane's ways, waits and steps in the order of time."""
    for times in timeline.of(lane.id):
        index = times.step.index
        leg = timeline.leg_to.get((lane.id, index))
        wait = timeline.wait_before.get((lane.id, index))
        step = _step_bar(timeline, times, lane, number, href)
        if leg:
            title = f"On the way to {place_words(timeline, leg.goal)}" + (", with a bag" if leg.loaded else "")
            metres = f"{leg.way.metres:g} m" if leg.way else "no route leads there"
            yield Bar("way", lane.number, leg.start, leg.end, index, title, metres, step.href)
        if wait:
            cause = timeline.plan.steps[wait.cause]
            people = ", ".join(timeline.plan.library.people[name].label_text for name in wait.causes)
            kind, verb = ("wait", "Waits") if lane.person.outside else ("standby", "Stands by")
            words = f"until {wait.until}" if wait.until else f"for {people}"
            title = f"{verb} {words}" + ("" if wait.until else f": {plain(cause.step.told)}")
            yield Bar(
                kind, lane.number, wait.start, wait.end, index, title, step.place, step_href(cause, href), cause=words,
                cause_lane=number.get(wait.causes[0]) if wait.causes else None,
            )  # fmt: skip
        yield step


def _step_bar(timeline: Timeline, times: StepTimes, lane: Lane, number: Mapping[str, int], href: Href) -> Bar:
    planned = times.step
    hazards = timeline.plan.library.hazards
    together = tuple(sorted(number[name] for name in planned.people))
    return Bar(
        "step", lane.number, times.start, times.end, planned.index, plain(planned.step.told),
        place_words(timeline, planned.place), step_href(planned, href), times.critical, planned.task.optional,
        max(0.0, times.slack - timeline.margin), together if len(together) > 1 else (),
        tuple(f"{hazards[name].signal.capitalize()}: {hazards[name].label_text}"
              for name in (str(one.hazard) for one in planned.hazards)),
        short=planned.step.key.replace("-", " "),
        id=planned.key.replace("/", "."),
    )  # fmt: skip


def step_href(planned: PlannedStep, href: Href) -> str:
    """The address of a step on its task's page."""
    return href("task", str(planned.task.id), planned.step.key)


def place_words(timeline: Timeline, place: str | None) -> str:
    """A place's name, or nothing for somebody who has none."""
    if place is None:
        return ""
    record = timeline.plan.library.places.get(place)
    return record.label_text if record else place


def _stretches(timeline: Timeline, lane: Lane, bars: tuple[Bar, ...], href: Href) -> Iterator[Stretch]:
    own = [bar for bar in bars if bar.lane == lane.number]
    for _, run in groupby(own, key=lambda bar: str(timeline.plan.steps[bar.step].task.id)):
        stretch = [bar for bar in run if bar.kind in ("step", "way")]
        task = timeline.plan.steps[stretch[0].step].task
        yield Stretch(
            lane.number, str(task.id), plain(task.title), task.priority,
            stretch[0].start, stretch[-1].end, href("task", str(task.id), ""),
        )  # fmt: skip


def _lettered(stretches: list[Stretch], finish: float) -> tuple[Stretch, ...]:
    """With letters in the order in which the tasks begin, and with the room that each has up to the next."""
    by_start = sorted(stretches, key=lambda one: (one.start, one.lane))
    letters = dict(zip(dict.fromkeys(one.task for one in by_start), _letters(), strict=False))
    following = [*stretches, None][1:]
    return tuple(
        replace(one, letter=letters[one.task], free=after.start if after and after.lane == one.lane else finish)
        for one, after in zip(stretches, following, strict=True)
    )


def _letters() -> Iterator[str]:
    """The letters A, B, … Z, then AA, AB and so on."""
    for long in count(1):
        yield from map("".join, product(ascii_uppercase, repeat=long))


def _chain(timeline: Timeline, number: Mapping[str, int]) -> tuple[tuple[int, float], ...]:
    """The chain as a line through the lanes: it changes lanes where one person's step lets another one begin."""
    points: list[tuple[int, float]] = []
    for index in timeline.chain:
        times, people = timeline.times[index], timeline.plan.steps[index].people
        lane = _lane_of_chain(points[-1][0] if points else None, [number[name] for name in people])
        if points and points[-1][0] != lane:
            points.append((lane, points[-1][1]))
        points += [(lane, times.start if points else 0.0), (lane, times.end)]
    return tuple(points)


def _lane_of_chain(current: int | None, lanes: list[int]) -> int:
    return current if current in lanes else lanes[0]
