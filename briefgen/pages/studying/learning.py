"""Outcomes and questions as rows, and how long a script takes to say."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.pages.desk import Desk
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


def outcome_row(desk: Desk, identifier: str) -> OutcomeRow:
    """An outcome with the tasks that lead to it and the questions that check it."""
    record = desk.library.outcomes[identifier]
    uses = desk.uses.get(("outcome", identifier), ())
    return OutcomeRow(
        identifier,
        desk.links.target("outcome", identifier),
        str(record.does),
        str(record.condition),
        str(record.standard),
        desk.marks(record.audience),
        tuple(desk.link("task", use.identifier) for use in uses if use.kind == "task"),
        tuple(_asked(desk, use.identifier) for use in uses if use.kind == "question"),
    )


def _asked(desk: Desk, question: str) -> Link:
    return Link(desk.texts.plain(desk.library.questions[question].asks), desk.links.target("question", question))


def question_row(desk: Desk, identifier: str, anchor: str) -> QuestionRow:
    """A question with its answers."""
    record = desk.library.questions[identifier]
    look = record.look
    outcome = desk.library.outcomes[record.outcome]
    return QuestionRow(
        anchor,
        str(record.asks),
        tuple(Option(str(words), number in record.correct) for number, words in enumerate(record.answers, start=1)),
        len(record.correct) > 1,
        tuple(str(record.answers[number - 1]) for number in record.correct),
        str(record.because),
        desk.link(look.kind, str(look), look.part) if look else None,
        Link(desk.texts.plain(outcome.does), desk.links.target("outcome", str(record.outcome))),
        question_change(desk, identifier),
    )


def questions_of(desk: Desk, task: str) -> tuple[str, ...]:
    """The questions that check a task's outcomes, or that send the reader to the task."""
    outcomes = set(desk.library.tasks[task].outcomes)
    return tuple(
        identifier
        for identifier, question in desk.library.questions.items()
        if (question.look and question.look.kind == "task" and question.look == task)
        or (question.outcome in outcomes and not (question.look and question.look.kind == "task"))
    )


def script_row(desk: Desk, words: str) -> ScriptRow:
    """A script with the time that it takes at the programme's speaking rate."""
    programme = desk.library.programme
    rate = programme.speaking_rate if programme else None
    seconds = len(desk.texts.plain(words).split()) / rate * MINUTE if rate else 0.0
    return ScriptRow(words, show_duration(round(seconds / 5) * 5) if rate else "")
