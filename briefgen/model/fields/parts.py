"""What a step is made of: tools in use, items, calls, and how what it sets is confirmed."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from briefgen.model.fields.base import Part
from briefgen.model.fields.choices import Effort, Sight
from briefgen.model.fields.quantities import Span
from briefgen.model.fields.values import (
    EquipmentRef,
    FigureRefs,
    Id,
    PlaceRef,
    RawMap,
    SomePeople,
    StepId,
    StepNames,
    ThingRef,
    Word,
    WordList,
    Words,
    as_list,
    place_of,
)
from briefgen.source import Text


def as_mapping(key: str) -> BeforeValidator:
    """A bare word stands for a mapping with that one key."""

    def widen(value: Any) -> Any:
        if not isinstance(value, str):
            return value
        wide = RawMap({Text(key, place_of(value)): value})
        wide.position = place_of(value)
        return wide

    return BeforeValidator(widen)


def tool_with_setting(value: Any) -> Any:
    """`driver` or `driver: loosen` becomes `{tool: driver, setting: loosen}`."""
    if isinstance(value, dict) and len(value) == 1 and not {"tool", "setting"} & set(value):
        ((tool, setting),) = value.items()
        wide = RawMap({Text("tool", place_of(tool)): tool, Text("setting", place_of(setting)): setting})
        wide.position = place_of(value)
        return wide
    return value


class Use(Part):
    """A tool in use, and how it is set."""

    tool: ThingRef = Field(description="The tool.", examples=["torque-driver"])
    setting: Word | None = Field(None, description="One of the tool's settings.", examples=["loosen"])


class Each(Part):
    """The items for which a step is done once each."""

    equipment: EquipmentRef = Field(description="An equipment with `parts`.", examples=["sample-plates"])
    where: dict[Id, Annotated[WordList, Field(min_length=1)]] = Field(
        default_factory=dict, description="Only the items with these parts.", examples=["{rack: [1, 2]}"]
    )


class Call(Part):
    """What is said on the loop."""

    to: SomePeople = Field(description="To whom.", examples=["ground"])
    say: Words = Field(description="The words.", examples=["Feed A is open."])


class Confirmation(Part):
    """How what a step sets is confirmed by another person: a step of its own, right after it."""

    id: StepId | None = Field(None, description="Its id; else that of the step, with `-confirmed`.",
                              examples=["confirm-a"])  # fmt: skip
    who: SomePeople = Field(description="Who looks.", examples=["ground"])
    do: Words = Field(description="One instruction in the imperative.", examples=["Read zero amperes."])
    why: Words | None = Field(None, description="The reason, where it is not plain.", examples=["A switch may stick."])
    takes: Span = Field(description="How long it takes, per item under `each`.", examples=["2 min"])
    at: PlaceRef | None = Field(
        None, description="Where somebody outside looks from, if not where the step is done.", examples=["k3-bay"]
    )
    after: StepNames = Field((), description="Further steps that must have ended before.", examples=["[pin-a]"])
    effort: Effort = Field("light", description="How hard the work is.", examples=["rest"])
    sight: Sight = Field("clear", description="How well it is seen.", examples=["mirror"])
    restraint: Word | None = Field(None, description="What holds the person.", examples=["hand rail"])
    calls: Annotated[tuple[Call, ...], BeforeValidator(as_list)] = Field(
        (), description="What is said on the loop, and to whom.", examples=["[{to: ev2, say: Zero amperes.}]"]
    )
    figures: FigureRefs = Field((), description="Pictures or callouts that show it.", examples=["[pump-front#p14]"])
    note: Words | None = Field(None, description="Anything else worth saying.", examples=["Mind the strap."])
