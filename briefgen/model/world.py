"""Where people work and how they get there."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from briefgen.model.base import Record
from briefgen.model.values import Flag, HazardRefs, Length, Number, PlaceRef, Span, Whole, WordList, wrong


class Place(Record):
    """A worksite."""

    map: Annotated[tuple[Number, ...], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Where it lies on the map, in metres: to the right, and up.", examples=["[4.5, 2]"]
    )
    home: Flag = Field(False, description="Where a sortie starts and ends.", examples=["true"])
    anchor: Flag = Field(False, description="Whether a safety tether can be hung here.", examples=["true"])
    room: Whole | None = Field(None, description="How many people fit.", examples=["1"])
    restraint: WordList = Field((), description="What can hold a person here.", examples=["[foot plate]"])
    hazards: HazardRefs = Field((), description="What can hurt at this place.", examples=["[sharp-edge]"])

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
