"""What is done: programme, sorties, tasks and their steps."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, PrivateAttr, model_validator

from briefgen.model.base import Part, Record
from briefgen.model.limits import GET_AHEADS, STEPS
from briefgen.model.telling import MapDrawing, Phase, Scene
from briefgen.model.values import (
    AfterRefs,
    Angle,
    CarriedRef,
    Effort,
    EquipmentRef,
    FigureRefs,
    Flag,
    FlowRefs,
    HazardRefs,
    Id,
    Length,
    Moment,
    Name,
    OutcomeRefs,
    Pace,
    PersonRef,
    PlaceRef,
    Power,
    Priority,
    RawMap,
    Share,
    Sight,
    SomePeople,
    SortieRefs,
    Span,
    Speech,
    SpotRef,
    StepId,
    TaskRefs,
    ThingRef,
    ThingRefs,
    Whole,
    Word,
    WordList,
    Words,
    as_list,
    place_of,
    wrong,
)
from briefgen.source import Text
from briefgen.units import MINUTE

_SLOWEST, _FASTEST = 0.01 / MINUTE, 1000 / MINUTE


def _named(key: str) -> BeforeValidator:
    """A bare word stands for a mapping with that one key."""

    def widen(value: Any) -> Any:
        if not isinstance(value, str):
            return value
        wide = RawMap({Text(key, place_of(value)): value})
        wide.position = place_of(value)
        return wide

    return BeforeValidator(widen)


def _tool_with_setting(value: Any) -> Any:
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


class Step(Part):
    """One instruction, for one person or several together."""

    id: StepId | None = Field(None, description="Its id; else its number.", examples=["close-valves"])
    who: SomePeople = Field(description="Who does it; several begin together.", examples=["[ev1, ev2]"])
    do: Words = Field(description="One instruction in the imperative.", examples=["Close the four valves."])
    why: Words | None = Field(None, description="The reason, where it is not plain.", examples=["They may leak."])
    at: PlaceRef | None = Field(None, description="Where, if not at the task's place.", examples=["k3-bay"])
    to: PlaceRef | None = Field(
        None, description="Where the people outside find themselves after it.", examples=["mast-tip"]
    )
    takes: Span = Field(description="How long it takes, per item under `each`.", examples=["3/4/7 min"])
    each: Annotated[Each, _named("equipment")] | None = Field(
        None, description="Done once for every item of an equipment.",
        examples=["{equipment: sample-plates, where: {rack: [1, 2]}}"],
    )  # fmt: skip
    uses: Annotated[
        tuple[Annotated[Use, BeforeValidator(_tool_with_setting), _named("tool")], ...], BeforeValidator(as_list)
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
    after: AfterRefs = Field(
        (), description="Steps that must have ended before, as `task/step`.", examples=["[isolate-feeds/confirm]"]
    )
    hazards: HazardRefs = Field((), description="Printed ahead of the step.", examples=["[hot-pipe]"])
    effort: Effort = Field("light", description="How hard the work is.", examples=["moderate"])
    sight: Sight = Field("clear", description="How well the work is seen.", examples=["by feel"])
    needs_light: Flag = Field(False, description="Whether it is not done in the dark.", examples=["true"])
    restraint: Word | None = Field(None, description="What holds the person.", examples=["foot plate"])
    anchors: PlaceRef | None = Field(
        None, description="The safety tether is moved to this anchor.", examples=["k3-anchor"]
    )
    calls: Annotated[tuple[Call, ...], BeforeValidator(as_list)] = Field(
        (), description="What is said on the loop, and to whom.", examples=["[{to: ground, say: Valves shut.}]"]
    )
    figures: FigureRefs = Field((), description="Pictures or callouts that show it.", examples=["[pump-front#p14]"])
    note: Words | None = Field(None, description="Anything else worth saying.", examples=["Mind the strap."])

    _number: int = PrivateAttr(default=0)

    @property
    def number(self) -> int:
        """Its number in the task, counted from one."""
        return self._number

    @cached_property
    def key(self) -> str:
        """Its id, or else its number: what follows `task/`."""
        return str(self.id or self._number)


class Task(Record):
    """A task, and why it is done."""

    title: Name = Field(description="Its heading.", examples=["Swap the coolant pump"])
    purpose: Words = Field(description="Why it is done.", examples=["The pump has lost half its flow."])
    place: PlaceRef | None = Field(None, description="Where its steps are done.", examples=["k3-bay"])
    priority: Priority = Field("required", description="Whether it can be dropped.", examples=["time-permitting"])
    prerequisites: TaskRefs = Field((), description="Tasks that must be done before.", examples=["[isolate-feeds]"])
    outcomes: OutcomeRefs = Field((), description="What a learner can do afterwards.", examples=["[swap-a-pump]"])
    script: Words | None = Field(None, description="What the briefer says.", examples=["This is the heart of it."])
    steps: Annotated[tuple[Step, ...], Field(min_length=1, max_length=STEPS)] = Field(
        description="Its steps, in order."
    )

    @model_validator(mode="after")
    def _count_steps(self) -> Task:
        for number, step in enumerate(self.steps, start=1):
            step._number = number
        return self

    @property
    def optional(self) -> bool:
        return self.priority != "required"

    def step(self, key: str) -> Step | None:
        """The step of that id or number."""
        return self._by_key.get(key)

    @cached_property
    def _by_key(self) -> dict[str, Step]:
        by_number = {str(step.number): step for step in self.steps}
        return by_number | {step.key: step for step in reversed(self.steps)}


class Limits(Part):
    """What a sortie must stay within."""

    length: Moment = Field(description="How long it may last.", examples=["6 h 45 min"])
    reserve: Moment | None = Field(None, description="The part kept free at the end.", examples=["30 min"])
    return_within: Moment | None = Field(None, description="The longest way home.", examples=["30 min"])
    tether: Length | None = Field(None, description="How far the safety tether reaches.", examples=["26 m"])

    @property
    def usable(self) -> float:
        """Seconds that may be planned: the length less the reserve."""
        return self.length.likely - (self.reserve.likely if self.reserve else 0.0)


class Orbit(Part):
    """What day and night are computed from."""

    altitude: Length = Field(description="Height above the ground.", examples=["410 km"])
    beta: Angle = Field(description="The sun's angle to the orbit's plane.", examples=["28°"])
    first_sunset: Moment = Field(description="The first sunset, since the start.", examples=["22 min"])


class Sortie(Record):
    """One trip outside: each person's own order of tasks, and its limits."""

    title: Name = Field(description="Its heading.", examples=["Sortie 1: the pump"])
    purpose: Words | None = Field(None, description="Why it is flown.", examples=["The keel must be cool again."])
    revision: Word | None = Field(None, description="Which version of the plan this is.", examples=["C"])
    starts: Word | None = Field(None, description="When it starts, in UTC.", examples=["2031-05-12T08:30Z"])
    flow: dict[PersonRef, FlowRefs] = Field(
        description="Each person's tasks or single steps, in order.", examples=["{ev1: [egress, swap-pump]}"]
    )
    limits: Limits = Field(description="What it must stay within.", examples=["{length: 6 h 45 min}"])
    orbit: Orbit | None = Field(
        None, description="Day and night from the orbit.",
        examples=["{altitude: 410 km, beta: 28°, first_sunset: 22 min}"],
    )  # fmt: skip
    light: tuple[Annotated[tuple[Moment, ...], Field(min_length=2, max_length=2)], ...] = Field(
        (), description="Listed times of sunrise and sunset, since the start.", examples=["[[0 min, 55 min]]"]
    )
    get_aheads: Annotated[TaskRefs, Field(max_length=GET_AHEADS)] = Field(
        (), description="Tasks that are done if time is left.", examples=["[wipe-window]"]
    )
    carries_over: dict[CarriedRef, Word] = Field(
        default_factory=dict, description="What the next sortie takes over on purpose: place or state.",
        examples=["{launch-sleeve: fitted}"],
    )  # fmt: skip
    phases: tuple[Phase, ...] = Field(
        (), description="Stretches that people speak of by name, in order.",
        examples=["[{title: The pump, tasks: [open-cover, swap-pump]}]"],
    )  # fmt: skip
    scenes: tuple[Scene, ...] = Field(
        (), description="The briefing, picture by picture; without it the scenes follow from the plan.",
        examples=["[{title: The old pump, shows: {figure: pump-front}, says: It leaks.}]"],
    )  # fmt: skip


class Efforts(Part):
    """Metabolic rates."""

    rest: Power = Field(description="Waiting.", examples=["120 W"])
    light: Power = Field(description="Light work.", examples=["220 W"])
    moderate: Power = Field(description="Moving about, work with both arms.", examples=["320 W"])
    hard: Power = Field(description="Heavy work.", examples=["450 W"])


class Paces(Part):
    """How fast people move along routes."""

    outside: Pace = Field(description="With free hands.", examples=["9 m/min"])
    loaded: Pace = Field(description="While carrying a bag.", examples=["5 m/min"])

    @model_validator(mode="after")
    def _moving(self) -> Paces:
        for pace in (self.outside, self.loaded):
            if not _SLOWEST <= pace <= _FASTEST:
                raise wrong(f"a pace of {pace.written} is none: write one from 0.01 to 1000 m/min")
        return self


class Programme(Record):
    """The one record for the whole library."""

    title: Name = Field(description="Its heading.", examples=["Two sorties at the keel"])
    sorties: Annotated[SortieRefs, Field(min_length=1)] = Field(
        description="The sorties, in the order in which they are run.", examples=["[sortie-1, sortie-2]"]
    )
    paces: Paces = Field(description="How fast people move.", examples=["{outside: 9 m/min, loaded: 5 m/min}"])
    effort: Efforts | None = Field(
        None, description="Metabolic rates.",
        examples=["{rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}"],
    )  # fmt: skip
    map: tuple[MapDrawing, ...] = Field(
        (), description="Drawings on which people and ways are shown.", examples=["[{figure: station-map}]"]
    )
    pass_mark: Share | None = Field(None, description="The share of right answers asked for.", examples=["80 %"])
    speaking_rate: Speech | None = Field(None, description="How fast the briefer speaks.", examples=["130 words/min"])

    @model_validator(mode="after")
    def _can_be_said(self) -> Programme:
        if self.speaking_rate is not None and not 10 <= self.speaking_rate <= 1000:
            rate = self.speaking_rate.written
            raise wrong(f"nobody speaks at {rate}: write a rate from 10 to 1000 words/min")
        return self
