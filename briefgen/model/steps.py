"""A step and what it is made of, as written and as planned.

As written, a step may leave out what its task says for all, name steps of its own task by their short names, and have
what it sets confirmed. As planned it says everything itself, and `origin` tells what it was made from.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, PrivateAttr, model_validator

from briefgen.model.fields.base import Part
from briefgen.model.fields.choices import Effort, Rushed, Sight
from briefgen.model.fields.limits import STEPS
from briefgen.model.fields.parts import Call as Call
from briefgen.model.fields.parts import Confirmation as Confirmation
from briefgen.model.fields.parts import Each as Each
from briefgen.model.fields.parts import Use as Use
from briefgen.model.fields.parts import as_mapping, tool_with_setting
from briefgen.model.fields.quantities import Clock, Span
from briefgen.model.fields.values import (
    EquipmentRef,
    FigureRefs,
    Flag,
    HazardRefs,
    PathRefs,
    PersonRef,
    PlaceRef,
    SomePeople,
    SpotRef,
    StepId,
    StepNames,
    Then,
    ThingRef,
    ThingRefs,
    Whole,
    Word,
    Words,
    as_list,
    wrong,
)
from briefgen.source import StepRef, Text


@dataclass(frozen=True)
class Origin:
    """What a planned step was made from; empty for one that is planned as it was written.

    In a block: the block's id, its equipment and this round's item, in words, too (`rack 2`), the number of the round
    (from 1) of how many, the step's id or number within the block, and whether it was done in a round before: then its
    pages tell it there, once for all rounds. `confirms` is the key of the step of the same
    task whose states it confirms. `after` is what the author wrote there. `undoes` is the key of the step of the same
    task that it helps to take back, `case` that of the step that did not go as planned.
    """

    block: str = ""
    equipment: str = ""
    item: tuple[str, ...] = ()
    words: str = ""
    round: int = 0
    rounds: int = 0
    local: str = ""
    again: bool = False
    confirms: str = ""
    after: tuple[StepRef, ...] | None = None
    undoes: str = ""
    case: str = ""


AS_WRITTEN = Origin()


class Case(Part):
    """What is done when a step does not go as planned. What the step sets is then not known until a step here sets it
    or looks, and what it takes, leaves, hands over or moves is where it was.
    """

    when: Words = Field(description="What is seen or felt, in a sentence.", examples=["The bolt does not turn."])
    steps: Annotated[tuple[Step, ...], Field(min_length=1, max_length=STEPS)] = Field(
        description="What is done then, in order. The task's defaults hold here, too; `after` names steps above it "
        "here. What sets the equipment of the step's `each` is done for the same items.",
        examples=["[{who: ev2, do: Turn it with the long bar., takes: 4 min, sets: {bolt: loose}}]"],
    )
    then: Then = Field(
        description="How the plan goes on: `go on` with what follows the step, `leave the task` (its steps that would "
        "follow, and the tasks that need it), or a later `task/step`.", examples=["go on"],
    )  # fmt: skip


class Step(Part):
    """One instruction, for one person or several together."""

    id: StepId | None = Field(None, description="Its id; else its number.", examples=["close-valves"])
    who: SomePeople = Field(
        (), description="Who does it; several begin together. Must be there, unless the task's `defaults` say who. "
        "In a get-ahead, `one` and `other` are two of those outside, whoever is free.",
        examples=["[ev1, ev2]"],
    )  # fmt: skip
    do: Words = Field(description="One instruction in the imperative.", examples=["Close the four valves."])
    why: Words | None = Field(None, description="The reason, where it is not plain.", examples=["They may leak."])
    at: PlaceRef | None = Field(None, description="Where, if not at the task's place.", examples=["k3-bay"])
    to: PlaceRef | None = Field(
        None, description="Where the people outside find themselves after it.", examples=["mast-tip"]
    )
    takes: Span = Field(description="How long it takes, per item under `each`.", examples=["3/4/7 min"])
    each: Annotated[Each, as_mapping("equipment")] | None = Field(
        None, description="Done once for every item of an equipment.",
        examples=["{equipment: sample-plates, where: {rack: [1, 2]}}"],
    )  # fmt: skip
    rushed: Rushed | None = Field(
        None, description="With `each`: what makes one item slow makes all slow; else each has its own luck.",
        examples=["together"],
    )  # fmt: skip
    uses: Annotated[
        tuple[Annotated[Use, BeforeValidator(tool_with_setting), as_mapping("tool")], ...], BeforeValidator(as_list)
    ] = Field((), alias="with", description="Tools in use, each with a setting if need be.",
              examples=["[socket, {torque-driver: loosen}]"])  # fmt: skip
    picks: ThingRefs = Field((), description="Tools and bags taken.", examples=["[filter-bag]"])
    leaves: dict[ThingRef, SpotRef] = Field(
        default_factory=dict, description="Tools and bags left, each in a place or a bag.",
        examples=["{filter-bag: airlock}"],
    )  # fmt: skip
    hands: dict[ThingRef, PersonRef] = Field(
        default_factory=dict, description="Tools and bags handed to another person of this step.",
        examples=["{unit-bag: ev2}"],
    )  # fmt: skip
    spends: dict[ThingRef, Whole] = Field(
        default_factory=dict, description="How many of a consumable, per item under `each`.",
        examples=["{line-clips: 1}"],
    )  # fmt: skip
    requires: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="States that must hold throughout.", examples=["{feed-a: isolated}"]
    )
    sets: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="States that it brings about.", examples=["{valve-1: closed}"]
    )
    verifies: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="States that it confirms by looking.", examples=["{feed-a: isolated}"]
    )
    confirmed_by: Confirmation | None = Field(
        None, description="Who confirms what it sets, in a step of its own; whatever relies on it next waits for that.",
        examples=["{who: ground, do: Read zero amperes., takes: 2 min}"],
    )  # fmt: skip
    in_case: Annotated[tuple[Case, ...], BeforeValidator(as_list)] = Field(
        (), description="What is done if it does not go as planned: each case is proved as a plan of its own.",
        examples=["[{when: The bolt does not turn., steps: [{who: ev2, do: Use the long bar., takes: 4 min}], "
                  "then: go on}]"],
    )  # fmt: skip
    after: StepNames = Field(
        (), description="Steps that must have ended before: `step` of this task, `previous` for the one above, "
        "`task/step`, or `task/block`.", examples=["[previous, isolate-feeds/confirm]"],
    )  # fmt: skip
    not_before: Clock | None = Field(
        None, description="When it may begin at the earliest: an elapsed time, or the next `sunrise` or `sunset` after "
        "whatever else it waits for. No order of steps follows from it.", examples=["2 h", "sunrise"],
    )  # fmt: skip
    hazards: HazardRefs = Field((), description="Printed ahead of the step.", examples=["[hot-pipe]"])
    keeps_out: PathRefs = Field(
        (), description="Places and routes where nobody else outside may be, pass or wait while it may run.",
        examples=["[mast-root, mast-rail]"],
    )  # fmt: skip
    effort: Effort = Field("light", description="How hard the work is.", examples=["moderate"])
    sight: Sight = Field("clear", description="How well the work is seen.", examples=["by feel"])
    needs_light: Flag = Field(False, description="Whether it is not done in the dark.", examples=["true"])
    restraint: Word | None = Field(
        None, description="What holds the person; `none` takes the task's default away.", examples=["foot plate"]
    )
    enters: Word | None = Field(
        None, description="What holds the person from then on: a restraint that takes time to get into.",
        examples=["foot plate"],
    )  # fmt: skip
    exits: Word | None = Field(
        None, description="What no longer holds the person when it is over.", examples=["foot plate"]
    )
    anchors: PlaceRef | None = Field(
        None, description="The safety tether is moved to this anchor.", examples=["k3-anchor"]
    )
    calls: Annotated[tuple[Call, ...], BeforeValidator(as_list)] = Field(
        (), description="What is said on the loop, and to whom.", examples=["[{to: ground, say: Valves shut.}]"]
    )
    figures: FigureRefs = Field((), description="Pictures or callouts that show it.", examples=["[pump-front#p14]"])
    note: Words | None = Field(None, description="Anything else worth saying.", examples=["Mind the strap."])

    _number: int = PrivateAttr(default=0)
    _key: str = PrivateAttr(default="")
    _origin: Origin = PrivateAttr(default_factory=lambda: AS_WRITTEN)

    @model_validator(mode="after")
    def _in_or_out(self) -> Step:
        if self.enters is not None and self.exits is not None:
            raise wrong("a step either enters or exits a restraint: write two steps", rule="wrong-value")
        return self

    @property
    def number(self) -> int:
        """Its number in the task, counted from one as the task is told: a block's steps count once."""
        return self._number

    @cached_property
    def key(self) -> str:
        """What follows `task/`: its id, or else its number; in a block `block/item/id`."""
        return self._key or str(self.id or self._number)

    @property
    def told(self) -> str:
        """What is done; of a block's step with the item of its round, so that no two steps read the same."""
        do = str(self.do)
        if not self._origin.words:
            return do
        said = do.rstrip(".!")
        return f"{said} ({self._origin.words}){do[len(said) :]}"

    @property
    def named(self) -> bool:
        """Whether it is called by an id, not by a number."""
        return self.id is not None or bool(self._origin.confirms and not self._key.isdigit())

    @property
    def origin(self) -> Origin:
        """What it was made from."""
        return self._origin

    @property
    def written_after(self) -> tuple[StepRef, ...]:
        """What the author wrote in `after`."""
        return self.after if self._origin.after is None else self._origin.after

    def made(self, origin: Origin, number: int, key: str = "", **changes: Any) -> Step:
        """The same step with other values, planned as `key`."""
        new = self.model_copy(update=changes)
        new.__dict__.pop("key", None)
        new._origin, new._number, new._key = origin, number, key
        return new


class WayBack(Part):
    """A way back as planned: the step that it takes back, and its own steps in order."""

    of: StepRef
    steps: tuple[Step, ...]


class PlannedCase(Part):
    """A case as planned: the step that did not go as planned, what is seen, its own steps, and what follows."""

    of: StepRef
    number: int
    when: Text
    steps: tuple[Step, ...]
    then: Text


Case.model_rebuild()
Step.model_rebuild()
