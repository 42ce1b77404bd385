"""A library as written, expanded to one of plain steps: what all proof, rules, charts and exports read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from briefgen.expansion.cases import case_within, name_in_case, planned_case, too_many, waits_beside
from briefgen.expansion.confirming import confirming_step, let_wait, name_of, who_waits, wrongly_confirmed
from briefgen.expansion.filling import filled
from briefgen.expansion.fitting import fitting
from briefgen.expansion.likes import Likes
from briefgen.expansion.naming import name_waits
from briefgen.expansion.rounds import Row, lay_out, order_rounds, picked_apart
from briefgen.expansion.sheet import Draft, Rounds, Sheets, TaskSheet
from briefgen.expansion.undoing import done_back, name_after, taken_back, waits_outside, waits_within, way_back
from briefgen.expansion.whoever import settled, stand_ins
from briefgen.findings import Finding, Level, in_order
from briefgen.language.written import word
from briefgen.model.fields.limits import ROUNDS
from briefgen.model.library import Library
from briefgen.model.steps import Case, Origin, PlannedCase, Step, WayBack
from briefgen.model.tasks import Block, Task, WrittenTask
from briefgen.source import Text


@dataclass(frozen=True)
class Expansion:
    """A library of plain steps, and what went wrong in making it; `lost` are the tasks that could not be made."""

    library: Library
    findings: tuple[Finding, ...] = ()
    lost: frozenset[tuple[str, str]] = frozenset()


def expand(written: Library) -> Expansion:
    """The library with every task planned. Linear in the steps that it makes, which are limited."""
    tasks = {name: task for name, task in written.of("tasks").items() if isinstance(task, WrittenTask)}
    if not tasks:
        return Expansion(written)
    work = _Work(written, tasks)
    planned: dict[str, Any] = {name: work.planned.get(name, task) for name, task in written.of("tasks").items()}
    known = {name: task for name, task in planned.items() if isinstance(task, Task)}
    lost = frozenset(("tasks", name) for name in tasks if name not in known)
    return Expansion(Library({**written.records, "tasks": known}), in_order(work.findings), lost)


class _Work:
    """Everything between what is written and what is planned; `planned` are the tasks as planned."""

    def __init__(self, library: Library, tasks: Mapping[str, WrittenTask]) -> None:
        self.library = library
        self.outside = frozenset(name for name, person in library.people.items() if person.outside)
        self.left = self.left_in_cases = ROUNDS
        likes = Likes(tasks)
        stand = stand_ins(library)
        whole = {name: settled(task, stand) for name in tasks if (task := likes.task(name)) is not None}
        self.findings: list[Finding] = likes.findings
        sheets = {name: self._sheet(task) for name, task in whole.items()}
        apart = picked_apart(library)
        for name, sheet in sheets.items():
            let_wait(who_waits(sheet, library, whole[name], self.outside))
            for block, rounds in sheet.blocks.items():
                let_wait(order_rounds(rounds, self.outside - apart.get((name, block), frozenset())))
        self.planned = {name: self._planned(task, sheets) for name, task in whole.items()}

    def _sheet(self, task: WrittenTask) -> TaskSheet:
        """The task laid out, nobody waiting for anybody yet."""
        return self._laid(task, task.steps or ())

    def _laid(self, task: WrittenTask, entries: tuple[Step | Block, ...]) -> TaskSheet:
        """Entries of a task laid out."""
        sheet = TaskSheet(str(task.id))
        above: Draft | Rounds | None = None
        number = 0
        for entry in entries:
            if isinstance(entry, Block):
                rows = list(self._rows(task, self._flat(entry), number))
                above = self._block(sheet, entry, rows, above)
            else:
                rows = list(self._rows(task, (entry,), number))
                above = _step(sheet, rows, above)
            number += len(rows)
        return sheet

    def _flat(self, block: Block) -> Iterator[Step]:
        """The steps of a block; a block among them is a mistake, and left out."""
        for entry in block.steps:
            if isinstance(entry, Step):
                yield entry
                continue
            self.findings.append(_nested(block, entry, self.library))

    def _rows(self, task: WrittenTask, steps: Any, number: int) -> Iterator[Row]:
        """Each step with all that its task says for it, and after it the step that confirms it."""
        row = 0
        for written in steps:
            step = fitting(filled(written, task.defaults, self.outside), task, self.library)
            number += 1
            if not step.who:
                self.findings.append(_nobody(task, step, number))
            yield step, number, str(step.id or number), None
            if step.confirmed_by:
                self.findings += wrongly_confirmed(str(task.id), step, step.confirmed_by)
                number += 1
                yield confirming_step(step, self.outside), number, name_of(step, number), row
                row += 1
            row += 1

    def _block(self, sheet: TaskSheet, block: Block, rows: list[Row], above: Draft | Rounds | None) -> Rounds:
        equipment = self.library.equipment.get(block.each.equipment)
        items = equipment.chosen(block.chosen) if equipment else ()
        if len(items) * len(rows) > self.left:
            self.findings.append(_too_many(block, len(items) * len(rows)))
            items = items[:1]
        self.left -= len(items) * len(rows)
        laid = lay_out(sheet.task, block, rows, equipment, items or ((),))
        for round_ in laid.rounds:
            for before, one in zip((None, *round_), round_, strict=False):
                one.above = (before.confirms or before) if before else above if one.origin.round == 1 else None
                sheet.put(one)
        sheet.blocks.setdefault(str(block.id), laid)
        return laid

    def _planned(self, task: WrittenTask, sheets: Sheets) -> Task:
        """The task as planned, everybody waiting for what they must."""
        sheet = sheets[str(task.id)]
        for draft in sheet.drafts:
            self.findings += name_waits(draft, sheets)
        return _task(
            task,
            tuple(one.planned() for one in sheet.drafts),
            tuple(self._ways_back(task, sheet)),
            tuple(self._cases(task, sheets)),
        )

    def _ways_back(self, task: WrittenTask, sheet: TaskSheet) -> Iterator[WayBack]:
        """The task's ways back, those of a block's steps for every round."""
        for undo in task.undo:
            for target in taken_back(undo, sheet):
                entries = tuple(done_back(undo, target, self.library))
                laid = self._beside(task, entries)
                name_after(laid, target)
                self._ordered(task, laid)
                self.findings += waits_within(laid, waits_outside)
                yield way_back(undo, target, laid)

    def _cases(self, task: WrittenTask, sheets: Sheets) -> Iterator[PlannedCase]:
        """What is done if steps of the task do not go as planned, for every round of a block."""
        for draft in sheets[str(task.id)].drafts:
            for number, case in enumerate(draft.step.in_case, start=1):
                self.left_in_cases -= len(case.steps)
                if self.left_in_cases < 0:
                    self.findings.append(too_many(case))
                    return
                laid = self._beside(task, tuple(done_back(case, draft, self.library)))
                name_in_case(laid, draft, number)
                self._ordered(task, laid)
                self.findings += waits_within(laid, waits_beside)
                yield planned_case(case, draft, number, laid, sheets)

    def _beside(self, task: WrittenTask, entries: tuple[Step | Block, ...]) -> TaskSheet:
        """Steps that are done only on occasion, laid out; these have no cases of their own."""
        laid = self._laid(task, entries)
        self.findings += (case_within(one.step) for one in laid.drafts if one.step.in_case)
        return laid

    def _ordered(self, task: WrittenTask, laid: TaskSheet) -> None:
        let_wait(who_waits(laid, self.library, task, self.outside))
        for rounds in laid.blocks.values():
            let_wait(order_rounds(rounds, self.outside))


def _step(sheet: TaskSheet, rows: list[Row], above: Draft | Rounds | None) -> Draft:
    """A step that stands by itself, and the one that confirms it."""
    step, number, name, _ = rows[0]
    first = Draft(sheet.task, step, number, name, Origin(), above)
    sheet.put(first)
    for look, number, name, _ in rows[1:]:
        sheet.put(Draft(sheet.task, look, number, name, Origin(), first, confirms=first))
    return first


def _with_cases(steps: tuple[Step, ...], cases: tuple[PlannedCase, ...]) -> tuple[Step, ...]:
    """The steps, each with its cases as planned."""
    rows: dict[str, list[Case]] = {}
    for case in cases:
        made = Case.model_construct(when=case.when, steps=case.steps, then=case.then)
        made._position, made._keys = case._position, case._keys
        rows.setdefault(case.of.step, []).append(made)
    return tuple(
        step.made(step.origin, step.number, step.key, in_case=tuple(rows[step.key])) if step.key in rows else step
        for step in steps
    )


def _task(
    written: WrittenTask, steps: tuple[Step, ...], undo: tuple[WayBack, ...], cases: tuple[PlannedCase, ...]
) -> Task:
    own = ("title", "purpose", "steps", "undo", "cases")
    fields = {name: getattr(written, name) for name in Task.model_fields if name not in own}
    title, purpose = written.title or Text(written.id), written.purpose or Text(written.id)
    task = Task.model_construct(
        **fields, title=title, purpose=purpose, steps=_with_cases(steps, cases), undo=undo, cases=cases
    ).known_as(written.id)
    task._position, task._keys, task._written = written._position, written._keys, written
    return task


def _nested(outer: Block, inner: Block, library: Library) -> Finding:
    there, mine = (library.equipment.get(block.each.equipment) for block in (outer, inner))
    missing = {part: names for part, names in there.parts.items() if part not in mine.parts} if there and mine else {}
    name = inner.each.equipment
    line = f"each: {f'{{equipment: {name}, where: {_parts(inner.chosen)}}}' if inner.chosen else name}"
    way_out, spot = f"Write its steps there without it, each of them with “{line}”.", inner.spot("each")
    if missing and mine:
        line, spot = f"parts: {_parts({**missing, **mine.parts})}", mine.spot("parts")
        way_out = f"Count “{name}” by the parts of “{outer.each.equipment}”, too; then each of its steps can name them."
    return Finding(
        "block-in-a-block", Level.ERROR, inner.id.position,
        f"Block “{inner.id}” stands in block “{outer.id}”, and nobody could follow rounds in rounds. {way_out}",
        write=line, write_at=spot,
    )  # fmt: skip


def _parts(parts: Mapping[Text, tuple[Text, ...]]) -> str:
    rows = (f"{part}: [{', '.join(map(word, names))}]" for part, names in parts.items())
    return f"{{{', '.join(rows)}}}"


def _nobody(task: WrittenTask, step: Step, number: int) -> Finding:
    return Finding(
        "missing-key", Level.ERROR, step.position,
        f"Step {number} of task “{task.id}” has no “who”, and the task has no default.", write="who: …",
    )  # fmt: skip


def _too_many(block: Block, number: int) -> Finding:
    return Finding(
        "too-many-rounds", Level.ERROR, block.each.equipment.position,
        f"This block makes {number:,} steps, and all blocks together may make {ROUNDS:,}. Choose fewer items with "
        "“where”, or have fewer steps in it.", write="where: {…}",
    )  # fmt: skip
