"""Restraints that take time to get into and out of: in them for the work, out of them before going anywhere.

Pure: a trail goes in. What holds a person follows from their own flow alone, so it holds for every execution.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from briefgen.model.library import Library
from briefgen.proof.moving.whereabouts import Trail, Visit, held_after


class Slip(StrEnum):
    """What is wrong between a person and a restraint."""

    NOT_IN = "not in"  # the work is done in it, or the step gets out of it, and the person is not in it
    STILL_IN = "still in"  # the person gets into another one
    TRAVELS = "travels"  # the person sets off to the step of the visit
    RIDES = "rides"  # the step takes the person away
    STAYS = "stays"  # the sortie is over


@dataclass(frozen=True)
class RestraintSlip:
    """A slip of one person in one visit. `since` is the visit that got them into the restraint `word` at `place`."""

    visit: Visit
    slip: Slip
    place: str
    word: str
    since: Visit | None = None


def slips(library: Library, trails: Mapping[str, Trail]) -> Iterator[RestraintSlip]:
    """Every slip, in the order of each person's steps."""
    for trail in trails.values():
        yield from _slips(library, trail)


def _slips(library: Library, trail: Trail) -> Iterator[RestraintSlip]:
    held, since = "", None
    for visit in trail:
        if held and visit.place != visit.origin:
            yield RestraintSlip(visit, Slip.TRAVELS, visit.origin, held, since)
            held, since = "", None
        yield from _at_work(library, visit, held, since)
        after = held_after(library.places[visit.place], visit.step.step, held)
        held, since = after, (visit if visit.step.step.enters else since) if after else None
        if held and visit.moved:
            yield RestraintSlip(visit, Slip.RIDES, visit.place, held, since)
            held, since = "", None
    if held:
        yield RestraintSlip(trail[-1], Slip.STAYS, trail[-1].place, held, since)


def _at_work(library: Library, visit: Visit, held: str, since: Visit | None) -> Iterator[RestraintSlip]:
    place, step = library.places[visit.place], visit.step.step
    entered = step.enters if step.enters is not None and place.grip(step.enters) else None
    if entered is not None and held:
        yield RestraintSlip(visit, Slip.STILL_IN, visit.place, held, since)
    if step.exits is not None and place.grip(step.exits) and step.exits != held:
        yield RestraintSlip(visit, Slip.NOT_IN, visit.place, str(step.exits))
    elif step.restraint is not None and place.grip(step.restraint) and step.restraint not in (held, entered):
        yield RestraintSlip(visit, Slip.NOT_IN, visit.place, str(step.restraint))
