"""How a sortie is told to the crew: its phases, the scenes of the briefing, and the drawings behind the map."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, model_validator

from briefgen.model.fields.base import Part
from briefgen.model.fields.quantities import Moment
from briefgen.model.fields.values import AfterRef, FigureRef, Id, Name, Number, TaskRef, TaskRefs, Words, as_list, wrong


class Phase(Part):
    """A stretch of a sortie that people speak of by one name."""

    title: Name = Field(description="What it is called.", examples=["Swap the pump"])
    tasks: Annotated[TaskRefs, Field(min_length=1)] = Field(
        description="Its tasks.", examples=["[open-cover, swap-pump, close-cover]"]
    )


class Shows(Part):
    """What fills the screen in a scene: a figure, the map, a step or a task."""

    figure: FigureRef | None = Field(None, description="A picture.", examples=["pump-front"])
    look: Annotated[tuple[Id, ...], BeforeValidator(as_list)] = Field(
        (), description="Callouts of the figure, in the order in which they are spoken of.", examples=["[p14, p15]"]
    )
    map: Annotated[tuple[Moment, ...], BeforeValidator(as_list), Field(max_length=2)] = Field(
        (), description="The map at a moment since the start, or from one moment to another.",
        examples=["[1 h 20 min, 1 h 35 min]"],
    )  # fmt: skip
    step: AfterRef | None = Field(
        None, description="A step: its figure, or else its place on the map.", examples=["swap-pump/close-valves"]
    )
    task: TaskRef | None = Field(
        None, description="A task: its figure, or else the ways to it on the map.", examples=["swap-pump"]
    )

    @model_validator(mode="after")
    def _one_thing(self) -> Shows:
        named = [one for one in (self.figure, self.map or None, self.step, self.task) if one is not None]
        if len(named) != 1:
            raise wrong("a scene shows one thing: write one of `figure`, `map`, `step` and `task`")
        if self.look and self.figure is None:
            raise wrong("`look` lists callouts of a figure: write `figure` beside it")
        if len(self.map) == 2 and self.map[1].likely <= self.map[0].likely:
            raise wrong("the second moment of `map` must be later than the first")
        return self


class Scene(Part):
    """One picture of the told sortie, and what is said over it."""

    title: Name = Field(description="Its heading.", examples=["Close the four valves"])
    shows: Shows = Field(description="What fills the screen.", examples=["{figure: pump-front, look: [qd1, qd2]}"])
    says: Words = Field(description="What the briefer says.", examples=["Heron closes them from the bottom up."])
    minutes: Number | None = Field(None, description="How long it may take, in minutes.", examples=["1.5"])
    tasks: TaskRefs = Field((), description="The tasks that it tells of.", examples=["[swap-pump]"])

    @model_validator(mode="after")
    def _some_time(self) -> Scene:
        if self.minutes is not None and self.minutes <= 0:
            raise wrong("a scene takes some time: write more than 0 minutes")
        return self


class MapDrawing(Part):
    """A drawing of the site: its callouts that show places say where these are on it."""

    figure: FigureRef = Field(description="The figure.", examples=["station-map"])
    title: Name | None = Field(None, description="What this side of the site is called.", examples=["From the side"])
