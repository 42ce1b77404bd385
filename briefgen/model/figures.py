"""Pictures with callouts, and what can hurt."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath
from typing import Annotated

from pydantic import Field, model_validator

from briefgen.model.fields.base import Part, Record
from briefgen.model.fields.choices import Signal
from briefgen.model.fields.limits import CALLOUTS
from briefgen.model.fields.quantities import Moment, Share
from briefgen.model.fields.values import EquipmentRef, Id, Word, Words, wrong

CLIPS = (".mp4", ".webm")
"""What the names of clips end with."""


class Callout(Part):
    """A number on a picture."""

    at: Annotated[tuple[Share, ...], Field(min_length=2, max_length=2)] = Field(
        description="Its place on the picture, from the left and from the top.", examples=["[30 %, 55 %]"]
    )
    shows: Words = Field(
        description="What it points at: a reference (`kind:id`) or plain words.", examples=["equipment:connector-p14"]
    )
    since: Moment | None = Field(
        None, alias="from", description="On a clip: when it lights up, from the clip's beginning; else at once.",
        examples=["3 s"],
    )  # fmt: skip
    until: Moment | None = Field(
        None, description="On a clip: until when it is lit, from the clip's beginning; else until the end.",
        examples=["7.5 s"],
    )  # fmt: skip

    @property
    def begins(self) -> float:
        """When it lights up on a clip, in seconds."""
        return self.since.likely if self.since else 0.0


class Figure(Record):
    """A picture or a clip below the content folder."""

    file: Words = Field(
        description="The picture's path in the content folder, or that of a clip (`.mp4`, `.webm`).",
        examples=["figures/pump.svg"],
    )  # fmt: skip
    alt: Words = Field(description="What it shows, for somebody who can't see it.", examples=["The pump unit."])
    caption: Words | None = Field(None, description="The line below it.", examples=["The pump unit's front"])
    credit: Words | None = Field(None, description="Who made it.", examples=["Drawn for this briefing"])
    poster: Words | None = Field(
        None, description="Of a clip: the picture that stands for it on paper and until it plays.",
        examples=["figures/collar-poster.svg"],
    )  # fmt: skip
    captions: Words | None = Field(
        None, description="Of a clip: the file of its captions (WebVTT).", examples=["figures/collar.vtt"]
    )
    says: Words | None = Field(
        None, description="Of a clip: its transcript, all that is said and what can be seen.",
        examples=["The lever turns across the pipe; then the collar slides back."],
    )  # fmt: skip
    callouts: Annotated[dict[Id, Callout], Field(max_length=CALLOUTS)] = Field(
        default_factory=dict, description="Numbered points on it, by id.",
        examples=["{p14: {at: [30 %, 55 %], shows: equipment:connector-p14}}"],
    )  # fmt: skip

    @property
    def is_clip(self) -> bool:
        """Whether it moves."""
        return PurePosixPath(self.file).suffix.lower() in CLIPS

    @property
    def still(self) -> str:
        """The file of the picture that shows it wherever nothing can move."""
        return str(self.poster or self.file)

    @property
    def files(self) -> tuple[str, ...]:
        """All its files below the content folder."""
        return tuple(str(one) for one in (self.file, self.poster, self.captions) if one is not None)

    @model_validator(mode="after")
    def _clip_or_picture(self) -> Figure:
        written = {key: getattr(self, key) for key in ("poster", "captions", "says")}
        if self.is_clip:
            missing = [f"`{key}`" for key, value in written.items() if value is None]
            if missing:
                raise wrong(f"a clip needs {_listed(missing)}, too", rule="clip-incomplete")
            return self
        misplaced = [f"`{key}`" for key, value in written.items() if value is not None]
        misplaced += [f"`{key}` of callout “{name}”" for name, one in self.callouts.items() for key in _times(one)]
        if misplaced:
            raise wrong(f"{_listed(misplaced)} stand only at a clip, whose `file` ends in {' or '.join(CLIPS)}")
        return self


def _times(callout: Callout) -> Iterator[str]:
    yield from ("from",) if callout.since else ()
    yield from ("until",) if callout.until else ()


def _listed(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)


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
