"""The steps of people inside and on the ground whose flow is left out: they follow from `who`, and are in no order."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from briefgen.model.library import Library
from briefgen.model.work import Sortie

Loose = Mapping[str, Collection[str]]
"""Steps (`task/step`) by the person without a flow who does them."""


def loose_people(library: Library, sortie: Sortie) -> tuple[str, ...]:
    """Who has no flow in a sortie and needs none."""
    named = set(map(str, sortie.flow))
    return tuple(name for name, person in library.people.items() if not person.outside and name not in named)


def loose_keys(library: Library, sortie: Sortie) -> dict[str, list[str]]:
    """Their steps in all tasks that anybody's flow names, in the order in which the tasks come up."""
    people = loose_people(library, sortie)
    found: dict[str, list[str]] = {person: [] for person in people}
    for name in _tasks(sortie) if people else ():
        task = library.tasks.get(name)
        for step in task.steps if task else ():
            for person in step.who:
                if person in found:
                    found[str(person)].append(f"{name}/{step.key}")
    return {person: keys for person, keys in found.items() if keys}


def _tasks(sortie: Sortie) -> list[str]:
    """The tasks that flows name, those first that come up first in anybody's."""
    seats: dict[str, int] = {}
    for refs in sortie.flow.values():
        for seat, ref in enumerate(refs):
            seats[ref.task] = min(seat, seats.get(ref.task, seat))
    return sorted(seats, key=lambda name: seats[name])
