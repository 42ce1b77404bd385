"""Learners' exported results as one table by person and outcome, and rehearsals. Bad files are told in a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from pydantic import ValidationError

from briefgen.practice.rehearsal import Rehearsal
from briefgen.practice.results import Results, passed
from briefgen.reading.files import Unreadable, bytes_of
from briefgen.refusals import CannotRun
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.terminal.rehearsal import rehearsal_text
from briefgen.terminal.table import draw

_MOST_BYTES = 10_000_000
_ALL = "All questions"


class NoResults(CannotRun):
    """A file holds no results; the message says which and why."""


def read_results(file: Path) -> Results | Rehearsal:
    """The results in a file that a practice page saved, or the rehearsal of a page of the day. Raises NoResults."""
    try:
        data = bytes_of(file, _MOST_BYTES)
        try:
            return Rehearsal.model_validate_json(data)
        except ValidationError:
            return Results.model_validate_json(data)
    except Unreadable as reason:
        raise NoResults(f"“{file}” can't be read: {reason}.") from None
    except ValidationError as error:
        raise NoResults(
            f"“{file}” holds no practice results: {_first(error)}. Save it anew on a practice page."
        ) from None


def _first(error: ValidationError) -> str:
    one = error.errors(include_url=False, include_input=False, include_context=False)[0]
    where = " → ".join(str(part + 1) if isinstance(part, int) else str(part) for part in one["loc"])
    words = one["msg"].removeprefix("Value error, ")
    return f"{where}: {words[:1].lower()}{words[1:]}" if where else f"{words[:1].lower()}{words[1:]}"


def results_text(files: Iterable[Path], width: int) -> str:
    """A table for each programme; of several files of one person and sortie the latest counts. Then each rehearsal.

    Raises NoResults.
    """
    rehearsals: list[str] = []
    latest: dict[tuple[str, str, str], Results] = {}
    notes: list[str] = []
    for file in files:
        one = read_results(file)
        if isinstance(one, Rehearsal):
            rehearsals.append(rehearsal_text(one, width))
            continue
        key = one.programme, one.sortie, one.person
        other = latest.get(key)
        if other is not None:
            notes.append(f"More than one file holds {one.name}, {one.sortie}: the one saved last counts.\n")
        if other is None or one.exported > other.exported:
            latest[key] = one
    programmes = dict.fromkeys(one.programme for one in latest.values())
    tables = (_table([latest[key] for key in sorted(latest) if key[0] == name]) for name in programmes)
    return (
        "\n".join([*(draw(table, width) for table in tables), "".join(dict.fromkeys(notes)), *rehearsals]).strip("\n")
        + "\n"
    )


def _table(rows: Sequence[Results]) -> Table:
    """What is not answered is not right."""
    return Table(
        "results",
        rows[0].title,
        (
            Column("Person"), Column("Sortie"), Column("Outcome", wide=True),
            *numbers("Questions", "Answered", "Right", "Share", "Asked for"), Column("Reached"),
        ),
        tuple(line for one in rows for line in _lines(one)),
    )  # fmt: skip


def _lines(one: Results) -> Iterator[tuple[Cell, ...]]:
    yield _line(one, _ALL, one.questions, None)
    for outcome in one.outcomes:
        yield _line(one, outcome.does, outcome.questions, outcome.id)


def _line(one: Results, words: str, questions: int, outcome: str | None) -> tuple[Cell, ...]:
    right, mark = one.right(outcome), one.pass_mark
    reached = passed(right, questions, mark)
    return cells(
        one.name, one.sortie, words, str(questions), str(len(one.of(outcome))), str(right),
        f"{100 * right / questions:.0f} %" if questions else "—",
        f"{100 * mark:.0f} %" if mark is not None else "—",
        "—" if reached is None else "yes" if reached else "not yet",
    )  # fmt: skip
