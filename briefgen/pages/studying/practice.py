"""Questions for practice as rows, ready to print; the words of right answers included."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from string import ascii_uppercase

from briefgen.pages.context import PageContext
from briefgen.pages.planning.touched import made_change, question_change
from briefgen.pages.rows import Badge, Link
from briefgen.pages.things.figures import placed
from briefgen.practice.arranging import Arranged
from briefgen.practice.changed import fingerprint
from briefgen.practice.kinds import written
from briefgen.practice.question import Exercise, Number, Sequence
from briefgen.practice.registry import kinds
from briefgen.practice.sheet import paper_test, questions, sheet
from briefgen.proof.evidence import SortieEvidence
from briefgen.source import Text


@dataclass(frozen=True)
class PointRow:
    """An answer that is pointed at: its letter, and where its ring is on the picture, as CSS takes it."""

    letter: str
    x: str
    y: str
    side: str


@dataclass(frozen=True)
class PictureRow:
    """The picture of a question, with a ring for each of its answers, in their order."""

    source: str
    alt: str
    width: int
    height: int
    points: tuple[PointRow, ...]


@dataclass(frozen=True)
class PracticeRow:
    """A question; `form` is choose, order or number. `right` are places in `answers`, counted from 0.

    `wording` is the same as long as the same is asked and right. `units` is a JSON object of factors to the value in
    which `low` and `high` are given.
    """

    anchor: str
    id: str
    kind: str
    form: str
    asks: str
    answers: tuple[str, ...]
    right: tuple[int, ...]
    shown: tuple[str, ...]
    because: str
    look: Link | None
    outcomes: tuple[str, ...]
    wording: str
    change: Badge | None = None
    low: float = 0.0
    high: float = 0.0
    units: str = ""
    unit_names: str = ""
    picture: PictureRow | None = None


@dataclass(frozen=True)
class OutcomeShare:
    """An outcome and how many questions of the sheet check it."""

    id: str
    does: str
    target: str
    questions: int


@dataclass(frozen=True)
class QuestionSheet:
    """One person's questions of a sortie, by the heading of their kind."""

    groups: tuple[tuple[str, str, tuple[PracticeRow, ...]], ...]
    outcomes: tuple[OutcomeShare, ...]

    @property
    def rows(self) -> tuple[PracticeRow, ...]:
        """All of them."""
        return tuple(row for _, _, rows in self.groups for row in rows)


def practice_uri(context: PageContext, kind: str, proved: SortieEvidence, person: str) -> str:
    """Where somebody's `practice` or `test` for a sortie lies: a folder a sortie, so that no two ids run together."""
    sortie = context.links.record_uri(kind, str(proved.sortie.id))
    return f"{sortie}/{context.links.record_uri(kind, person).rpartition('/')[2]}"


def sheet_of(context: PageContext, proved: SortieEvidence, person: str) -> QuestionSheet:
    """A person's sheet for a sortie, made once a site."""
    return context.once(("practice", proved, person), lambda: _sheet(context, proved, person))


@dataclass(frozen=True)
class PaperRow:
    """A question on paper: its number, its answers each with a letter, and what stands in the key."""

    number: int
    row: PracticeRow
    answers: tuple[tuple[str, str], ...]
    key: str


def paper_of(context: PageContext, proved: SortieEvidence, person: str) -> tuple[PaperRow, ...]:
    """A person's test for a sortie, with its key; its answers stand in another order than in practice."""
    arranged = paper_test(proved, person, every_question(context, proved))
    return tuple(_paper(_row(context, proved, one, number), number) for number, one in enumerate(arranged, start=1))


def _paper(row: PracticeRow, number: int) -> PaperRow:
    letters = tuple(zip(ascii_uppercase, row.answers, strict=False))
    key = ", ".join(ascii_uppercase[place] for place in row.right) or row.shown[0]
    return PaperRow(number, row, letters, key)


def every_question(context: PageContext, proved: SortieEvidence) -> Mapping[str, tuple[Exercise, ...]]:
    """All that can be asked about a sortie, by kind, made once a site."""
    return context.once(("questions", proved), lambda: questions(proved))


def _sheet(context: PageContext, proved: SortieEvidence, person: str) -> QuestionSheet:
    arranged = sheet(proved, person, every_question(context, proved))
    rows = [_row(context, proved, one, number) for number, one in enumerate(arranged, start=1)]
    groups = [(kind.title, name, tuple(row for row in rows if row.kind == name)) for name, kind in kinds().items()]
    asked = dict.fromkeys(name for row in rows for name in row.outcomes)
    return QuestionSheet(
        tuple(group for group in groups if group[2]),
        tuple(_outcome(context, name, sum(name in row.outcomes for row in rows)) for name in asked),
    )


def _outcome(context: PageContext, name: str, count: int) -> OutcomeShare:
    does = context.texts.plain(context.library.outcomes[name].does)
    return OutcomeShare(name, does, context.links.target("outcome", name), count)


def _row(context: PageContext, proved: SortieEvidence, arranged: Arranged, number: int) -> PracticeRow:
    one, plain = arranged.question, context.texts.plain
    answers = tuple(map(plain, arranged.answers))
    row = PracticeRow(
        anchor=f"question-{number}",
        id=one.id,
        kind=one.kind,
        form="order" if isinstance(one.answer, Sequence) else "choose",
        asks=plain(one.asks),
        answers=answers,
        right=arranged.right,
        shown=tuple(answers[place] for place in arranged.right),
        because=one.because,
        look=context.link(one.look.kind, one.look.id, one.look.part) if one.look else None,
        outcomes=one.outcomes,
        wording=fingerprint(one),
        change=_change(context, proved, one),
    )
    if one.figure:
        return _with_picture(context, row, one.figure, arranged.answers)
    return _with_number(row, one.answer) if isinstance(one.answer, Number) else row


def _with_picture(context: PageContext, row: PracticeRow, figure: str, callouts: tuple[str, ...]) -> PracticeRow:
    """The answers are letters at the callouts. What the picture shows is said, not what its callouts are."""
    record = context.library.figures[figure]
    size = context.pictures.size(str(record.file))
    letters = tuple(ascii_uppercase[: len(callouts)])
    rings = zip(letters, placed(record.callouts[Text(one)] for one in callouts), strict=True)
    points = tuple(PointRow(letter, *ring) for letter, ring in rings)
    source = context.links.picture(record.still)
    picture = PictureRow(source, context.texts.plain(record.alt), size.width, size.height, points)
    return replace(row, answers=letters, shown=tuple(letters[place] for place in row.right), picture=picture)


def _change(context: PageContext, proved: SortieEvidence, one: Exercise) -> Badge | None:
    if one.kind == written.KIND.name:
        return question_change(context, one.id.partition(":")[2])
    return made_change(context, proved, every_question(context, proved), one.id)


def _with_number(row: PracticeRow, answer: Number) -> PracticeRow:
    units = json.dumps(dict(answer.units), ensure_ascii=False)
    return replace(
        row, form="number", shown=(answer.shown,), low=answer.low, high=answer.high, units=units,
        unit_names=", ".join(answer.units),
    )  # fmt: skip
