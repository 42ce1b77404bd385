"""Places and routes: the list, a page for each place, and one for all routes."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import count, metres
from briefgen.model.world import Grip, Place, Route
from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Group, Item, Key
from briefgen.pages.things.records import record_page
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_duration, show_number


def pages(desk: Desk) -> Iterator[Page]:
    """The list, the routes, each place."""
    places = desk.library.places
    yield Page(
        uri="places/index",
        title="Places",
        section="places",
        template="things/places.html",
        icon="place",
        order=(0,),
        rows={
            "charts": (desk.plots.draw("map"),),
            "title": "Places",
            "icon": "place",
            "lead": "The worksites and the ways between them.",
            "routes": desk.links.page("routes"),
            "groups": (Group("", "", tuple(_item(desk, place) for place in places.values())),),
        },
    )
    yield _routes(desk)
    for number, place in enumerate(places.values()):
        yield _place(desk, place, number)


def _item(desk: Desk, place: Place) -> Item:
    return Item(
        desk.link("place", str(place.id)),
        str(place.note or ""),
        icon="place",
        badges=tuple(_badges(place)),
        meta=(f"room for {count(place.room, 'person', 'people')}",) if place.room is not None else (),
        chips=tuple(desk.chip("hazard", str(name)) for name in place.hazards),
    )


def _badges(place: Place) -> Iterator[Badge]:
    if place.home:
        yield Badge("Home", "kind", "home")
    if place.anchor:
        yield Badge("Anchor", "kind", "anchor")


def _place(desk: Desk, place: Place, number: int) -> Page:
    return record_page(
        desk, "place", place, "places", (2, number), head="Place", index="places/index", badges=_badges(place),
        keys=_keys(desk, place), tables=list(_ways(desk, place)), hazards=place.hazards,
    )  # fmt: skip


def _keys(desk: Desk, place: Place) -> Iterator[Key]:
    if place.map:
        across, up = (show_number(number, 1) for number in place.map)
        yield Key("On the map", f"{across} m to the right, {up} m up")
    if place.room is not None:
        yield Key("Room", count(place.room, "person", "people"))
    if place.restraint:
        yield Key("Held by", ", ".join(_held_by(word, grip) for word, grip in place.restraint.items()))
    home = next((name for name, other in desk.library.places.items() if other.home), None)
    way = desk.evidence.routes.way(str(place.id), home) if home and not place.home else None
    loaded = desk.evidence.routes.way(str(place.id), home, loaded=True) if home and not place.home else None
    if way and loaded:
        yield Key("Way home", f"{metres(way.metres)}, {show_duration(way.seconds)}")
        yield Key("With a bag", f"{metres(loaded.metres)}, {show_duration(loaded.seconds)}")


def _held_by(word: str, grip: Grip) -> str:
    """`foot plate (3 min to get in, 2 min to get out)`."""
    times = [
        f"{show_duration(span.likely)} to get {way}"
        for span, way in ((grip.enter, "in"), (grip.leave, "out"))
        if span is not None
    ]
    return f"{word} ({', '.join(times)})" if times else str(word)


def _ways(desk: Desk, place: Place) -> Iterator[Table]:
    """The routes that leave the place."""
    here = str(place.id)
    leaving = [route for route in desk.library.routes.values() if _leaves(route, here)]
    if not leaving:
        return
    head = headed("To", "Route", "Length", "Time", "With a bag", "Hazards", figures={2, 3, 4})
    yield Table("ways", "Routes from here", head, tuple(_way(desk, route, here) for route in leaving))


def _leaves(route: Route, here: str) -> bool:
    return route.between[0] == here or (route.between[1] == here and not route.one_way)


def _way(desk: Desk, route: Route, here: str) -> tuple[Cell, ...]:
    other = str(route.between[1] if route.between[0] == here else route.between[0])
    goal, name = desk.link("place", other), desk.link("route", str(route.id))
    return (Cell(goal.words, goal.target), Cell(name.words, name.target), *_amounts(desk, route))


def _amounts(desk: Desk, route: Route) -> tuple[Cell, ...]:
    programme = desk.library.programme
    paces = (programme.paces.outside, programme.paces.loaded) if programme else ()
    times = [route.time.likely if route.time else route.length / pace for pace in paces]
    hazards = ", ".join(desk.label("hazard", str(name)) for name in route.hazards)
    return (
        Cell(metres(route.length)),
        *(Cell(show_duration(seconds)) for seconds in times),
        Cell(hazards or "none"),
    )


def _routes(desk: Desk) -> Page:
    return Page(
        uri="routes",
        title="Routes",
        section="places",
        template="things/routes.html",
        icon="route",
        order=(1,),
        rows={"title": "Routes", "routes": tuple(_route(desk, route) for route in desk.library.routes.values())},
    )


def _route(desk: Desk, route: Route) -> Item:
    first, second = (desk.chip("place", str(name)) for name in route.between)
    cells = _amounts(desk, route)
    meta = (cells[0].words, cells[1].words, f"{cells[2].words} with a bag")
    badges = (Badge("One way"),) if route.one_way else ()
    hazards = tuple(desk.chip("hazard", str(name)) for name in route.hazards)
    link, chips = desk.link("route", str(route.id)), (first, second, *hazards)
    return Item(link, str(route.note or ""), icon=str(route.id), badges=badges, meta=meta, chips=chips)
