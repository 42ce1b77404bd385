"""What every record has: frozen fields, the place where it was written, and the keys allowed everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any, Self

from pydantic import BaseModel, ConfigDict, Field, ModelWrapValidatorHandler, PrivateAttr, model_validator

from briefgen.model.fields.values import FigureRefs, Name, Rule, Words
from briefgen.source import NOWHERE, Position, Text


class Part(BaseModel):
    """A mapping in a content file that remembers where it and its keys stand."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    # Factories, because the validation library copies plain defaults deeply, once a record.
    _position: Position = PrivateAttr(default_factory=lambda: NOWHERE)
    _keys: dict[str, Position] = PrivateAttr(default_factory=dict)

    @model_validator(mode="wrap")
    @classmethod
    def _remember_places(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        part = handler(data)
        if isinstance(data, dict):
            part._position = getattr(data, "position", NOWHERE)
            part._keys = {str(key): key.position for key in data if isinstance(key, Text)}
        return part

    @property
    def position(self) -> Position:
        """Where the mapping begins."""
        return self._position

    @property
    def key_positions(self) -> tuple[Position, ...]:
        """Where its keys stand."""
        return tuple(self._keys.values())

    def spot(self, key: str) -> Position:
        """Where `key` (as the author writes it) stands, or else the mapping itself."""
        return self._keys.get(key, self._position)


class Acceptance(Part):
    """A finding that the author accepts on this record, and why."""

    finding: Rule = Field(description="The name of the rule.", examples=["needless-wait"])
    because: Words = Field(description="Why it is all right here.", examples=["EV2 photographs meanwhile."])


class Record(Part):
    """One entry of a kind: what stands behind an id."""

    name: Name | None = Field(None, description="What people call it.", examples=["Torque driver"])
    title: Name | None = Field(None, description="A heading for it.", examples=["Swap the coolant pump"])
    note: Words | None = Field(None, description="Anything else worth saying.", examples=["Cold to the touch."])
    figures: FigureRefs = Field(
        (), description="Pictures that show it, or one callout of a picture.", examples=["[pump-front#p14]"]
    )
    accepts: tuple[Acceptance, ...] = Field(
        (), description="Findings accepted on this record, each with the reason.",
        examples=["[{finding: needless-wait, because: EV2 rests here.}]"],
    )  # fmt: skip

    @cached_property
    def id(self) -> Text:
        """The id, with its place."""
        return Text()

    @cached_property
    def values(self) -> tuple[Any, ...]:
        """Every single value in it, in the order of the fields; a mapping's keys are values, too."""
        return tuple(_leaves(self))

    @property
    def label_text(self) -> str:
        """The title or name, or the id in plain words."""
        return str(self.title or self.name or self.id.replace("-", " "))

    def known_as(self, identifier: Text) -> Self:
        """The same record under its id. Called once, by the reader."""
        self.__dict__.pop("values", None)
        self.__dict__["id"] = identifier
        return self


def _leaves(value: Any) -> Iterator[Any]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _leaves(getattr(value, name))
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _leaves(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _leaves(inner)
    elif value is not None:
        yield value
