"""What a browser exports of a rehearsal: what was done and injected when, and what the page answered each time."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, StrictInt, StringConstraints

MOST_EVENTS = 1000
"""So many events a run keeps, the last ones."""

Name = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Words = Annotated[str, StringConstraints(max_length=10_000)]
Moment = Annotated[float, Field(ge=0, strict=False)]
Steps = Annotated[StrictInt, Field(ge=0, le=1_000_000)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class RehearsalEvent(_Part):
    """Something that was done, said or injected."""

    at_s: Moment = Field(description="Elapsed time, in seconds.")
    event: Literal["set", "done", "delay", "failed step", "case", "case over", "stop", "go on"] = Field(
        description="What it was: a field was set, a step was done, time was lost, a case came or was over, a stop."
    )
    words: Words = Field(description="The step, the minutes, or what was seen.")
    done: tuple[Steps, ...] = Field(description="How many of their steps each person had finished then.")
    late_s: Annotated[float, Field(strict=False)] | None = Field(
        description="How much later than planned the sortie would end, in seconds; null where that can't be said."
    )
    finish_s: Moment | None = Field(description="When it would end, in seconds; null where that can't be said.")


class Rehearsal(_Part):
    """A run of one sortie in one browser. For training: it follows no crew."""

    format: Literal["briefgen rehearsal"]
    version: Literal[1]
    programme: Annotated[str, StringConstraints(max_length=2000)] = Field(description="The programme's id, or nothing.")
    sortie: Name = Field(description="The id of the sortie.")
    exported: AwareDatetime = Field(strict=False, description="When it was exported, in UTC.")
    length_s: Moment = Field(description="How long the sortie may last, in seconds.")
    people: tuple[Name, ...] = Field(min_length=1, description="The ids of the people, in the order of `done`.")
    events: tuple[RehearsalEvent, ...] = Field(max_length=MOST_EVENTS, description="What happened, in its order.")
