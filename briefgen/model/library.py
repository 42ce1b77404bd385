"""All records of a content folder together, by kind and id."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import Any

from briefgen.model.fields.base import Record
from briefgen.model.fields.digest import library_digest
from briefgen.model.figures import Figure, Hazard
from briefgen.model.learning import Outcome, Question, Term
from briefgen.model.people import Person, Suit
from briefgen.model.tasks import Task, WrittenTask
from briefgen.model.things import Bag, Equipment, Thing, Tool
from briefgen.model.work import Programme, Sortie
from briefgen.model.world import Place, Route


@dataclass(frozen=True)
class RecordKind:
    """One kind of record: its key in files, its name in references, and its model."""

    key: str
    singular: str
    model: type[Record]


KINDS: Mapping[str, RecordKind] = MappingProxyType(
    {
        kind.key: kind
        for kind in (
            RecordKind("programme", "programme", Programme),
            RecordKind("sorties", "sortie", Sortie),
            RecordKind("tasks", "task", WrittenTask),
            RecordKind("people", "person", Person),
            RecordKind("suits", "suit", Suit),
            RecordKind("places", "place", Place),
            RecordKind("routes", "route", Route),
            RecordKind("tools", "tool", Tool),
            RecordKind("bags", "bag", Bag),
            RecordKind("equipment", "equipment", Equipment),
            RecordKind("hazards", "hazard", Hazard),
            RecordKind("figures", "figure", Figure),
            RecordKind("outcomes", "outcome", Outcome),
            RecordKind("questions", "question", Question),
            RecordKind("terms", "term", Term),
        )
    }
)
ANY_ID = "*"
"""Stands for every id of a kind, where some of its records could not even be counted."""
SINGULAR: Mapping[str, str] = MappingProxyType({kind.singular: kind.key for kind in KINDS.values()})


@dataclass(frozen=True)
class Library:
    """Every record, by kind and id, each kind in the order read."""

    records: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def of(self, kind: str) -> Mapping[str, Any]:
        """All records of a kind, by id."""
        return self.records.get(kind, {})

    def find(self, kind: str, identifier: str) -> Any | None:
        """The record, or nothing."""
        return self.of(kind).get(identifier)

    def every(self) -> Iterator[tuple[str, Record]]:
        """Each record with its kind's key."""
        for kind, records in self.records.items():
            for record in records.values():
                yield kind, record

    @property
    def programme(self) -> Programme | None:
        """The one programme; none while it is missing or broken."""
        return next(iter(self.of("programme").values()), None)

    @property
    def ordered_sorties(self) -> tuple[Sortie, ...]:
        """The sorties in the programme's order; those it does not name are left out."""
        programme = self.programme
        names = programme.sorties if programme else ()
        return tuple(self.sorties[name] for name in names if name in self.sorties)

    @property
    def sorties(self) -> Mapping[str, Sortie]:
        """Every sortie, by id."""
        return self.of("sorties")

    @property
    def tasks(self) -> Mapping[str, Task]:
        """Every task, by id."""
        return self.of("tasks")

    @property
    def people(self) -> Mapping[str, Person]:
        """Every person, by id."""
        return self.of("people")

    @property
    def suits(self) -> Mapping[str, Suit]:
        """Every suit, by id."""
        return self.of("suits")

    @property
    def places(self) -> Mapping[str, Place]:
        """Every place, by id."""
        return self.of("places")

    @property
    def routes(self) -> Mapping[str, Route]:
        """Every route, by id."""
        return self.of("routes")

    @property
    def tools(self) -> Mapping[str, Tool]:
        """Every tool, by id."""
        return self.of("tools")

    @property
    def bags(self) -> Mapping[str, Bag]:
        """Every bag, by id."""
        return self.of("bags")

    @property
    def equipment(self) -> Mapping[str, Equipment]:
        """Every piece of equipment, by id."""
        return self.of("equipment")

    @property
    def hazards(self) -> Mapping[str, Hazard]:
        """Every hazard, by id."""
        return self.of("hazards")

    @property
    def figures(self) -> Mapping[str, Figure]:
        """Every figure, by id."""
        return self.of("figures")

    @property
    def outcomes(self) -> Mapping[str, Outcome]:
        """Every outcome, by id."""
        return self.of("outcomes")

    @property
    def questions(self) -> Mapping[str, Question]:
        """Every question, by id."""
        return self.of("questions")

    @property
    def terms(self) -> Mapping[str, Term]:
        """Every term, by id."""
        return self.of("terms")

    def needs_eyes(self, equipment: str, state: str) -> bool:
        """Whether somebody else must have confirmed a control in a state before anybody relies on it.

        So it is in the states that hazards name; where none names the control, nothing says which of them is safe.
        """
        if not self.equipment[equipment].control:
            return False
        named = self._controlling.get(str(equipment))
        return named is None or state in named

    @cached_property
    def _controlling(self) -> Mapping[str, frozenset[str]]:
        """The states of each control that some hazard names."""
        found: dict[str, frozenset[str]] = {}
        for hazard in self.hazards.values():
            for name, state in hazard.controls.items():
                found[str(name)] = found.get(str(name), frozenset()) | {str(state)}
        return found

    @cached_property
    def digest(self) -> str:
        """What long searches follow from (see `fields/digest.py`). Raises Unknown where that can't be told exactly."""
        return library_digest(self)

    def thing(self, identifier: str) -> Thing | None:
        """A tool or a bag."""
        return self.tools.get(identifier) or self.bags.get(identifier)
