"""Tasks as written, with what is said once for many steps, and as planned, with every step written out."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Annotated, Any, Final

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    PrivateAttr,
    Tag,
    WrapValidator,
    model_validator,
)

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.choices import Effort, Priority
from briefgen.model.fields.limits import STEPS
from briefgen.model.fields.parts import Each, Use, as_mapping, tool_with_setting
from briefgen.model.fields.quantities import Moment
from briefgen.model.fields.values import (
    EquipmentRef,
    HazardRefs,
    Id,
    Name,
    OutcomeRefs,
    PlaceRef,
    RawMap,
    SomePeople,
    StepId,
    StepName,
    TaskRef,
    TaskRefs,
    Word,
    WordList,
    Words,
    as_list,
    place_of,
)
from briefgen.model.steps import PlannedCase, Step, WayBack
from briefgen.source import Ref

STEP_TAG, BLOCK_TAG = "[step]", "[block]"
"""How the validation library tells the two kinds of entries in `steps` apart, in the paths of its errors."""


def _tag(value: Any) -> str:
    """What has steps of its own is a block."""
    return BLOCK_TAG if isinstance(value, Block) or (isinstance(value, dict) and "steps" in value) else STEP_TAG


Entry = Annotated[Annotated[Step, Tag(STEP_TAG)] | Annotated["Block", Tag(BLOCK_TAG)], Discriminator(_tag)]
"""What stands in `steps`: a step, or a block of steps."""


class Block(Part):
    """A block of steps for every item: done from its first step to its last for one item, then for the next."""

    id: StepId = Field(description="Its id: `after: [task/id]` waits for the whole block.", examples=["grease"])
    each: Annotated[Each, as_mapping("equipment")] = Field(
        description="The equipment with `parts` whose items it is done for, one after another.", examples=["latches"]
    )
    where: dict[Id, Annotated[WordList, Field(min_length=1)]] = Field(
        default_factory=dict, description="Only the items with these parts.", examples=["{row: [1, 2]}"]
    )
    title: Name | None = Field(None, description="A heading for it.", examples=["Grease the latches"])
    note: Words | None = Field(None, description="Anything else worth saying.", examples=["From the hinge on."])
    steps: Annotated[tuple[Entry, ...], Field(min_length=1, max_length=STEPS)] = Field(
        description="Its steps, in order. A step that names the equipment means this round's item; a step with an "
        "`each` of its own is done for the items that share their parts with it.",
        examples=["[{who: ev1, do: Grease it., takes: 2 min}]"],
    )

    @property
    def chosen(self) -> Mapping[Id, tuple[Word, ...]]:
        """The parts of its items."""
        return {**self.each.where, **self.where}


class Defaults(Part):
    """What holds for every step of a task that does not say otherwise.

    `hazards` and `requires` add up with a step's own. `at`, `restraint`, `effort`, `with` and `hazards` are for the
    steps of people outside.
    """

    who: SomePeople = Field((), description="Who does it.", examples=["ev1"])
    at: PlaceRef | None = Field(None, description="Where it is done.", examples=["k3-bay"])
    restraint: Word | None = Field(None, description="What holds the person.", examples=["foot plate"])
    effort: Effort | None = Field(None, description="How hard the work is.", examples=["moderate"])
    uses: Annotated[
        tuple[Annotated[Use, BeforeValidator(tool_with_setting), as_mapping("tool")], ...], BeforeValidator(as_list)
    ] = Field((), alias="with", description="Tools in use.", examples=["[socket]"])
    requires: dict[EquipmentRef, Word] = Field(
        default_factory=dict, description="States that must hold throughout, but for a step that brings them about.",
        examples=["{feed-a: isolated}"],
    )  # fmt: skip
    hazards: HazardRefs = Field((), description="Printed ahead of each step.", examples=["[hot-pipe]"])


class Undo(Part):
    """A way back: how what a step of the task changed is taken back before the task goes on."""

    of: StepName = Field(
        description="The step that is taken back; `block/step` for a step of a block.", examples=["demate-front"]
    )
    steps: Annotated[tuple[Entry, ...], Field(min_length=1, max_length=STEPS)] = Field(
        description="How, in order. The task's defaults hold here, too. A step that sets the equipment of its `each` "
        "and has none of its own is done for the same items.",
        examples=["[{who: ev2, do: Turn the collar right., takes: 2 min, sets: {plugs: mated}}]"],
    )


class Prerequisite(Part):
    """A task that must be done before; with `before`, before these steps of this task alone."""

    task: TaskRef = Field(description="The task.", examples=["isolate-feeds"])
    before: WordList = Field((), description="Steps of this task; else the last ones.", examples=["[pull-plug]"])


Prerequisites = Annotated[tuple[Annotated[Prerequisite, as_mapping("task")], ...], BeforeValidator(as_list)]


class _Taken:
    """Stands for what a task takes from the one that it is like."""


_TAKEN: Final = _Taken()
_OR_TAKEN = WrapValidator(lambda value, handler: None if value is _TAKEN else handler(value))
_NEEDED = ("title", "purpose", "steps")


def _needed_or_like(schema: dict[str, Any]) -> None:
    needed = schema.pop("required", [])
    schema["anyOf"] = [{"required": needed}, {"required": ["like"]}]


class WrittenTask(Record):
    """A task, and why it is done."""

    model_config = ConfigDict(json_schema_extra=_needed_or_like)

    title: Annotated[Name | None, _OR_TAKEN] = Field(description="Its heading.", examples=["Swap the coolant pump"])
    purpose: Annotated[Words | None, _OR_TAKEN] = Field(
        description="Why it is done.", examples=["The pump has lost half its flow."]
    )
    place: PlaceRef | None = Field(None, description="Where its steps are done.", examples=["k3-bay"])
    priority: Priority = Field("required", description="Whether it can be dropped.", examples=["time-permitting"])
    prerequisites: Prerequisites = Field(
        (), description="Tasks that must be done before, or before some steps of it.",
        examples=["[isolate-feeds]", "[{task: isolate-feeds, before: [pull-plug]}]"],
    )  # fmt: skip
    not_before: Moment | None = Field(
        None, description="The elapsed time before which nobody begins with it.", examples=["2 h"]
    )
    serves: TaskRefs = Field(
        (), description="The tasks for which alone it is done: it is left out when all of these are, and not before.",
        examples=["[survey-radiator, photograph-insulation]"],
    )  # fmt: skip
    outcomes: OutcomeRefs = Field((), description="What a learner can do afterwards.", examples=["[swap-a-pump]"])
    script: Words | None = Field(None, description="What the briefer says.", examples=["This is the heart of it."])
    like: TaskRef | None = Field(
        None, description="Another task that this one is the same as, but for its own keys and for `instead`. Then "
        "nothing else must be there.", examples=["open-cover"],
    )  # fmt: skip
    instead: dict[Id, Id] = Field(
        default_factory=dict, description="With `like`: ids of the other task, each with the id that stands here.",
        examples=["{latch-1: latch-2, k3-bay: k4-bay}"],
    )  # fmt: skip
    defaults: Defaults | None = Field(
        None, description="What holds for every step that does not say otherwise.",
        examples=["{who: ev1, restraint: foot plate}"],
    )  # fmt: skip
    steps: Annotated[tuple[Entry, ...] | None, Field(min_length=1, max_length=STEPS), _OR_TAKEN] = Field(
        description="Its steps, in order; among them blocks of steps for every item.",
        examples=["[{who: ev1, do: Look., takes: 2 min}]"],
    )
    undo: Annotated[tuple[Undo, ...], Field(max_length=STEPS)] = Field(
        (), description="Ways back: how what a step changed is taken back, should the sortie be stopped there.",
        examples=["[{of: open-lid, steps: [{who: ev1, do: Shut the lid., takes: 1 min, sets: {lid: shut}}]}]"],
    )  # fmt: skip

    _whoever: Mapping[str, str] = PrivateAttr(default_factory=dict)

    @model_validator(mode="before")
    @classmethod
    def _take_over(cls, data: Any) -> Any:
        if not isinstance(data, dict) or "like" not in data:
            return data
        taken = RawMap(data)
        taken.position = place_of(data)
        for key in _NEEDED:
            taken.setdefault(key, _TAKEN)
        return taken


class Task(Record):
    """A task as planned: every step says everything itself.

    `written` is the task as its author wrote it, or the other one of which it takes the steps.
    """

    title: Name
    purpose: Words
    place: PlaceRef | None = None
    priority: Priority = "required"
    prerequisites: tuple[Prerequisite, ...] = ()
    not_before: Moment | None = None
    serves: TaskRefs = ()
    outcomes: OutcomeRefs = ()
    script: Words | None = None
    steps: tuple[Step, ...]
    undo: tuple[WayBack, ...] = ()
    cases: tuple[PlannedCase, ...] = ()

    _written: WrittenTask | None = PrivateAttr(default=None)

    @property
    def optional(self) -> bool:
        """Whether it may be left out on its own account: what serves other tasks goes with these."""
        return self.priority != "required" and not self.serves

    @property
    def whoever(self) -> Mapping[str, str]:
        """Who stands in for `one` and `other`, where it does not matter who of the people outside does it."""
        return self._written._whoever if self._written else {}

    @property
    def needed(self) -> tuple[Ref, ...]:
        """The tasks that must be done before it, or before some of its steps."""
        return tuple(one.task for one in self.prerequisites)

    @property
    def entries(self) -> tuple[Step | Block, ...]:
        """Its steps and blocks as written, with ids exchanged where it is like another task."""
        return (self._written.steps or ()) if self._written else self.steps

    @property
    def every_step(self) -> tuple[Step, ...]:
        """Its steps, and after them those of its ways back and of its cases."""
        return (*self.steps, *(step for row in self._beside for step in row))

    @property
    def _beside(self) -> tuple[tuple[Step, ...], ...]:
        return (*(way.steps for way in self.undo), *(case.steps for case in self.cases))

    @property
    def written_undo(self) -> tuple[Undo, ...]:
        """Its ways back as written."""
        return self._written.undo if self._written else ()

    def with_steps(self, steps: tuple[Step, ...]) -> Task:
        """The same task with other steps."""
        new = self.model_copy(update={"steps": steps})
        for cached in ("_by_key", "_by_name", "_seats"):
            new.__dict__.pop(cached, None)
        return new.known_as(self.id)

    def step(self, key: str) -> Step | None:
        """The step of that id or number; in a block `block/item/id`."""
        return self._by_key.get(key)

    def seat(self, step: Step) -> int:
        """How many of its steps come before this one of them."""
        return self._seats[step.key]

    def named(self, name: str) -> tuple[Step, ...]:
        """The steps that a name means: one; for a block all; for `block/step` that step for every item."""
        return self._by_name.get(name, ())

    @cached_property
    def _by_key(self) -> dict[str, Step]:
        by_number = {str(step.number): step for step in self.steps if not step.origin.block}
        return by_number | {step.key: step for step in reversed(self.steps)}

    @cached_property
    def _seats(self) -> dict[str, int]:
        return {step.key: number for number, step in reversed(list(enumerate(self.steps)))}

    @cached_property
    def _by_name(self) -> dict[str, tuple[Step, ...]]:
        rows: dict[str, list[Step]] = {}
        for step in self.steps:
            origin = step.origin
            if origin.block:
                names = {origin.block, f"{origin.block}/{origin.local}", f"{origin.block}/{step.number}"}
                for name in names:
                    rows.setdefault(name, []).append(step)
        backs = {step.key: (step,) for row in self._beside for step in row}
        singles = {name: (step,) for name, step in self._by_key.items()}
        return backs | {name: tuple(row) for name, row in rows.items()} | singles


Block.model_rebuild()
Undo.model_rebuild()
WrittenTask.model_rebuild()
