"""Places and routes: the list, a page for each place, and one for all routes."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import count, metres
from briefgen.model.world import Grip, Place, Route
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Group, Item, Key
from briefgen.pages.things.records import record_page
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_duration, show_number


def pages(context: PageContext) -> Iterator[Page]:
    """The list, the routes, each place."""
    places = context.library.places
    yield Page(
        uri="places/index",
        title="Places",
        section="places",
        template="things/places.html",
        icon="place",
        order=(0,),
        rows={
            "charts": (context.plots.draw("map"),),
            "title": "Places",
            "icon": "place",
            "lead": "The worksites and the ways between them.",
            "routes": context.links.page("routes"),
            "groups": (Group("", "", tuple(_item(context, place) for place in places.values())),),
        },
    )
    yield _routes(context)
    for number, place in enumerate(places.values()):
        yield _place(context, place, number)


def _item(context: PageContext, place: Place) -> Item:
    return Item(
        context.link("place", str(place.id)),
        str(place.note or ""),
        icon="place",
        badges=tuple(_badges(place)),
        meta=(f"room for {count(place.room, 'person', 'people')}",) if place.room is not None else (),
        chips=tuple(context.chip("hazard", str(name)) for name in place.hazards),
    )


def _badges(place: Place) -> Iterator[Badge]:
    if place.home:
        yield Badge("Home", "kind", "home")
    if place.anchor:
        yield Badge("Anchor", "kind", "anchor")


def _place(context: PageContext, place: Place, number: int) -> Page:
    return record_page(
        context, "place", place, "places", (2, number), head="Place", index="places/index", badges=_badges(place),
        keys=_keys(context, place), tables=list(_ways(context, place)), hazards=place.hazards,
    )  # fmt: skip


def _keys(context: PageContext, place: Place) -> Iterator[Key]:
    if place.map:
        across, up = (show_number(number, 1) for number in place.map)
        yield Key("On the map", f"{across} m to the right, {up} m up")
    if place.room is not None:
        yield Key("Room", count(place.room, "person", "people"))
    if place.restraint:
        yield Key("Held by", ", ".join(_held_by(word, grip) for word, grip in place.restraint.items()))
    home = next((name for name, other in context.library.places.items() if other.home), None)
    way = context.evidence.routes.way(str(place.id), home) if home and not place.home else None
    loaded = context.evidence.routes.way(str(place.id), home, loaded=True) if home and not place.home else None
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


def _ways(context: PageContext, place: Place) -> Iterator[Table]:
    """The routes that leave the place."""
    here = str(place.id)
    leaving = [route for route in context.library.routes.values() if _leaves(route, here)]
    if not leaving:
        return
    head = headed("To", "Route", "Length", "Time", "With a bag", "Hazards", figures={2, 3, 4})
    yield Table("ways", "Routes from here", head, tuple(_way(context, route, here) for route in leaving))


def _leaves(route: Route, here: str) -> bool:
    return route.between[0] == here or (route.between[1] == here and not route.one_way)


def _way(context: PageContext, route: Route, here: str) -> tuple[Cell, ...]:
    other = str(route.between[1] if route.between[0] == here else route.between[0])
    goal, name = context.link("place", other), context.link("route", str(route.id))
    return (Cell(goal.words, goal.target), Cell(name.words, name.target), *_amounts(context, route))


def _amounts(context: PageContext, route: Route) -> tuple[Cell, ...]:
    programme = context.library.programme
    paces = (programme.paces.outside, programme.paces.loaded) if programme else ()
    times = [route.time.likely if route.time else route.length / pace for pace in paces]
    hazards = ", ".join(context.label("hazard", str(name)) for name in route.hazards)
    return (
        Cell(metres(route.length)),
        *(Cell(show_duration(seconds)) for seconds in times),
        Cell(hazards or "none"),
    )


def _routes(context: PageContext) -> Page:
    return Page(
        uri="routes",
        title="Routes",
        section="places",
        template="things/routes.html",
        icon="route",
        order=(1,),
        rows={"title": "Routes", "routes": tuple(_route(context, route) for route in context.library.routes.values())},
    )


def _route(context: PageContext, route: Route) -> Item:
    first, second = (context.chip("place", str(name)) for name in route.between)
    cells = _amounts(context, route)
    meta = (cells[0].words, cells[1].words, f"{cells[2].words} with a bag")
    badges = (Badge("One way"),) if route.one_way else ()
    hazards = tuple(context.chip("hazard", str(name)) for name in route.hazards)
    link, chips = context.link("route", str(route.id)), (first, second, *hazards)
    return Item(link, str(route.note or ""), icon=str(route.id), badges=badges, meta=meta, chips=chips)
