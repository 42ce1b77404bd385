"""Scenes of the told sortie as rows: what fills the screen, what is said, who is where, and what can hurt there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from briefgen.charts.drawing.svg import number
from briefgen.language.wording import capital
from briefgen.model.sights import Callout
from briefgen.pages.desk import Desk
from briefgen.pages.doing.statements import Statement, statements
from briefgen.pages.rows import Link, MarkChip
from briefgen.pages.studying.grounds import Ground, Point, ground_of
from briefgen.pages.things.sights import shown
from briefgen.proof.evidence import SortieEvidence
from briefgen.telling.meanwhile import hazards_met, meanwhile
from briefgen.telling.scenes import FigureShown, MapShown, ToldScene, scenes_of
from briefgen.telling.stretches import Interval
from briefgen.units import MINUTE, show_elapsed

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
# A person is drawn where they are at the end of a stretch; two this near (in hundredths of the width) share a spot.
_NEAR = 2.5


@dataclass(frozen=True)
class Pin:
    """A callout that is spoken of: its letter, its point in hundredths, and what it shows."""

    letter: str
    x: str
    y: str
    shows: Link


@dataclass(frozen=True)
class Gathering:
    """People at one spot of the map."""

    x: str
    y: str
    marks: tuple[MarkChip, ...]


@dataclass(frozen=True)
class Picture:
    """What fills the screen. `ways` are lines in the picture's own pixels, each with its person's pattern."""

    source: str
    svg: Markup
    alt: str
    width: int
    height: int
    figure: Link | None
    pins: tuple[Pin, ...] = ()
    ways: tuple[tuple[str, str], ...] = ()
    standing: tuple[Gathering, ...] = ()


@dataclass(frozen=True)
class Busy:
    """A person, and the tasks that they are at meanwhile."""

    mark: MarkChip
    tasks: tuple[Link, ...]


@dataclass(frozen=True)
class SceneRow:
    """A scene, ready to print. `seconds` are what it takes, `until` when it ends since the telling began."""

    anchor: str
    number: int
    title: str
    phase: str
    picture: Picture | None
    says: str
    takes: str
    seconds: int
    until: int
    over: bool
    shorten: int
    clock: str
    tasks: tuple[Link, ...]
    doing: tuple[Busy, ...]
    hazards: tuple[Statement, ...]


def scene_rows(desk: Desk, case: SortieEvidence) -> tuple[SceneRow, ...]:
    """The scenes of a sortie."""
    return desk.once(("scenes", str(case.sortie.id)), lambda: tuple(_rows(desk, case)))


def _rows(desk: Desk, case: SortieEvidence) -> Iterator[SceneRow]:
    scenes = scenes_of(case)
    ranks = _shorten_first(case, scenes)
    until = 0.0
    for scene in scenes:
        until += scene.seconds
        yield SceneRow(
            anchor=f"scene-{scene.number}",
            number=scene.number,
            title=desk.texts.plain(scene.title),
            phase=desk.texts.plain(scene.phase) if scene.phase else "",
            picture=_picture(desk, case, scene),
            says=scene.says,
            takes=minutes_words(scene.seconds),
            seconds=round(scene.seconds),
            until=round(until),
            over=scene.planned is not None and scene.spoken > scene.planned,
            shorten=ranks.get(scene.number, 0),
            clock=_clock(scene.stretch),
            tasks=tuple(desk.link("task", task) for task in scene.tasks if task in desk.library.tasks),
            doing=tuple(
                Busy(desk.mark(one.person), tuple(desk.link("task", task) for task in one.tasks))
                for one in meanwhile(case, scene.stretch)
                if scene.tasks
            ),
            hazards=statements(desk, hazards_met(case, scene)),
        )


def minutes_words(seconds: float) -> str:
    """`1:35 min`, or nothing where no time is known.

    >>> minutes_words(95), minutes_words(0)
    ('1:35 min', '')
    """
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d} min" if whole else ""


def _clock(stretch: Interval) -> str:
    if stretch.end - stretch.start < MINUTE:
        return show_elapsed(stretch.start)
    return f"{show_elapsed(stretch.start)} to {show_elapsed(stretch.end)}"


def _shorten_first(case: SortieEvidence, scenes: Iterable[ToldScene]) -> dict[int, int]:
    """Which scenes to shorten when late, as ranks from 1: optional tasks first, then scenes that meet no hazard."""

    def rank(scene: ToldScene) -> tuple[int, float]:
        tasks = [case.library.tasks[name] for name in scene.tasks if name in case.library.tasks]
        optional = bool(tasks) and all(task.optional for task in tasks)
        return (0 if optional else 1 if not hazards_met(case, scene) else 2, -scene.seconds)

    chosen = sorted((scene for scene in scenes if scene.seconds and rank(scene)[0] < 2), key=rank)
    return {scene.number: place for place, scene in enumerate(chosen, start=1)}


def _picture(desk: Desk, case: SortieEvidence, scene: ToldScene) -> Picture | None:
    if isinstance(scene.shown, FigureShown):
        return _figure(desk, scene.shown)
    return _map(desk, case, scene.shown)


def _figure(desk: Desk, shown_: FigureShown) -> Picture | None:
    record = desk.library.figures.get(shown_.figure)
    if record is None:
        return None
    size = desk.pictures.size(str(record.file))
    callouts = {str(name): callout for name, callout in record.callouts.items()}
    looked = [callouts[name] for name in shown_.look if name in callouts]
    return Picture(
        desk.links.picture(str(record.file)), Markup(), desk.texts.plain(record.alt), size.width, size.height,
        desk.link("figure", shown_.figure),
        pins=tuple(_pin(desk, place, callout) for place, callout in enumerate(looked)),
    )  # fmt: skip


def _pin(desk: Desk, place: int, callout: Callout) -> Pin:
    letter = _LETTERS[place] if place < len(_LETTERS) else str(place + 1)
    x, y = (number(100 * float(share)) for share in callout.at)
    link = shown(desk, str(callout.shows))
    return Pin(letter, x, y, Link(capital(link.words), link.target))


def _map(desk: Desk, case: SortieEvidence, shown_: MapShown) -> Picture | None:
    ground = ground_of(desk)
    if ground is None:
        return None
    return Picture(
        ground.source, Markup(ground.svg), ground.alt, ground.width, ground.height, None,
        ways=tuple(_ways(desk, case, ground, shown_.stretch)),
        standing=tuple(_standing(desk, case, ground, shown_.stretch.end)),
    )  # fmt: skip


def _ways(desk: Desk, case: SortieEvidence, ground: Ground, stretch: Interval) -> Iterator[tuple[str, str]]:
    """Each person's way in a stretch as points of a line, with the person's pattern."""
    for person in case.plan.outside:
        points: list[Point] = []
        for leg in case.timeline.legs:
            if leg.person == person and leg.way and leg.end > leg.start and stretch.overlaps(leg.start, leg.end):
                points += [ground.points[place] for place in leg.way.places if place in ground.points]
        line = [point for place, point in enumerate(points) if place == 0 or point != points[place - 1]]
        if len(line) > 1:
            wide, high = ground.width / 100, ground.height / 100
            yield desk.mark(person).pattern, " ".join(f"{number(x * wide)},{number(y * high)}" for x, y in line)


def _standing(desk: Desk, case: SortieEvidence, ground: Ground, moment: float) -> Iterator[Gathering]:
    """Where everybody outside is at a moment; who is on no point of the ground is left out."""
    spots: list[tuple[Point, list[str]]] = []
    for person in case.plan.outside:
        stay = case.whereabouts.at(person, min(moment, case.timeline.finish))
        point = ground.points.get(stay.place) if stay else None
        if point is None:
            continue
        near = next((people for spot, people in spots if _apart(spot, point) < _NEAR), None)
        if near is None:
            spots.append((point, [person]))
        else:
            near.append(person)
    for (x, y), people in spots:
        yield Gathering(number(x), number(y), desk.marks(people))


def _apart(one: Point, other: Point) -> float:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1]))
