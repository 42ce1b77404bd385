"""The reader's card: everybody's steps in the order of time, for whoever reads them aloud and hears the answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.language.wording import steps_words
from briefgen.pages.carrying.asides import told_cases
from briefgen.pages.carrying.rows import CardCase
from briefgen.pages.context import PageContext, task_of
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


def reader_pieces(context: PageContext, proved: SortieEvidence) -> tuple[ReaderPiece, ...]:
    """The whole sortie, every step once. Each hazard is stated once a task, where it is first met."""
    return context.once(("reader", proved), lambda: tuple(_pieces(context, proved)))


def _pieces(context: PageContext, proved: SortieEvidence) -> Iterator[ReaderPiece]:
    met, covered, last = set[tuple[str, str]](), _covered(context, proved), dict[str, str]()
    for times in _in_time(proved):
        step, task = times.step, task_of(times.step)
        carried = _carried(context, proved, step)
        for one in carried:
            if (task, one.name) not in met:
                met.add((task, one.name))
                words = f"{context.label('task', task)}, {steps_words(covered[task, one.name])}"
                yield ReaderPiece(statement=one, covers=words)
        takes_up = any(last.get(person) != task for person in step.people)
        last |= dict.fromkeys(step.people, task)
        yield ReaderPiece(step=_step(context, proved, times, takes_up), signs=carried)
        for told in told_cases(context, proved, step):
            yield ReaderPiece(case=told)


def _in_time(proved: SortieEvidence) -> list[StepTimes]:
    """The steps as they begin, the soonest over first; what begins and ends at one moment in the plan's order."""
    return sorted(proved.timeline.times, key=lambda times: (times.start, times.end, times.step.index))


def _carried(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> tuple[Statement, ...]:
    """What can hurt at the step or on the way to it, the gravest first, each once."""
    on_the_way = (name for row in moments.travels(context, proved, step) for name in row.hazards)
    names = dict.fromkeys((*(str(one.hazard) for one in step.hazards), *on_the_way))
    return tuple(sorted((statement(context, name) for name in names), key=lambda one: gravity(one.signal)))


def _covered(context: PageContext, proved: SortieEvidence) -> Mapping[tuple[str, str], list[int]]:
    """The numbers of the steps that carry a hazard, by task and by the hazard's name."""
    found: dict[tuple[str, str], list[int]] = {}
    for step in proved.plan.steps:
        for one in _carried(context, proved, step):
            found.setdefault((task_of(step), one.name), []).append(context.number(step.task, step.step))
    return found


def _step(context: PageContext, proved: SortieEvidence, times: StepTimes, takes_up: bool) -> ReaderStep:
    step = times.step
    return ReaderStep(
        context.number(step.task, step.step),
        context.label("task", task_of(step)) if takes_up else "",
        step.step.told,
        context.planned(step).target,
        context.marks(step.people),
        show_elapsed(times.start),
        show_duration(times.end - times.start),
        tuple(stays(context, proved, step)),
        tuple(moments.pauses(context, proved, step)),
        tuple(said(context, step)),
    )


def stays(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[StayRow]:
    """The holds before a step."""
    for hold, row in zip(context.holds(proved).get(step.index, ()), moments.holds(context, proved, step), strict=True):
        yield StayRow(context.marks(hold.people), row)


def said(context: PageContext, step: PlannedStep) -> Iterator[SaidRow]:
    """The calls of a step."""
    rows = step_row(context, step.task, step.step).calls
    for call, row in zip(step.step.calls, rows, strict=True):
        yield SaidRow(row, tuple(context.callsign(str(person)) for person in call.to))
