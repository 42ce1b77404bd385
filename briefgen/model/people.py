"""Who acts, and what keeps those outside alive."""

from __future__ import annotations

from pydantic import Field, model_validator

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.choices import Colour, Pattern, Post
from briefgen.model.fields.quantities import Amount, Mass
from briefgen.model.fields.values import Id, Name, SuitRef, Whole, wrong
from briefgen.units import SUPPLY_KINDS


class Mark(Part):
    """How a person is told apart at a glance: a pattern, the word that people say, and perhaps a colour."""

    pattern: Pattern = Field(description="The pattern on the suit.", examples=["rings"])
    word: Name = Field(description="What people call the pattern.", examples=["Rings"])
    colour: Colour | None = Field(
        None, description="The colour of the pattern; it is always shown with the pattern and the word.",
        examples=["red"],
    )  # fmt: skip

    @property
    def said(self) -> str:
        """The word with the colour, where that is not said already: `red rings`, in small letters."""
        word = str(self.word).lower()
        return word if self.colour is None or self.colour in word.split() else f"{self.colour} {word}"


class Carries(Part):
    """How much somebody can carry at once: in their hands, and on what is hooked to them."""

    items: Whole | None = Field(
        None, description="How many tools and bags; a bag with all that is in it is one.", examples=["4"]
    )
    mass: Mass | None = Field(None, description="Their mass, with all that is in the bags.", examples=["60 kg"])

    @model_validator(mode="after")
    def _some(self) -> Carries:
        if self.items is not None and self.items < 1:
            raise wrong(f"{self.items} items are none: write how many somebody can carry, or leave it out")
        if self.mass is not None and self.mass <= 0:
            raise wrong("a mass above zero is asked for here: write how much somebody can carry, or leave it out")
        return self


class Person(Record):
    """Somebody who acts. Only people outside have a place, hands, a tether and a suit."""

    label: Name = Field(description="The short label on charts and cards.", examples=["EV1"])
    callsign: Name | None = Field(None, description="What is said on the loop.", examples=["Heron"])
    post: Post = Field(description="Where the person works.", examples=["outside"])
    suit: SuitRef | None = Field(None, description="The suit of a person outside.", examples=["suit-one"])
    carries: Carries | None = Field(
        None, description="How much a person outside can carry at once.", examples=["{items: 4, mass: 60 kg}"]
    )
    mark: Mark | None = Field(
        None, description="Pattern, word and colour that tell the person apart.",
        examples=["{pattern: rings, word: Rings, colour: red}"],
    )  # fmt: skip

    @property
    def outside(self) -> bool:
        """Whether this person works outside."""
        return self.post == "outside"

    @property
    def label_text(self) -> str:
        """The short name on charts, as plain text."""
        return str(self.label)


class Supply(Part):
    """One thing that a suit uses up."""

    holds: Amount = Field(description="How much there is at the start.", examples=["0.60 kg"])
    keeps: Amount = Field(description="The reserve that may not be planned into.", examples=["0.08 kg"])
    per_hour: Amount | None = Field(None, description="What an hour uses.", examples=["3.8 Ah"])
    per_megajoule: Amount | None = Field(
        None, description="What a megajoule of metabolic work uses.", examples=["0.0706 kg"]
    )

    @model_validator(mode="after")
    def _rates(self) -> Supply:
        rates = [rate for rate in (self.per_hour, self.per_megajoule) if rate is not None]
        if not rates:
            raise wrong("a supply needs “per_hour” or “per_megajoule”")
        kinds = {SUPPLY_KINDS[amount.unit] for amount in (self.holds, self.keeps, *rates)}
        if len(kinds) > 1:
            raise wrong("the amounts of one supply must be of one kind: all masses, volumes, energies or charges")
        if self.keeps > self.holds:
            raise wrong(
                f"the reserve of {self.keeps.written} is more than the suit holds ({self.holds.written}): "
                "keep less, or hold more"
            )
        return self


class Suit(Record):
    """A suit and its supplies."""

    supplies: dict[Id, Supply] = Field(
        default_factory=dict, description="What it carries, by id.",
        examples=["{oxygen: {holds: 0.60 kg, keeps: 0.08 kg, per_megajoule: 0.0706 kg}}"],
    )  # fmt: skip
