"""What is carried and what is worked on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import product
from math import prod
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.choices import Turning
from briefgen.model.fields.quantities import Mass, Torque, Turns
from briefgen.model.fields.values import (
    EquipmentRef,
    Flag,
    HazardRefs,
    Id,
    PlaceRef,
    SpotRef,
    SpotRefs,
    Whole,
    Word,
    WordList,
    Words,
    as_list,
    wrong,
)

_MOST_ITEMS = 1000


class Setting(Part):
    """One way in which a tool is set."""

    turns: Turns | None = Field(None, description="How many turns.", examples=["6.5 turns"])
    torque: Torque | None = Field(None, description="The torque to reach.", examples=["9 N·m"])
    turning: Turning | None = Field(None, description="Which way it turns.", examples=["clockwise"])
    note: Words | None = Field(None, description="Anything else about it.", examples=["Slow speed."])


class Thing(Record):
    """What can be picked up, carried and left: a tool or a bag."""

    stowed: SpotRef = Field(description="The place or bag in which it begins.", examples=["k2-locker"])
    mass: Mass | None = Field(None, description="Its mass.", examples=["3.2 kg"])
    ends: SpotRefs = Field(
        (), description="Where else it may be in the end: places or bags.", examples=["[k5-bracket]"]
    )


class Tool(Thing):
    """A tool, or a lot of consumables."""

    hazards: HazardRefs = Field((), description="What can hurt whoever uses it.", examples=["[spring-back]"])
    count: Whole = Field(1, description="How many there are; above 1 it is a consumable.", examples=["9"])
    settings: dict[Id, Setting] = Field(
        default_factory=dict, description="How it can be set, by id.",
        examples=["{loosen: {turns: 6.5 turns, turning: counter-clockwise}}"],
    )  # fmt: skip

    fitted_as: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="While this equipment is in this state, the tool is fitted there and in "
        "nobody's hands: a step that sets it fits the tool, and taking it needs another state first.",
        examples=["{mast-socket: filled}"],
    )  # fmt: skip

    @property
    def consumable(self) -> bool:
        """Whether there are several, to be used up."""
        return self.count > 1

    @model_validator(mode="after")
    def _some(self) -> Tool:
        if self.count < 1:
            raise wrong(f"a count of {self.count} is none: write how many there are")
        return self


class Bag(Thing):
    """A bag: carried like a tool, it holds tools and other bags."""


class Equipment(Record):
    """What is worked on, and the states it can be in."""

    place: PlaceRef | None = Field(None, description="Where it is.", examples=["k3-bay"])
    states: Annotated[WordList, Field(min_length=1)] = Field(
        description="Every state it can be in.", examples=["[open, closed]"]
    )
    starts: Word = Field(description="The state in which the first sortie finds it.", examples=["closed"])
    ends: Annotated[tuple[Word, ...], BeforeValidator(as_list)] = Field(
        (), description="In which states it may be at the end of a sortie, or `any`; else as it began.",
        examples=["[open, closed]"],
    )  # fmt: skip
    control: Flag = Field(False, description="Whether it keeps a hazard controlled.", examples=["true"])
    hazards: HazardRefs = Field((), description="What can hurt whoever outside sets it.", examples=["[live-connector]"])
    parts: dict[Id, Annotated[WordList, Field(min_length=1)]] = Field(
        default_factory=dict, description="Parts that make many items of it: every combination is one item.",
        examples=["{rack: [1, 2, 3], plate: [a, b, c, d]}"],
    )  # fmt: skip

    @model_validator(mode="after")
    def _countable(self) -> Equipment:
        number = prod(map(len, self.parts.values()))
        if number > _MOST_ITEMS:
            raise wrong(f"these “parts” make {number} items; nobody can be briefed on more than {_MOST_ITEMS}")
        return self

    @property
    def allowed_ends(self) -> tuple[str, ...]:
        """The states it may end in; every state where `ends` is `any`."""
        if "any" in self.ends:
            return tuple(map(str, self.states))
        return tuple(map(str, self.ends)) or (str(self.starts),)

    @property
    def items(self) -> tuple[tuple[str, ...], ...]:
        """Every item as the names of its parts, in the order written; one nameless item without parts."""
        return self.chosen({})

    def chosen(self, where: Mapping[Any, Iterable[str]]) -> tuple[tuple[str, ...], ...]:
        """The items whose parts are among those of `where`, in the order written."""
        wanted = {str(part): {str(name) for name in names} for part, names in where.items()}
        rows = [
            [str(name) for name in names if str(part) not in wanted or str(name) in wanted[str(part)]]
            for part, names in self.parts.items()
        ]
        return tuple(product(*rows))

    def item_words(self, item: tuple[str, ...]) -> str:
        """`rack 1, plate a`."""
        return ", ".join(f"{part} {name}" for part, name in zip(self.parts, item, strict=True))
