"""The rows of the site map: places with coordinates, the routes between them, and the rides that steps make."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.charts.chart import Href
from briefgen.model.library import Library
from briefgen.model.world import Place, Route
from briefgen.units import show_duration, show_number


@dataclass(frozen=True)
class Spot:
    """A place on the map: `x` to the right and `y` up, in metres on the drawing."""

    id: str
    name: str
    x: float
    y: float
    home: bool
    anchor: bool
    hazards: tuple[str, ...]
    facts: tuple[str, ...]
    href: str


@dataclass(frozen=True)
class Path:
    """A route between two spots, by id. `length` and `time` are words."""

    id: str
    name: str
    first: str
    second: str
    length: str
    time: str
    one_way: bool
    hazards: tuple[str, ...]
    href: str


@dataclass(frozen=True)
class Rows:
    """All that the map shows. `rides` join spots between which a step brings people without a route."""

    spots: tuple[Spot, ...]
    paths: tuple[Path, ...]
    rides: tuple[tuple[str, str], ...]

    def paths_of(self, spot: str) -> Iterator[tuple[str, Path]]:
        """The other end and the route, for each route that leaves a spot."""
        for path in self.paths:
            if path.first == spot:
                yield path.second, path
            elif path.second == spot and not path.one_way:
                yield path.first, path


def map_rows(library: Library, href: Href) -> Rows:
    """The rows; places without coordinates, and what leads there, are left out."""
    spots = tuple(_spot(library, place, href) for place in library.places.values() if place.map)
    known = {spot.id for spot in spots}
    paths = tuple(
        _path(library, route, href) for route in library.routes.values() if {str(end) for end in route.between} <= known
    )
    return Rows(spots, paths, tuple(_rides(library, known)))


def _hazards(library: Library, record: Place | Route) -> tuple[str, ...]:
    found = (library.hazards.get(str(name)) for name in record.hazards)
    return tuple(f"{one.signal.capitalize()}: {one.label_text}" for one in found if one)


def _spot(library: Library, place: Place, href: Href) -> Spot:
    facts = ["Home: everybody outside starts and ends here"] if place.home else []
    facts += ["Takes a safety tether"] if place.anchor else []
    facts += [f"Room for {place.room}"] if place.room else []
    facts += [f"Restraint: {', '.join(map(str, place.restraint))}"] if place.restraint else []
    assert place.map is not None
    x, y = map(float, place.map)
    return Spot(
        str(place.id), place.label_text, x, y, place.home, place.anchor, _hazards(library, place), tuple(facts),
        href("place", str(place.id), ""),
    )  # fmt: skip


def _path(library: Library, route: Route, href: Href) -> Path:
    first, second = map(str, route.between)
    return Path(
        str(route.id), route.label_text, first, second, f"{show_number(float(route.length))} m",
        show_duration(route.time.likely) if route.time else "", route.one_way, _hazards(library, route),
        href("route", str(route.id), ""),
    )  # fmt: skip


def _rides(library: Library, known: set[str]) -> Iterator[tuple[str, str]]:
    """Pairs of spots that a step with `to` joins, each once."""
    seen: set[frozenset[str]] = set()
    for task in library.tasks.values():
        for step in task.steps:
            start, end = str(step.at or task.place or ""), str(step.to or "")
            pair = frozenset((start, end))
            if start in known and end in known and start != end and pair not in seen:
                seen.add(pair)
                yield start, end
