"""How long a route is that a person goes, typed with its unit."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Exercise, Number, QuestionKind, ReadUp
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import LENGTH


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each route that anybody goes along."""
    takers: dict[str, dict[str, None]] = {}
    for person, trail in proved.travel.trails.items():
        for visit in trail:
            for route in visit.way.routes if visit.way else ():
                takers.setdefault(str(route), {})[person] = None
    for route, people in takers.items():
        yield _question(proved, route, tuple(people))


def _question(proved: SortieEvidence, route: str, people: tuple[str, ...]) -> Exercise:
    record, places = proved.library.routes[route], proved.library.places
    one, other = (places[name].label_text if name in places else str(name) for name in record.between)
    metres = float(record.length)
    return Exercise(
        id=f"lengths:{route}",
        kind=KIND.name,
        asks=f"How long is the way between {one} and {other} ({record.label_text})?",
        answer=Number(metres, metres, LENGTH.units, record.length.written),
        because="Times and tether reach are computed with it.",
        look=ReadUp("route", route),
        people=people,
    )


KIND = QuestionKind("lengths", "How far", make)
