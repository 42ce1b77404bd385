"""A task's steps as they are read: in time, side by side in lanes, and under the hazards that they share.

Whoever reads on never reaches a step without having passed what can hurt there: a statement stands ahead of the first
step of a run that carries its hazard, says for which steps it holds, and each of these steps bears its sign.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from briefgen.language.wording import capital, steps_words
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing.rounds import RoundsRow, remarks, rounds_row
from briefgen.pages.doing.statements import HazardSign, Shared, Statement, carried_by, gravity, shared, signs
from briefgen.pages.doing.steps import StepRow, step_row
from briefgen.pages.rows import MarkChip


@dataclass(frozen=True)
class Piece:
    """A row of the list: one of a hazard's statement, the head of a block of rounds, and a step.

    `lane` is 0 across all lanes, else counted from one; `row` is the grid's row, counted from one. `who` are the ids
    of those whom it concerns. Nothing stands beside a step that is `alone` in its row. `crop` is the sight of the
    step that is shown beside it; the others open on demand.
    """

    row: int
    lane: int
    who: tuple[str, ...]
    statement: Statement | None = None
    anchor: str = ""
    covers: str = ""
    block: RoundsRow | None = None
    step: StepRow | None = None
    signs: tuple[HazardSign, ...] = ()
    crop: str = ""
    alone: bool = False
    in_block: bool = False


@dataclass(frozen=True)
class Sequenced:
    """All rows in the order of time; the marks of the lanes (none where there is one), everybody who has a step,
    and where each hazard is first stated.
    """

    pieces: tuple[Piece, ...]
    lanes: tuple[MarkChip, ...]
    people: tuple[tuple[str, MarkChip], ...]
    hazards: tuple[Piece, ...]


def sequence(context: PageContext, task: Task) -> Sequenced:
    """The rows of a task's page."""
    return sequence_of(context, task, _in_time(context, task), "_hazard")


def sequence_of(context: PageContext, task: Task, told: Sequence[Step], anchor: str) -> Sequenced:
    """The rows of some of a task's steps, in the order given; anchors of statements begin with `anchor`."""
    rows = [step_row(context, task, step) for step in told]
    runs = shared([row.statements for row in rows])
    lanes = _lanes(context, told)
    placed = tuple(_placed(context, task, told, rows, runs, lanes, anchor))
    filled = Counter(piece.row for piece in placed)
    pieces = tuple(replace(piece, alone=piece.lane > 0 and filled[piece.row] == 1) for piece in placed)
    people = dict.fromkeys(str(person) for step in told for person in step.who)
    return Sequenced(
        pieces,
        context.marks(lanes) if len(lanes) > 1 else (),
        tuple((person, context.mark(person)) for person in people),
        _first_of_each(pieces),
    )


def _first_of_each(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """For each hazard where it is first stated, the gravest first."""
    first: dict[str, Piece] = {}
    for piece in pieces:
        if piece.statement:
            first.setdefault(piece.statement.name, piece)
    return tuple(sorted(first.values(), key=lambda piece: gravity(piece.statement.signal) if piece.statement else 0))


def _in_time(context: PageContext, task: Task) -> list[Step]:
    """The steps by the numbers under which they are told; of a block, one round."""
    told = [step for step in task.steps if not step.origin.again]
    return sorted(told, key=lambda step: context.number(task, step))


def _lanes(context: PageContext, steps: Sequence[Step]) -> list[str]:
    """The people outside who do steps of their own, in the order of the people."""
    alone = {outside[0] for step in steps if len(outside := _outside(context, step)) == 1}
    return [str(person) for person in context.library.people if person in alone]


def _outside(context: PageContext, step: Step) -> list[str]:
    return [str(person) for person in step.who if context.library.people[person].outside]


def _placed(
    context: PageContext, task: Task, told: Sequence[Step], rows: Sequence[StepRow], runs: Sequence[Shared],
    lanes: Sequence[str], anchor: str,
) -> Iterator[Piece]:  # fmt: skip
    grid = _Grid()
    carried = carried_by(runs)
    blocks: set[str] = set()
    looked: set[str] = set()
    times = _times(context, task)
    for number, (step, row) in enumerate(zip(told, rows, strict=True)):
        if step.origin.block and step.origin.block not in blocks:
            blocks.add(step.origin.block)
            steps = [one for one in task.steps if one.origin.block == step.origin.block]
            block = rounds_row(context, task, steps, _remarks(context, task, steps))
            yield Piece(grid.across(), 0, _people(steps), block=block)
        for run in carried.get(number, ()):
            if run.steps[0] == number:
                who = tuple(dict.fromkeys(str(person) for one in run.steps for person in told[one].who))
                covers = capital(steps_words([rows[one].number for one in run.steps]))
                yield Piece(
                    grid.across(), 0, who, statement=run.statement, anchor=f"{anchor}-{run.number}", covers=covers
                )
        outside = _outside(context, step)
        lane = lanes.index(outside[0]) + 1 if len(lanes) > 1 and len(outside) == 1 == len(step.who) else 0
        place = grid.beside(lane, times.get(step.key)) if lane else grid.across()
        yield Piece(
            place,
            lane,
            tuple(map(str, step.who)),
            step=row,
            signs=signs(carried.get(number, ()), anchor),
            crop=_crop(row, looked),
            in_block=bool(step.origin.block),
        )


def _crop(row: StepRow, looked: set[str]) -> str:
    """The step's first sight of which something was not looked at before; what it shows is added to that."""
    for sight in row.sights:
        if not looked.issuperset(sight.keys):
            looked.update(sight.keys)
            return sight.anchor
    return ""


def _times(context: PageContext, task: Task) -> Mapping[str, tuple[float, float]]:
    for proved in context.sorties_of(str(task.id))[:1]:
        return {times.step.step.key: (times.start, times.end) for times in context.by_task(proved)[str(task.id)]}
    return {}


def _remarks(context: PageContext, task: Task, steps: Sequence[Step]) -> Mapping[int, str]:
    sorties = context.sorties_of(str(task.id))
    planned = (proved.plan.step(f"{task.id}/{step.key}") for proved in sorties for step in steps)
    return remarks(context, sorties, [one for one in planned if one])


def _people(steps: Sequence[Step]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(person) for step in steps for person in step.who))


class _Grid:
    """Rows of the list: what runs at the same time in different lanes stands side by side."""

    def __init__(self) -> None:
        self._row = 0
        self._taken: dict[int, tuple[float, float]] | None = None

    def across(self) -> int:
        """A row of its own across all lanes."""
        self._row += 1
        self._taken = None
        return self._row

    def beside(self, lane: int, times: tuple[float, float] | None) -> int:
        """The row for a step in a lane: the last one where its place is free and it overlaps with what stands there."""
        if self._taken is None or times is None or lane in self._taken or not self._meets(times):
            self._row += 1
            self._taken = {}
        if times is not None:
            self._taken[lane] = times
        return self._row

    def _meets(self, times: tuple[float, float]) -> bool:
        return all(times[0] < end and start < times[1] for start, end in (self._taken or {}).values())
