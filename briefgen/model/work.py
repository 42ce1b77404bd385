"""What is done when: the programme and its sorties. Tasks and their steps stand beside."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.limits import GET_AHEADS
from briefgen.model.fields.quantities import Angle, Length, Moment, Pace, Power, Share, Speech
from briefgen.model.fields.values import (
    CarriedRef,
    EquipmentRef,
    FlowRefs,
    Name,
    PersonRef,
    SortieRefs,
    TaskRefs,
    Word,
    WordList,
    Words,
    wrong,
)
from briefgen.model.steps import Step as Step
from briefgen.model.tasks import Task as Task
from briefgen.model.telling import MapDrawing, Phase, Scene
from briefgen.units import MINUTE

_SLOWEST, _FASTEST = 0.01 / MINUTE, 1000 / MINUTE


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
        description="Each person's tasks or single steps, in order. Of people inside and on the ground it may be left "
        "out: then they do the steps that name them, as soon as these can begin.",
        examples=["{ev1: [egress, swap-pump]}"],
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
    ends: dict[EquipmentRef, Annotated[WordList, Field(min_length=1)]] = Field(
        default_factory=dict, description="What this sortie in particular must leave behind: states of equipment.",
        examples=["{bay-cover: shut}"],
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
