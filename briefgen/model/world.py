"""Where people work and how they get there."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, model_validator

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.quantities import Length, Moment, Span
from briefgen.model.fields.values import Flag, HazardRefs, Number, PlaceRef, Whole, Word, as_names, wrong


class Grip(Part):
    """What can hold a person at a place. What takes time to get into or out of is entered and left by steps."""

    enter: Moment | None = Field(None, description="How long it takes to get into it.", examples=["3 min"])
    leave: Moment | None = Field(
        None, description="How long it takes to get out of it; it counts in the way home.", examples=["2 min"]
    )

    @property
    def takes_time(self) -> bool:
        """Whether a person is in it or not; what takes no time is a label."""
        return self.enter is not None or self.leave is not None


class Place(Record):
    """A worksite."""

    map: Annotated[tuple[Number, ...], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Where it lies on the map, in metres: to the right, and up.", examples=["[4.5, 2]"]
    )
    home: Flag = Field(False, description="Where a sortie starts and ends.", examples=["true"])
    anchor: Flag = Field(False, description="Whether a safety tether can be hung here.", examples=["true"])
    room: Whole | None = Field(None, description="How many people fit.", examples=["1"])
    restraint: Annotated[dict[Word, Grip], BeforeValidator(as_names)] = Field(
        default_factory=dict, description="What can hold a person here; with times, somebody gets into it by a step "
        "that `enters` it and out of it by one that `exits`.",
        examples=["[foot plate, hand rail]", "{foot plate: {enter: 3 min, leave: 2 min}, hand rail: {}}"],
    )  # fmt: skip
    hazards: HazardRefs = Field((), description="What can hurt at this place.", examples=["[sharp-edge]"])

    def grip(self, word: str | None) -> Grip | None:
        """What holds a person here by that name, where it takes time."""
        found = next((grip for name, grip in self.restraint.items() if name == word), None)
        return found if found and found.takes_time else None

    @model_validator(mode="after")
    def _some_room(self) -> Place:
        if self.room is not None and self.room < 1:
            raise wrong(f"room for {self.room} people is no room: write 1 or more")
        return self


class Route(Record):
    """A hand-over-hand path between two places."""

    between: Annotated[tuple[PlaceRef, ...], Field(min_length=2, max_length=2)] = Field(
        description="The two places.", examples=["[airlock, k1]"]
    )
    length: Length = Field(description="How long it is.", examples=["4.5 m"])
    time: Span | None = Field(
        None, description="How long it takes, where that is not length over pace.", examples=["2 min"]
    )
    hazards: HazardRefs = Field((), description="What can hurt on the way.", examples=["[hot-pipe]"])
    one_way: Flag = Field(False, description="Only from the first place to the second.", examples=["true"])

    @model_validator(mode="after")
    def _leads_somewhere(self) -> Route:
        if self.between[0] == self.between[1]:
            raise wrong(f"this route leads from “{self.between[0]}” to itself: write two places")
        if self.length <= 0:
            raise wrong("a route needs a length above zero")
        if self.time is not None and self.time.low <= 0:
            raise wrong("a route takes some time: write more than nothing, or leave “time” out")
        return self
