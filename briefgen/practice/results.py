"""What a learner's browser exports: which questions were asked, how they went, and when they are due again."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, StrictInt, StringConstraints, model_validator

from briefgen.practice.boxes import DAYS

MOST_ROWS = 20_000

# A question's id may hold the ids of two steps of blocks in it, each of 100 letters for task, block, item and step.
Name = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Words = Annotated[str, StringConstraints(max_length=5000)]
Count = Annotated[StrictInt, Field(ge=0, le=1_000_000)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class OutcomeAsked(_Part):
    """An outcome that questions of the page check."""

    id: Name = Field(description="The outcome's id in the content.")
    does: Words = Field(description="What the learner does.")
    questions: Count = Field(description="How many questions of the page check it.")


class Answered(_Part):
    """A question that was asked at least once."""

    question: Name = Field(description="The question's id.")
    kind: Name = Field(description="The kind of question.")
    outcomes: tuple[Name, ...] = Field(max_length=100, description="The outcomes that it checks.")
    box: Annotated[StrictInt, Field(ge=1, le=len(DAYS))] = Field(description="The box in which it stands.")
    due: date = Field(description="The day on which it is due again.")
    asked: Annotated[StrictInt, Field(ge=1, le=1_000_000)] = Field(description="How often it was asked.")
    right: Count = Field(description="How often the answer was right.")
    last: Literal["right", "wrong"] = Field(description="How the last answer was.")

    @model_validator(mode="after")
    def _adds_up(self) -> Answered:
        if self.right > self.asked:
            raise ValueError("it was right more often than it was asked")
        return self


class Results(_Part):
    """One person's results for one sortie."""

    format: Literal["briefgen practice results"]
    version: Literal[1]
    programme: Words = Field(description="The id of the programme; empty where there is none.")
    title: Words = Field(description="Its title.")
    sortie: Name = Field(description="The id of the sortie.")
    person: Name = Field(description="The id of the person.")
    name: Name = Field(description="What the person is called on the loop.")
    exported: AwareDatetime = Field(description="When it was exported, in UTC.")
    pass_mark: Annotated[float, Field(ge=0, le=1)] | None = Field(description="The share of right answers asked for.")
    questions: Count = Field(description="How many questions the page has.")
    outcomes: tuple[OutcomeAsked, ...] = Field(max_length=MOST_ROWS, description="What the questions check.")
    answers: tuple[Answered, ...] = Field(max_length=MOST_ROWS, description="The questions that were asked.")

    @model_validator(mode="after")
    def _each_once(self) -> Results:
        asked = [one.question for one in self.answers]
        if len(set(asked)) < len(asked):
            raise ValueError("a question stands in it twice")
        if len(asked) > self.questions:
            raise ValueError("more questions were answered than there are")
        for outcome in self.outcomes:
            if len(self.of(outcome.id)) > outcome.questions:
                raise ValueError(f"of “{outcome.id}” more questions were answered than there are")
        return self

    def right(self, outcome: str | None = None) -> int:
        """How many questions (of an outcome) were answered right the last time."""
        return sum(one.last == "right" for one in self.of(outcome))

    def of(self, outcome: str | None = None) -> tuple[Answered, ...]:
        """The questions that were answered, all or those of an outcome."""
        return tuple(one for one in self.answers if outcome is None or outcome in one.outcomes)


def passed(right: int, questions: int, mark: float | None) -> bool | None:
    """Whether so many right answers reach the pass mark; what was not answered is not right. None without a mark."""
    return None if mark is None or not questions else right / questions >= mark - 1e-9
