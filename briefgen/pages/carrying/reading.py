"""The reader's card: everybody's steps in the order of time, for whoever reads them aloud and hears the answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.language.wording import steps_words
from briefgen.pages.carrying.asides import told_cases
from briefgen.pages.carrying.rows import CardCase
from briefgen.pages.desk import Desk, task_of
from briefgen.pages.doing import moments
from briefgen.pages.doing.moments import HoldLine, Pause
from briefgen.pages.doing.statements import Statement, gravity, statement
from briefgen.pages.doing.steps import CallRow, step_row
from briefgen.pages.rows import MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.timeline import StepTimes
from briefgen.units import show_duration, show_elapsed


@dataclass(frozen=True)
class StayRow:
    """Who holds before a step, and until what."""

    marks: tuple[MarkChip, ...]
    hold: HoldLine


@dataclass(frozen=True)
class SaidRow:
    """A call, and who has to answer it."""

    call: CallRow
    hearers: tuple[str, ...]


@dataclass(frozen=True)
class ReaderStep:
    """A step as it is read aloud. `do` is the author's text; `task` stands where somebody takes a task up."""

    number: int
    task: str
    do: str
    target: str
    marks: tuple[MarkChip, ...]
    elapsed: str
    takes: str
    stays: tuple[StayRow, ...]
    pauses: tuple[Pause, ...]
    calls: tuple[SaidRow, ...]


@dataclass(frozen=True)
class ReaderPiece:
    """A row: a hazard's statement ahead of the steps of a task that it covers, a step with its signs, or a case."""

    statement: Statement | None = None
    covers: str = ""
    step: ReaderStep | None = None
    signs: tuple[Statement, ...] = ()
    case: CardCase | None = None


def reader_pieces(desk: Desk, case: SortieEvidence) -> tuple[ReaderPiece, ...]:
    """The whole sortie, every step once. Each hazard is stated once a task, where it is first met."""
    return desk.once(("reader", case), lambda: tuple(_pieces(desk, case)))


def _pieces(desk: Desk, case: SortieEvidence) -> Iterator[ReaderPiece]:
    met, covered, last = set[tuple[str, str]](), _covered(desk, case), dict[str, str]()
    for times in _in_time(case):
        step, task = times.step, task_of(times.step)
        carried = _carried(desk, case, step)
        for one in carried:
            if (task, one.name) not in met:
                met.add((task, one.name))
                words = f"{desk.label('task', task)}, {steps_words(covered[task, one.name])}"
                yield ReaderPiece(statement=one, covers=words)
        takes_up = any(last.get(person) != task for person in step.people)
        last |= dict.fromkeys(step.people, task)
        yield ReaderPiece(step=_step(desk, case, times, takes_up), signs=carried)
        for told in told_cases(desk, case, step):
            yield ReaderPiece(case=told)


def _in_time(case: SortieEvidence) -> list[StepTimes]:
    """The steps as they begin, the soonest over first; what begins and ends at one moment in the plan's order."""
    return sorted(case.timeline.times, key=lambda times: (times.start, times.end, times.step.index))


def _carried(desk: Desk, case: SortieEvidence, step: PlannedStep) -> tuple[Statement, ...]:
    """What can hurt at the step or on the way to it, the gravest first, each once."""
    on_the_way = (name for row in moments.travels(desk, case, step) for name in row.hazards)
    names = dict.fromkeys((*(str(one.hazard) for one in step.hazards), *on_the_way))
    return tuple(sorted((statement(desk, name) for name in names), key=lambda one: gravity(one.signal)))


def _covered(desk: Desk, case: SortieEvidence) -> Mapping[tuple[str, str], list[int]]:
    """The numbers of the steps that carry a hazard, by task and by the hazard's name."""
    found: dict[tuple[str, str], list[int]] = {}
    for step in case.plan.steps:
        for one in _carried(desk, case, step):
            found.setdefault((task_of(step), one.name), []).append(desk.number(step.task, step.step))
    return found


def _step(desk: Desk, case: SortieEvidence, times: StepTimes, takes_up: bool) -> ReaderStep:
    step = times.step
    return ReaderStep(
        desk.number(step.task, step.step),
        desk.label("task", task_of(step)) if takes_up else "",
        str(step.step.do),
        desk.planned(step).target,
        desk.marks(step.people),
        show_elapsed(times.start),
        show_duration(times.end - times.start),
        tuple(stays(desk, case, step)),
        tuple(moments.pauses(desk, case, step)),
        tuple(said(desk, step)),
    )


def stays(desk: Desk, case: SortieEvidence, step: PlannedStep) -> Iterator[StayRow]:
    """The holds before a step."""
    for hold, row in zip(desk.holds(case).get(step.index, ()), moments.holds(desk, case, step), strict=True):
        yield StayRow(desk.marks(hold.people), row)


def said(desk: Desk, step: PlannedStep) -> Iterator[SaidRow]:
    """The calls of a step."""
    rows = step_row(desk, step.task, step.step).calls
    for call, row in zip(step.step.calls, rows, strict=True):
        yield SaidRow(row, tuple(desk.callsign(str(person)) for person in call.to))
