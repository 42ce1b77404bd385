"""What rules about travel share: places in the author's words and positions, and every variant with its travel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeVar

from briefgen.model.library import Library
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.travel import Travel
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Trouble
from briefgen.rules.shared.lines import step_line
from briefgen.source import Position

T = TypeVar("T")


def flight(steps: str, people: str = "ev1", limits: str = "length: 2 h", place: str = "lock") -> str:
    """An example: one task with the steps, one a line, in the flows of `people`."""
    lines = "\n".join(f"      - {{{line.strip()}}}" for line in steps.strip().splitlines())
    flow = ", ".join(f"{person}: [work]" for person in people.split())
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: {place}\n    steps:\n{lines}\n"
        f"sorties:\n  s:\n    title: S\n    flow: {{{flow}}}\n    limits: {{{limits}}}"
    )


def each_variant(evidence: Evidence) -> Iterator[tuple[SortieEvidence, Variant, Travel]]:
    """Every sortie as planned, and without its optional tasks, with its travel."""
    for proved in evidence.sorties.values():
        for variant, (_, travel) in zip(proved.variants, proved.travels, strict=True):
            yield proved, variant, travel


def once(troubles: Iterable[Trouble]) -> Iterator[Trouble]:
    """The first trouble at each place: what is wrong in the whole plan is not told again for its variants."""
    seen: set[Position] = set()
    for trouble in troubles:
        if trouble.position not in seen:
            seen.add(trouble.position)
            yield trouble


def by_spot(found: Iterable[tuple[Position, str, T]]) -> Iterator[tuple[Position, list[str], T]]:
    """People with the same trouble at the same place together, with what was found of the first."""
    people: dict[Position, list[str]] = {}
    first: dict[Position, T] = {}
    for spot, person, matter in found:
        people.setdefault(spot, []).append(person)
        first.setdefault(spot, matter)
    for spot, names in people.items():
        yield spot, names, first[spot]


def place_words(library: Library, name: str) -> str:
    """A place's name."""
    place = library.places.get(name)
    return place.label_text if place else name


def place_spot(step: PlannedStep, place: str) -> Position:
    """Where the author says that a step is at (or leads to) a place: `at`, `to`, the task's `place`, or the step."""
    words = (step.step.at, step.step.to, step.task.place)
    return next((word.position for word in words if word is not None and word == place), step.step.position)


def anchor_line(library: Library, people: Iterable[str], anchor: str) -> str:
    """The step that moves a safety tether."""
    words = f"Move the safety tether to {place_words(library, anchor)}."
    return step_line(people, anchor, words, "2 min", f"anchors: {anchor}")
