"""The rows of the played sortie: where everybody is and what they do at every moment, and what to show beside it.

Times are seconds since the sortie's start, with the likely durations; places are ids, whose points are the map's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.charts.chart import Href, Picture
from briefgen.charts.drawing.words import plain
from briefgen.charts.kinds.timeline.rows import Bar, Lane, Rows, timeline_rows
from briefgen.model.library import Library
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.routes import Way
from briefgen.proof.moving.whereabouts import Doing, Stay
from briefgen.proof.plan import PlannedStep
from briefgen.units import show_duration

"""From a figure's id to the address of its image file, for the page; empty for none."""


@dataclass(frozen=True)
class Span:
    """What a person does from `start` to `end`: `step`, `way`, `wait`, `standby` or `done`.

    `step` is the number in `Play.steps` that is done or ahead (-1: none). `track` are (seconds, place) points between
    which the person moves evenly; one point where they stay, none for people who are on no map. `anchor` is where the
    safety tether hangs. `words` say what it is, other than a step.
    """

    kind: str
    start: float
    end: float
    step: int
    track: tuple[tuple[float, str], ...] = ()
    anchor: str = ""
    words: str = ""


@dataclass(frozen=True)
class Shown:
    """A step as it is shown beside the map; numbers point into `Play`'s lists."""

    number: int
    task: int
    do: str
    place: str
    takes: str
    href: str
    hazards: tuple[int, ...]
    figures: tuple[int, ...]
    holds: tuple[str, ...]
    calls: tuple[str, ...]


@dataclass(frozen=True)
class Statement:
    """A hazard's statement."""

    signal: str
    hazard: str
    avoid: str
    href: str


@dataclass(frozen=True)
class Picturing:
    """A figure."""

    file: str
    alt: str
    caption: str
    href: str


@dataclass(frozen=True)
class Told:
    """A task and its script."""

    title: str
    script: tuple[str, ...]
    href: str


@dataclass(frozen=True)
class Play:
    """Everything that is played. `spans` follow on one another for each lane of `rows`, from 0 to the finish."""

    rows: Rows
    spans: tuple[tuple[Span, ...], ...]
    steps: tuple[Shown, ...]
    tasks: tuple[Told, ...]
    hazards: tuple[Statement, ...]
    figures: tuple[Picturing, ...]

    @property
    def moments(self) -> tuple[float, ...]:
        """When anything changes for anybody but people who stand by."""
        times = {span.start for spans in self.spans for span in spans if span.kind != "standby"}
        return tuple(sorted(times | {self.rows.finish}))


def play_rows(evidence: SortieEvidence, href: Href, picture: Picture) -> Play:
    """What is played of one sortie. Raises CircleFound when its order runs in a circle."""
    rows = timeline_rows(evidence, href)
    writer = _Writer(evidence, href, picture)
    spans = tuple(tuple(_spans(evidence, lane, rows)) for lane in rows.lanes)
    steps = tuple(writer.step(step) for step in evidence.plan.steps)
    return Play(rows, spans, steps, tuple(writer.tasks()), tuple(writer.hazards()), tuple(writer.figures()))


def _spans(evidence: SortieEvidence, lane: Lane, rows: Rows) -> Iterator[Span]:
    stays = evidence.whereabouts.stays.get(lane.id)
    bars = rows.of(lane.number, "step", "way", "wait", "standby")
    if stays is None:
        yield from _desk(bars, rows.finish)
        return
    about = {(bar.kind, bar.step): bar.title for bar in bars}
    for stay in stays:
        index = stay.visit.step.index
        kind = str(stay.doing)
        yield Span(
            kind, stay.start, stay.end, -1 if stay.doing is Doing.DONE else index,
            tuple(_track(evidence.library, stay)), stay.anchor, about.get((kind, index), ""),
        )  # fmt: skip


def _desk(bars: tuple[Bar, ...], finish: float) -> Iterator[Span]:
    """Somebody who is on no map."""
    now = 0.0
    for bar in bars:
        if bar.start > now:
            yield Span("standby", now, bar.start, bar.step)
        yield Span(bar.kind, bar.start, bar.end, bar.step, words="" if bar.kind == "step" else bar.title)
        now = max(now, bar.end)
    if now < finish:
        yield Span("done", now, finish, -1)


def _track(library: Library, stay: Stay) -> Iterator[tuple[float, str]]:
    if stay.doing is Doing.WAY and stay.visit.way:
        yield from _along(library, stay.visit.way, stay.visit.loaded, stay.start, stay.end)
        return
    yield stay.start, stay.origin if stay.doing is Doing.STEP else stay.place
    if stay.doing is Doing.STEP and stay.place != stay.origin:
        yield stay.end, stay.place


def _along(library: Library, way: Way, loaded: bool, start: float, end: float) -> Iterator[tuple[float, str]]:
    """Each place that a way passes and when: a route takes its own share of the whole."""
    shares = [_seconds(library, name, loaded) for name in way.routes]
    whole, passed = sum(shares) or 1.0, 0.0
    yield start, way.places[0]
    for share, place in zip(shares, way.places[1:], strict=True):
        passed += share
        yield start + (end - start) * passed / whole, place


def _seconds(library: Library, route: str, loaded: bool) -> float:
    record, programme = library.routes[route], library.programme
    if record.time:
        return record.time.likely
    pace = (programme.paces.loaded if loaded else programme.paces.outside) if programme else 0.15
    return float(record.length) / float(pace)


class _Writer:
    """Puts what stands beside the map into words, each hazard, figure and task once."""

    def __init__(self, evidence: SortieEvidence, href: Href, picture: Picture) -> None:
        self.evidence = evidence
        self.library = evidence.library
        self.href, self.picture = href, picture
        self.places = {name: place.label_text for name, place in self.library.places.items()}
        self.held: dict[int, list[str]] = {}
        for hold in evidence.holds:
            self.held.setdefault(hold.step, []).append(self.hold_words(hold.first, hold.seconds))
        for wait in evidence.timeline.waits:
            if wait.until:
                self.held.setdefault(wait.step, []).append(f"until {wait.until}.")
        self.held = {step: list(dict.fromkeys(row)) for step, row in self.held.items()}
        self._numbers: dict[str, dict[str, int]] = {"task": {}, "hazard": {}, "figure": {}}

    def number(self, kind: str, name: str) -> int:
        known = self._numbers[kind]
        return known.setdefault(name, len(known))

    def hold_words(self, first: int, seconds: float) -> str:
        step = self.evidence.plan.steps[first]
        people = ", ".join(self.library.people[name].label_text for name in step.people)
        wait = f" (planned wait: {show_duration(seconds)})" if seconds else ""
        return f"until {people} has ended: {plain(step.step.told).rstrip('.')}{wait}."

    def step(self, planned: PlannedStep) -> Shown:
        step, library = planned.step, self.library
        return Shown(
            number=self.evidence.evidence.numbers[planned.key],
            task=self.number("task", str(planned.task.id)),
            do=plain(step.told),
            place=self.places.get(planned.place or "", ""),
            takes=show_duration(planned.duration.likely),
            href=self.href("task", str(planned.task.id), step.key),
            hazards=tuple(self.number("hazard", str(one.hazard)) for one in planned.hazards),
            figures=tuple(self.number("figure", str(name)) for name in step.figures if name in library.figures),
            holds=tuple(self.held.get(planned.index, ())),
            calls=tuple(f"to {self.names(call.to)}: “{plain(call.say)}”" for call in step.calls),
        )

    def names(self, people: tuple[str, ...]) -> str:
        return ", ".join(self.library.people[name].label_text for name in people if name in self.library.people)

    def tasks(self) -> Iterator[Told]:
        for name in self._numbers["task"]:
            task = self.library.tasks[name]
            script = tuple(plain(part) for part in (task.script or "").split("\n\n") if part.strip())
            yield Told(plain(task.title), script, self.href("task", name, ""))

    def hazards(self) -> Iterator[Statement]:
        for name in self._numbers["hazard"]:
            one = self.library.hazards[name]
            yield Statement(one.signal, plain(one.hazard), plain(one.avoid), self.href("hazard", name, ""))

    def figures(self) -> Iterator[Picturing]:
        for name in self._numbers["figure"]:
            one = self.library.figures[name]
            caption = plain(one.caption or one.label_text)
            yield Picturing(self.picture(name), plain(one.alt), caption, self.href("figure", name, ""))


def points_of(play: Play, points: Mapping[str, tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """The points of the places that anybody passes or hangs a tether at."""
    used = {
        place for spans in play.spans for span in spans for place in (*(name for _, name in span.track), span.anchor)
    }
    return {name: points[name] for name in sorted(used) if name in points}
