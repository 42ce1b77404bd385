"""A sortie at a glance: the site with everybody's ways, and a small timeline whose letters stand on both."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.charts.kinds.timeline.rows import Rows, timeline_rows
from briefgen.pages.context import PageContext
from briefgen.pages.rows import MarkChip
from briefgen.pages.studying.grounds import Point, ground_of
from briefgen.pages.studying.pictured import APART, Picture, sortie_picture
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed

HOUR = 3600.0
# Worksites this near (in hundredths of the picture's width and height) share one label.
_NEAR: Point = (6.0, 7.0)
# An hour so near to the end of the strip (as a share of it) has no room for its words.
_LAST = 0.92


@dataclass(frozen=True)
class StripPiece:
    """A task, a hold or a night on the strip, from `left` and so `wide` in hundredths of it."""

    kind: str
    left: str
    wide: str
    letter: str
    words: str


@dataclass(frozen=True)
class StripLane:
    """A person and what they do, in the order of time."""

    mark: MarkChip
    pieces: tuple[StripPiece, ...]


@dataclass(frozen=True)
class Glance:
    """What a sortie's page begins with. `hours` are points of the strip with the clock's words."""

    picture: Picture | None
    lanes: tuple[StripLane, ...]
    nights: tuple[StripPiece, ...]
    hours: tuple[tuple[str, str], ...]
    letters: Mapping[str, str]
    holds: bool
    optional: bool


def glance_of(context: PageContext, proved: SortieEvidence) -> Glance:
    """The glance of a sortie, made once."""
    return context.once(("glance", str(proved.sortie.id)), lambda: _glance(context, proved))


def _glance(context: PageContext, proved: SortieEvidence) -> Glance:
    rows = timeline_rows(proved, context.plots.href)
    letters = {one.task: one.letter for one in rows.stretches}
    lanes = tuple(StripLane(context.mark(lane.id), tuple(_pieces(rows, lane.number))) for lane in rows.lanes)
    return Glance(
        sortie_picture(context, proved, dict(_sites(context, proved, letters)), APART),
        tuple(lane for lane in lanes if lane.pieces),
        tuple(_piece("night", rows, start, end, "", "Night") for start, end in rows.nights if start < rows.until),
        tuple((_share(rows, hour * HOUR), f"{hour} h") for hour in range(int(_LAST * rows.until / HOUR) + 1)),
        letters,
        any(piece.kind == "hold" for lane in lanes for piece in lane.pieces),
        any(piece.kind == "optional" for lane in lanes for piece in lane.pieces),
    )


def _pieces(rows: Rows, lane: int) -> Iterator[StripPiece]:
    tasks = [
        _piece("task" if one.priority == "required" else "optional", rows, one.start, one.end, one.letter, one.words)
        for one in rows.stretches
        if one.lane == lane
    ]
    yield from tasks
    for bar in rows.of(lane, "wait"):
        yield _piece("hold", rows, bar.start, bar.end, "", bar.title)


def _piece(kind: str, rows: Rows, start: float, end: float, letter: str, title: str) -> StripPiece:
    end = min(end, rows.until)
    words = f"{title.rstrip('.')}, {show_elapsed(start)} to {show_elapsed(end)}"
    return StripPiece(kind, _share(rows, start), _share(rows, end - start), letter, words)


def _share(rows: Rows, seconds: float) -> str:
    return f"{100 * seconds / rows.until:.2f}"


def _sites(context: PageContext, proved: SortieEvidence, letters: Mapping[str, str]) -> Iterator[tuple[str, Point]]:
    """Letters, with where their tasks are done for longest; near ones together."""
    ground = ground_of(context)
    labels: list[tuple[Point, list[str]]] = []
    for task, letter in sorted(letters.items(), key=lambda one: (len(one[1]), one[1])):
        point = ground.points.get(_worksite(context, proved, task)) if ground else None
        if point is None:
            continue
        near = next((names for spot, names in labels if _close(spot, point)), None)
        if near is None:
            labels.append((point, [letter]))
        else:
            near.append(letter)
    for point, names in labels:
        yield " ".join(names), point


def _close(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) < _NEAR[0] and abs(one[1] - other[1]) < _NEAR[1]


def _worksite(context: PageContext, proved: SortieEvidence, task: str) -> str:
    """The place of a task's steps with the most time; nothing where nobody outside has a part in it."""
    spent: dict[str, float] = {}
    for times in context.by_task(proved)[task]:
        if times.step.place:
            place = str(times.step.place)
            spent[place] = spent.get(place, 0.0) + times.end - times.start
    return max(spent, key=lambda place: spent[place], default="")
