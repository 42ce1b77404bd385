"""What learners can do afterwards, how that is checked, and the words they need."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, model_validator

from briefgen.model.fields.base import Record
from briefgen.model.fields.values import Name, OutcomeRef, PersonRefs, RecordRef, WholeList, Words, as_list, wrong


class Outcome(Record):
    """What a learner can do afterwards: audience, behaviour, condition and degree."""

    audience: PersonRefs = Field((), description="For whom.", examples=["[ev1, ev2]"])
    does: Name = Field(description="What the learner does.", examples=["swaps the pump unit"])
    condition: Words = Field(description="Under which conditions.", examples=["with the bay in shade"])
    standard: Words = Field(description="How well.", examples=["without opening a live connector"])


class Question(Record):
    """A check on an outcome."""

    outcome: OutcomeRef = Field(description="The outcome that it checks.", examples=["swap-a-pump"])
    asks: Words = Field(description="The question.", examples=["Who confirms that feed A is isolated?"])
    answers: Annotated[tuple[Words, ...], Field(min_length=2), BeforeValidator(as_list)] = Field(
        description="The answers to choose from.", examples=["[EV1, EV2, Ground]"]
    )
    correct: Annotated[WholeList, Field(min_length=1)] = Field(
        description="The number of the right answer, counted from one.", examples=["3"]
    )
    because: Words = Field(description="Why it is right.", examples=["Only the bus voltage shows it."])
    look: RecordRef | None = Field(None, description="Where to read it up.", examples=["task:isolate-feeds"])

    @model_validator(mode="after")
    def _answer_there(self) -> Question:
        for number in self.correct:
            if not 1 <= number <= len(self.answers):
                raise wrong(f"answer {number} is marked correct, but there are answers 1 to {len(self.answers)}")
        return self


class Term(Record):
    """An abbreviation or a word, marked where it is used."""

    short: Name = Field(description="The word as it stands in texts.", examples=["QD"])
    long: Name | None = Field(None, description="Written out.", examples=["quick-disconnect"])
    means: Words = Field(description="What it means.", examples=["A coupling that shuts as it parts."])
