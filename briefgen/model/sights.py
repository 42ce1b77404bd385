"""Pictures with callouts, and what can hurt."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.choices import Signal
from briefgen.model.fields.quantities import Share
from briefgen.model.fields.values import EquipmentRef, Id, Word, Words


class Callout(Part):
    """A number on a picture."""

    at: Annotated[tuple[Share, ...], Field(min_length=2, max_length=2)] = Field(
        description="Its place on the picture, from the left and from the top.", examples=["[30 %, 55 %]"]
    )
    shows: Words = Field(
        description="What it points at: a reference (`kind:id`) or plain words.", examples=["equipment:connector-p14"]
    )


class Figure(Record):
    """A picture below the content folder."""

    file: Words = Field(description="The picture's path in the content folder.", examples=["figures/pump.svg"])
    alt: Words = Field(description="What it shows, for somebody who can't see it.", examples=["The pump unit."])
    caption: Words | None = Field(None, description="The line below it.", examples=["The pump unit's front"])
    credit: Words | None = Field(None, description="Who made it.", examples=["Drawn for this briefing"])
    callouts: dict[Id, Callout] = Field(
        default_factory=dict, description="Numbered points on it, by id.",
        examples=["{p14: {at: [30 %, 55 %], shows: equipment:connector-p14}}"],
    )  # fmt: skip


class Hazard(Record):
    """The statement that is printed before a step."""

    signal: Signal = Field(description="How bad it can get.", examples=["warning"])
    hazard: Words = Field(description="What can hurt.", examples=["The pipe is hot."])
    consequence: Words = Field(description="What it would do.", examples=["It can burn through a glove."])
    avoid: Words = Field(description="How to stay clear of it.", examples=["Keep to the upper rail."])
    controls: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="Equipment states that keep it controlled.",
        examples=["{feed-a: isolated}"],
    )  # fmt: skip
