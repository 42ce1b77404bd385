"""Outcomes and questions as rows, and how long a script takes to say."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.pages.context import PageContext
from briefgen.pages.planning.touched import question_change
from briefgen.pages.rows import Badge, Link, MarkChip
from briefgen.units import MINUTE, show_duration


@dataclass(frozen=True)
class OutcomeRow:
    """What a learner can do afterwards; texts are the author's."""

    anchor: str
    target: str
    does: str
    condition: str
    standard: str
    audience: tuple[MarkChip, ...]
    tasks: tuple[Link, ...]
    questions: tuple[Link, ...]


@dataclass(frozen=True)
class Option:
    """An answer to choose, and whether it is right."""

    words: str
    right: bool


@dataclass(frozen=True)
class QuestionRow:
    """A check; `several` where more than one answer is right."""

    anchor: str
    asks: str
    answers: tuple[Option, ...]
    several: bool
    right: tuple[str, ...]
    because: str
    look: Link | None
    outcome: Link
    change: Badge | None


@dataclass(frozen=True)
class ScriptRow:
    """What the briefer says, and how long it takes."""

    words: str
    takes: str


def outcome_row(context: PageContext, identifier: str) -> OutcomeRow:
    """An outcome with the tasks that lead to it and the questions that check it."""
    record = context.library.outcomes[identifier]
    uses = context.uses.get(("outcome", identifier), ())
    return OutcomeRow(
        identifier,
        context.links.target("outcome", identifier),
        str(record.does),
        str(record.condition),
        str(record.standard),
        context.marks(record.audience),
        tuple(context.link("task", use.identifier) for use in uses if use.kind == "task"),
        tuple(_asked(context, use.identifier) for use in uses if use.kind == "question"),
    )


def _asked(context: PageContext, question: str) -> Link:
    return Link(
        context.texts.plain(context.library.questions[question].asks), context.links.target("question", question)
    )


def question_row(context: PageContext, identifier: str, anchor: str) -> QuestionRow:
    """A question with its answers."""
    record = context.library.questions[identifier]
    look = record.look
    outcome = context.library.outcomes[record.outcome]
    return QuestionRow(
        anchor,
        str(record.asks),
        tuple(Option(str(words), number in record.correct) for number, words in enumerate(record.answers, start=1)),
        len(record.correct) > 1,
        tuple(str(record.answers[number - 1]) for number in record.correct),
        str(record.because),
        context.link(look.kind, str(look), look.part) if look else None,
        Link(context.texts.plain(outcome.does), context.links.target("outcome", str(record.outcome))),
        question_change(context, identifier),
    )


def questions_of(context: PageContext, task: str) -> tuple[str, ...]:
    """The questions that check a task's outcomes, or that send the reader to the task."""
    outcomes = set(context.library.tasks[task].outcomes)
    return tuple(
        identifier
        for identifier, question in context.library.questions.items()
        if (question.look and question.look.kind == "task" and question.look == task)
        or (question.outcome in outcomes and not (question.look and question.look.kind == "task"))
    )


def script_row(context: PageContext, words: str) -> ScriptRow:
    """A script with the time that it takes at the programme's speaking rate."""
    programme = context.library.programme
    rate = programme.speaking_rate if programme else None
    seconds = len(context.texts.plain(words).split()) / rate * MINUTE if rate else 0.0
    return ScriptRow(words, show_duration(round(seconds / 5) * 5) if rate else "")
