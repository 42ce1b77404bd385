"""Steps, people, things and spots in the author's words, for sentences about a plan."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.language.sentences import plain
from briefgen.language.wording import listing
from briefgen.model.library import SINGULAR, Library
from briefgen.proof.holding.custody import Spot
from briefgen.proof.ordering.states import Item
from briefgen.proof.plan import PlannedStep


def people_words(library: Library, people: Iterable[str]) -> str:
    """`EV1 and EV2`."""
    return listing([library.people[name].label_text if name in library.people else name for name in people])


def called(library: Library, person: str) -> str:
    """What is said on the loop, or the label."""
    record = library.people[person]
    return str(record.callsign or record.label)


def people_called(library: Library, people: Iterable[str]) -> str:
    """`Heron and Wren`."""
    return listing([called(library, person) for person in people])


def step_words(library: Library, step: PlannedStep) -> str:
    """`“Close the valves” (EV1, swap-pump/close)`: the instruction without its stop, who, and the step's key."""
    return f"“{step.step.do.rstrip('.')}” ({people_words(library, step.people)}, {step.key})"


def item_words(library: Library, item: Item) -> str:
    """`Sample plates, rack 1, plate a`."""
    record = library.equipment[item[0]]
    return ", ".join(filter(None, [record.label_text, record.item_words(item[1])]))


def thing_words(library: Library, name: str) -> str:
    """A tool's or bag's name."""
    thing = library.thing(name)
    return thing.label_text if thing else name


def spot_words(library: Library, spot: Spot) -> str:
    """`in Bag A`, `at K2`, `with EV1`."""
    if spot.kind == "bags":
        return f"in {thing_words(library, spot.id)}"
    if spot.kind == "people":
        return f"with {people_words(library, [spot.id])}"
    place = library.places.get(spot.id)
    return f"at {place.label_text if place else spot.id}"


def chain_words(library: Library, chain: Iterable[Spot]) -> str:
    """`in Pouch, in Bag A, at K2`."""
    return ", ".join(spot_words(library, spot) for spot in chain)


def hold_words(library: Library, first: PlannedStep) -> str:
    """What a hold waits for: `GND confirms Feed A isolated`, else who does it and the instruction."""
    who = people_words(library, first.people)
    for named, verb in ((first.step.verifies, "confirms"), (first.step.sets, "sets")):
        if named:
            states = [f"{library.equipment[name].label_text} {state}" for name, state in named.items()]
            return f"{who} {verb} {', '.join(states)}"
    return f"{who}: {first.step.told.rstrip('.')}"


def shown_by(library: Library, shows: str) -> str:
    """What a callout shows, in words: a record's name, or the author's own."""
    kind, colon, rest = shows.partition(":")
    record = library.find(SINGULAR.get(kind, ""), rest.partition("#")[0]) if colon else None
    return record.label_text if record else plain(shows)
